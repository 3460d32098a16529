from datetime import datetime, timedelta

import duckdb
import pytest
from given import beer, glass, person, session, vocabulary

from seatworthy.store.anonymous import take_away
from seatworthy.store.checks import impossible_facts
from seatworthy.store.file import Store
from seatworthy.store.history import SEALED, broken_entries


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "panel.duckdb"
    with Store.open(path) as store:
        vocabulary(store)
        with store.recording("results") as act:
            beer(act)
            sitting, who = session(act), person(act, "ada")
            glass(act, sitting, who, "dms", "dms")
            glass(act, sitting, who, "diacetyl", None)
    return path


def broken(path):
    with Store.open(path) as store:
        cursor = store.cursor()
        found = list(broken_entries(cursor))
        cursor.close()
        return found


def tamper(path, sql):
    con = duckdb.connect(str(path))
    con.execute(sql)
    con.close()


def test_an_untouched_history_adds_up(path):
    assert broken(path) == []


@pytest.mark.parametrize(
    ("sql", "said"),
    [
        ("update answer set kind = 'something' where kind = 'nothing'", "facts of entry 2"),
        ("delete from answer where kind = 'nothing'", "the tables hold"),
        ("update answer set recorded_at = recorded_at - interval 1 day", "facts of entry 2"),
        ("update history set kind = 'other' where entry_no = 1", "changed after it was sealed"),
        ("delete from history where entry_no = 1", "entry 1 is missing"),
        ("delete from history where entry_no = 2", "facts name entry 2"),
        ("update synonym set words = 'other' where words = 'dms'", "facts of entry 1"),
    ],
)
def test_what_was_changed_behind_the_record_is_found(path, sql, said):
    tamper(path, sql)
    assert any(said in sentence for sentence in broken(path))


def test_a_name_can_go_and_the_history_still_adds_up(path):
    tamper(path, "delete from person_name")
    assert broken(path) == []


def test_words_can_go_but_not_be_exchanged(path):
    tamper(path, "update answer set words = 'diacetyl' where words = 'dms'")
    assert broken(path) == []
    with Store.open(path) as store:
        cursor = store.cursor()
        now = cursor.execute("select now()::timestamp").fetchone()[0]
        assert any("other words" in sentence for sentence in impossible_facts(cursor, now))
        cursor.execute("update answer set words = null, words_key = null, words_salt = null")
        assert any("texts are gone" in sentence for sentence in impossible_facts(cursor, now))
        take_away(cursor, [cursor.execute("select min(person_id) from person").fetchone()[0]])
        cursor.execute("update answer set words_salt = (select min(person_id) from person)")
        assert list(impossible_facts(cursor, now)) == []
        cursor.close()
    assert broken(path) == []


def test_every_table_with_an_entry_number_is_sealed(store):
    rows = (
        store.cursor()
        .execute(
            "select distinct table_name from duckdb_columns()"
            " where column_name = 'entry_no' and table_name <> 'history'"
            " and table_name in (select table_name from duckdb_tables())"
        )
        .fetchall()
    )
    assert {name for (name,) in rows} == set(SEALED)


def test_a_moment_of_recording_is_never_before_the_last_one_whatever_the_clock_says(
    path, monkeypatch
):
    class Yesterday(datetime):
        @classmethod
        def now(cls, zone=None):
            return datetime.now(zone) - timedelta(days=1)

    monkeypatch.setattr("seatworthy.store.file.datetime", Yesterday)
    with Store.open(path) as store:
        with store.recording("people") as act:
            person(act, "bo")
        cursor = store.cursor()
        rows = cursor.execute("select recorded_at from history order by entry_no").fetchall()
        cursor.close()
    assert rows == sorted(rows)
    assert len(set(rows)) == len(rows)
