"""Stores that earlier versions wrote, opened with today's code: the same facts, chain, decisions, verdicts."""

import json
import lzma
import signal
import subprocess
import sys
from dataclasses import dataclass
from datetime import date, datetime
from hashlib import sha256
from pathlib import Path

import duckdb
import pytest

from seatworthy.errors import StoreDamaged, StoreNewer
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.facts_text import facts_digest
from seatworthy.steps.judging import judge_day
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.seats import signed_decisions
from seatworthy.store.file import Store
from seatworthy.store.schema import applied_files, newest_number

OLD = Path(__file__).with_name("old_stores")
NUMBERS = sorted(int(path.name[6:8]) for path in OLD.glob("store_*.duckdb.xz"))
READ = """
select person_id, session_on, sample_id, compound, outcome, named_compound from scored_answer
order by all
"""
# Verdicts that today's model gives otherwise than the version that wrote the store: number of its table
# files, whose and what, what was said then and is said now, and why.
OTHERWISE = ()


@dataclass
class Upgraded:
    """An old store at which today's code sits, and what its own version saw in it."""

    number: int
    told: dict
    desk: Desk


def unpacked(number: int, folder: Path) -> Path:
    """An old store as a file of its own."""
    path = folder / "panel.duckdb"
    path.write_bytes(lzma.decompress((OLD / f"store_{number:02d}.duckdb.xz").read_bytes()))
    return path


def told_of(number: int) -> dict:
    """What its own version saw in it."""
    return json.loads((OLD / f"store_{number:02d}.json").read_text(encoding="utf-8"))


def old_facts(con: duckdb.DuckDBPyConnection, told: dict) -> dict:
    """Rows and digest of what an upgrade must leave as it was: old columns, entries of old numbers."""
    last = max(int(number) for number in told["chain"])
    found = {}
    for table, was in told["tables"].items():
        fields = ", ".join(f"coalesce({column}::varchar, chr(30))" for column in was["columns"])
        where = f"where entry_no <= {last}" if "entry_no" in was["columns"] else ""
        rows, digest = con.execute(
            "select count(*), coalesce(sha256(string_agg(line, chr(10) order by line)), '')"
            f" from (select concat_ws(chr(31), {fields}) as line from {table} {where})"
        ).fetchone()
        found[table] = {"columns": was["columns"], "rows": rows, "digest": digest}
    return found


def chain(con: duckdb.DuckDBPyConnection) -> dict:
    """Digest by number of entry."""
    return {
        str(n): digest for n, digest in con.execute("select entry_no, digest from history").fetchall()
    }  # fmt: skip


@pytest.fixture(scope="module", params=NUMBERS)
def upgraded(request, tmp_path_factory):
    """One old store after another, opened with today's code."""
    path = unpacked(request.param, tmp_path_factory.mktemp(f"old_{request.param}"))
    told = told_of(request.param)
    before = duckdb.connect(str(path), read_only=True)
    assert old_facts(before, told) == told["tables"]
    before.close()
    desk = open_desk(path)
    yield Upgraded(request.param, told, desk)
    desk.close()


def test_every_earlier_number_of_tables_is_kept():
    assert list(range(4, newest_number())) == NUMBERS
    assert [told_of(number)["tables_number"] for number in NUMBERS] == NUMBERS


def test_facts_and_their_digests_stay_and_the_chain_adds_up(upgraded):
    with upgraded.desk.store.reading() as cursor:
        assert set(applied_files(cursor)) == set(range(1, newest_number() + 1))
        assert old_facts(cursor, upgraded.told) == upgraded.told["tables"]
        assert chain(cursor).items() >= upgraded.told["chain"].items()
    verify(upgraded.desk)


def test_the_store_as_it_was_is_kept_beside_before_anything_is_changed(upgraded):
    con = duckdb.connect(str(upgraded.desk.store.kept_before_upgrade), read_only=True)
    try:
        assert max(applied_files(con)) == upgraded.number
        assert old_facts(con, upgraded.told) == upgraded.told["tables"]
    finally:
        con.close()


def test_a_decision_has_the_facts_that_were_signed(upgraded):
    desk = upgraded.desk
    signed = signed_decisions(desk)
    assert {one.decision_id: one.facts_digest for one in signed} == upgraded.told["decisions"]
    for one in signed:
        again = facts_digest(desk, one.stated_id, one.family, one.as_of_on, one.recorded_at)
        assert again == one.facts_digest


def test_the_record_of_an_earlier_moment_reads_as_it_did(upgraded):
    for moment, was in upgraded.told["readings"].items():
        with upgraded.desk.store.reading(datetime.fromisoformat(moment)) as cursor:
            rows = cursor.execute(READ).fetchall()
        text = "\n".join("\x1f".join(str(value) for value in row) for row in rows)
        assert [len(rows), sha256(text.encode()).hexdigest()] == was, moment


