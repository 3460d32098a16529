"""A file with flipped bytes or a torn end is said to be damaged, or holds what it held."""

import random
import subprocess
import sys
from datetime import UTC, datetime

import pytest
from given import beer, glass, person, session, vocabulary

from seatworthy.errors import StoreDamaged
from seatworthy.store.checks import impossible_facts
from seatworthy.store.copying import read_whole
from seatworthy.store.file import Store
from seatworthy.store.orphans import strange_rows
from seatworthy.store.reading_again import read_as_it_lies

PLACES = 50
ZEROS = "0" * 64
READ = """
import sys
from pathlib import Path
from seatworthy.errors import StoreError
from seatworthy.store.copying import read_whole
path = Path(sys.argv[1])
whole, sound = path.read_bytes(), read_whole(path)
for place in map(int, sys.argv[2:]):
    with path.open("rb+") as file:
        file.seek(place)
        file.write(bytes([whole[place] ^ 0x55]))
    try:
        print("the same" if read_whole(path) == sound else "ANOTHER", flush=True)
    except StoreError as error:
        print("said" if str(path) in str(error) else f"UNCLEAR {error}", flush=True)
    with path.open("rb+") as file:
        file.seek(place)
        file.write(whole[place : place + 1])
"""


@pytest.fixture
def closed(store):
    """A store with facts, closed."""
    vocabulary(store)
    with store.recording("results") as act:
        beer(act)
        sitting = session(act)
        for name in "abcdef":
            glass(act, sitting, person(act, name), "dms", "dms")
    store.close()
    return store.path


def test_a_flipped_byte_anywhere_is_said_or_changes_nothing(closed):
    """In a process of its own: not even one that ends by itself may pass for "all is well"."""
    chance = random.Random(9)
    size = closed.stat().st_size
    places = [chance.randrange(0x3000) for _ in range(PLACES // 5)]  # the headers
    places += [chance.randrange(size) for _ in range(PLACES - len(places))]
    done = subprocess.run(
        [sys.executable, "-c", READ, str(closed), *map(str, places)], capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    found = done.stdout.split("\n")[:-1]
    assert len(found) == PLACES
    assert set(found) == {"said", "the same"}, found


@pytest.mark.parametrize("size", [0, 7, 4096, 12288, 200_000])
def test_a_torn_file_is_said(closed, size):
    closed.write_bytes(closed.read_bytes()[:size])
    with pytest.raises(StoreDamaged, match=r"panel\.duckdb"):
        read_whole(closed)


def test_an_open_store_is_read_from_the_disk_again(closed):
    with Store.open(closed) as opened:
        with opened.recording("people") as act:
            person(act, "g")
        read_as_it_lies(opened)
        whole = closed.read_bytes()
        for place in range(0x3000 + 999, len(whole), 5000):
            with closed.open("rb+") as file:
                file.seek(place)
                file.write(b"\x55\xaa\x55")
        with pytest.raises(StoreDamaged, match=r"panel\.duckdb") as told:
            read_as_it_lies(opened)
        assert "unfinished" not in str(told.value)
        closed.write_bytes(whole)
    assert sorted(path.name for path in closed.parent.iterdir()) == ["panel.duckdb"]


def strange(store):
    return list(strange_rows(store.cursor()))


def test_what_no_key_guards_is_looked_through(store):
    vocabulary(store)
    with store.recording("results") as act:
        beer(act)
        glass(act, session(act), person(act, "ada"), "dms", "dms")
    assert strange(store) == []
    cursor = store.cursor()
    cursor.execute("update serving set sample_id = 'nowhere'")
    cursor.execute("update base_beer set family = 'nowhere'")
    cursor.execute("update session set session_on = '1066-10-14'")
    assert strange(store) == [
        "table base_beer names in family what table beer_family doesn’t hold: 1 row.",
        "table serving names in sample_id what table sample doesn’t hold: 1 row.",
        "table session holds days before 1900 in session_on: 1 row.",
    ]


@pytest.mark.parametrize(
    ("harm", "words"),
    [
        ("update answer set kind = 'rating', words_digest = null, rating = 5000", "1 ratings are below"),
        ("update answer set kind = 'rating', words_digest = null, rating = -1", "1 ratings are below"),
        ("insert into not_served values ('ada_____________', 'beer', 'no such beer', true, 1, now())",
         "1 lines about what somebody is not to be served"),
        ("insert into spare_taken values ('2026-03-02', 7, 'ada_____________', 1, now())",
         "1 spare places were taken"),
        (f"insert into history values (9, '2001-01-01', 'x', 0, '{ZEROS}', '{ZEROS}', '{ZEROS}')",
         "1 entries were recorded before the entry"),
        (f"insert into chosen_panel values ('p', '2026-03-02', 'pale', null, 1, 'a', '{ZEROS}', 1, now())",
         "1 panels that were kept have another text"),
    ],
)  # fmt: skip
def test_values_that_cannot_be_are_said(store, harm, words):
    vocabulary(store)
    with store.recording("results") as act:
        beer(act)
        glass(act, session(act), person(act, "ada"), "dms", "dms")
    cursor = store.cursor()
    now = datetime.now(UTC).replace(tzinfo=None)
    before = set(impossible_facts(cursor, now))
    cursor.execute(harm)
    found = set(impossible_facts(cursor, now)) - before
    assert any(sentence.startswith(words) for sentence in found)
