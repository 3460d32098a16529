"""A journal that a power cut tore or a disk garbled: whole acts or a sentence, never half of one.

What is acknowledged stands in the journal beside the file until it is moved into the file. A kill leaves
the journal whole (`test_kills.py`); a power cut may leave a part of it.
"""

import random
import shutil
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest
from given import beer, glass, person, session, vocabulary

from seatworthy.cli import main
from seatworthy.errors import StoreDamaged
from seatworthy.steps.desk import open_desk
from seatworthy.steps.safekeeping import back_up
from seatworthy.store.checks import impossible_facts
from seatworthy.store.file import Store
from seatworthy.store.history import broken_entries

ACTS = 8
ROUNDS = 8


@dataclass(frozen=True)
class Cut:
    """A store as it lay on the disk while acts came in: the file, the journal, and what it held."""

    store: Path
    journal: bytes
    chain: list[tuple[int, str]]


@pytest.fixture(scope="module")
def cut(tmp_path_factory, bare):
    folder = tmp_path_factory.mktemp("cut")
    path, lying = folder / "panel.duckdb", folder / "lying.duckdb"
    shutil.copyfile(bare, path)
    with Store.open(path) as store:
        vocabulary(store)
        for number in range(ACTS):
            with store.recording("results", is_one_of_many=True) as act:
                if not number:
                    beer(act)
                sitting = session(act, datetime(2026, 3, 2 + number, tzinfo=UTC).date())
                glass(act, sitting, person(act, f"p{number}"), "dms", "dms")
        shutil.copyfile(path, lying)
        journal = path.with_name("panel.duckdb.wal").read_bytes()
        chain = store.cursor().execute("select entry_no, digest from history order by 1").fetchall()
    return Cut(lying, journal, chain)


def laid_out(cut, folder, journal):
    """The store with such a journal beside it."""
    path = folder / "panel.duckdb"
    shutil.copyfile(cut.store, path)
    path.with_name("panel.duckdb.wal").write_bytes(journal)
    return path


def acts_found(cut, path):
    """How many entries are there, after the store was found whole up to them."""
    with Store.open(path) as store:
        with store.reading() as cursor:
            assert list(broken_entries(cursor)) == []
            assert list(impossible_facts(cursor, datetime.now(UTC).replace(tzinfo=None))) == []
            counts = [
                cursor.execute(f"select count(*) from {table}").fetchone()[0]
                for table in ("person", "person_name", "session", "sample", "serving", "answer")
            ]
            chain = cursor.execute("select entry_no, digest from history order by 1").fetchall()
        assert chain == cut.chain[: len(chain)]
        assert set(counts) == {max(len(chain) - 1, 0)}
        with store.recording("people") as act:
            person(act, "later")
    return len(chain)


def test_the_whole_journal_brings_every_act_back(cut, tmp_path):
    assert acts_found(cut, laid_out(cut, tmp_path, cut.journal)) == len(cut.chain)


@pytest.mark.parametrize("number", range(ROUNDS))
def test_a_journal_cut_short_anywhere_brings_whole_acts_back(cut, tmp_path, number):
    length = random.Random(number).randrange(len(cut.journal))
    assert acts_found(cut, laid_out(cut, tmp_path, cut.journal[:length])) <= len(cut.chain)


@pytest.mark.parametrize("number", range(ROUNDS))
def test_a_garbled_journal_is_said_or_brings_whole_acts_back(cut, tmp_path, number):
    chance, garbled = random.Random(100 + number), bytearray(cut.journal)
    garbled[chance.randrange(len(garbled))] ^= 1 << chance.randrange(8)
    path = laid_out(cut, tmp_path, bytes(garbled))
    sentence = refusal(cut, path)
    if sentence:
        assert "seatworthy restore" in sentence
        assert path.with_name("panel.duckdb.wal").read_bytes() == bytes(garbled)


def test_a_damaged_journal_is_said_with_the_last_good_backup(cut, tmp_path, capsys):
    path = laid_out(cut, tmp_path, cut.journal)
    desk = open_desk(path)
    kept = back_up(desk)
    desk.close()
    garbled = bytearray(cut.journal)
    garbled[len(garbled) // 2] ^= 1
    laid_out(cut, tmp_path, bytes(garbled))
    assert main(["verify", "--store", str(path)]) == 2
    said = capsys.readouterr().err
    assert "panel.duckdb.wal, is damaged" in said
    assert f"The last good backup is {kept}" in said


def refusal(cut, path):
    """The sentence with which it is refused; None if it opens with whole acts."""
    try:
        acts_found(cut, path)
    except StoreDamaged as error:
        return str(error)
    return None