def test_verdicts_are_those_of_then_but_for_those_that_are_listed(upgraded):
    told, desk = upgraded.told, upgraded.desk
    as_of = date.fromisoformat(told["as_of"])
    midway = dict(told["standings_midway"])
    known_at = datetime.fromisoformat(midway.pop("known_at"))
    listed = {
        (who, was, now) for number, who, was, now, _ in OTHERWISE if number == upgraded.number
    }
    asked = [(told["standings"], None)]
    if upgraded.number in (NUMBERS[0], NUMBERS[-1]):  # what was known is read for all of them above
        asked.append((midway, known_at))
    for was, moment in asked:
        now = standings(desk, as_of, moment)
        assert now.keys() == was.keys()
        assert {(who, was[who], now[who]) for who in was if was[who] != now[who]} <= listed


def standings(desk, as_of, known_at):
    """Verdict by person, compound and family, and by person and family."""
    judged = judge_day(desk, as_of, known_at)
    cells = {" | ".join(cell): str(verdict.standing) for cell, verdict in judged.cells.items()}
    return {
        **cells,
        **{" | ".join(s): str(seat.verdict.standing) for s, seat in judged.seats.items()},
    }


def test_a_second_opening_changes_nothing(upgraded):
    path = upgraded.desk.store.path
    upgraded.desk.close()
    con = duckdb.connect(str(path), read_only=True)
    before = whole(con)
    con.close()
    upgraded.desk = open_desk(path)
    with upgraded.desk.store.reading() as cursor:
        assert whole(cursor) == before


def whole(con):
    """Every row of every table."""
    tables = con.execute("select table_name from duckdb_tables()").fetchall()
    return {t: con.execute(f"select * from {t} order by all").fetchall() for (t,) in tables}


def test_a_store_in_the_format_of_an_earlier_duckdb_is_brought_up_likewise(tmp_path):
    number, told = NUMBERS[0], told_of(NUMBERS[0])
    path = unpacked(number, tmp_path)
    con = duckdb.connect(str(path))
    con.execute(f"attach '{tmp_path / 'first.duckdb'}' as first (storage_version 'v1.0.0')")
    con.execute("copy from database panel to first")
    con.close()
    with Store.open(tmp_path / "first.duckdb") as store, store.reading() as cursor:
        assert old_facts(cursor, told) == told["tables"]
        assert max(applied_files(cursor)) == newest_number()


def test_a_store_of_another_text_of_its_tables_is_refused_as_it_is(tmp_path):
    path = unpacked(NUMBERS[0], tmp_path)
    change(path, "update applied_file set digest = 'other' where number = 3")
    before = path.read_bytes()
    with pytest.raises(
        StoreDamaged, match=r"another text of 03_shelf\.sql than this version ships"
    ):
        Store.open(path)
    assert path.read_bytes() == before


def test_a_newer_store_is_refused_as_it_is(tmp_path):
    path = unpacked(NUMBERS[-1], tmp_path)
    later = newest_number() + 1
    change(path, f"insert into applied_file values ({later}, 'later.sql', 'x', now()::timestamp)")
    before = path.read_bytes()
    with pytest.raises(StoreNewer, match=rf"number {later}, this version knows {newest_number()}"):
        Store.open(path)
    assert path.read_bytes() == before


def change(path, sql):
    """Do something to a store behind its back."""
    con = duckdb.connect(str(path))
    con.execute(sql)
    con.close()


KILLED = """
import os, signal, sys
from seatworthy.store import schema
from seatworthy.store.file import Store
run, last, is_inside = schema._run_table_file, int(sys.argv[2]), sys.argv[3] == "inside"
def run_and_die(con, number, name, text):
    if number == last and is_inside:
        con.execute("begin")
        con.execute(text)
        os.kill(os.getpid(), signal.SIGKILL)
    run(con, number, name, text)
    if number == last:
        os.kill(os.getpid(), signal.SIGKILL)
schema._run_table_file = run_and_die
Store.open(sys.argv[1])
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no kill -9")
def test_an_upgrade_that_was_killed_goes_on_at_the_next_opening(tmp_path):
    told = told_of(NUMBERS[0])
    path = unpacked(NUMBERS[0], tmp_path)
    for last, where in ((5, "behind"), (8, "inside"), (newest_number(), "behind")):
        args = [sys.executable, "-c", KILLED, str(path), str(last), where]
        assert subprocess.run(args, check=False).returncode == -signal.SIGKILL
        con = duckdb.connect(str(path))
        assert max(applied_files(con)) == (last if where == "behind" else last - 1)
        assert old_facts(con, told) == told["tables"]
        con.close()
    desk = open_desk(path)
    try:
        verify(desk)
        with desk.store.reading() as cursor:
            assert old_facts(cursor, told) == told["tables"]
    finally:
        desk.close()
