import duckdb
import pytest
from given import DAY, beer, glass, person, session, vocabulary

from seatworthy.store.scored_once import ScoredOnce

VIEWS = (
    "scored_answer", "naming_glass", "blank_glass", "cell_count", "wrong_name", "duplicate_pair",
)  # fmt: skip


@pytest.fixture
def tasted(store):
    """Some answers of every kind, the moment at which half of them stood, and a sample."""
    vocabulary(store)
    with store.recording("results") as act:
        beer(act)
        sitting, who = session(act), person(act, "ada")
        for number in (1, 2):
            glass(act, sitting, who, "diacetyl", "diacetyl", mark="a", number=number)
        glass(act, sitting, who, None, "dms")
    known_at = act.recorded_at
    with store.recording("results") as act:
        glass(act, sitting, person(act, "ben"), "dms", "acetic_acid")
        glass(act, sitting, who, None, None, number=2)
    return store, known_at, f"{DAY.isoformat()} diacetyl 3 None pils"


def rows(store, view, known_at, aside, scored=None, version=0):
    with store.reading(known_at, aside) as cursor:
        if scored is not None:
            scored.lend(cursor, f"select * from {view}", version, known_at, aside)
        return sorted(map(repr, cursor.execute(f"select * from {view}").fetchall()))


@pytest.mark.parametrize("view", VIEWS)
def test_a_query_says_the_same_of_kept_rows_as_of_the_view(tasted, view):
    store, known_at, sample = tasted
    scored = ScoredOnce()
    answers = []
    for asked in ((None, ()), (known_at, ()), (None, (sample,))):
        plain = rows(store, view, *asked)
        assert rows(store, view, *asked, scored) == plain
        assert rows(store, view, *asked, scored) == plain
        answers.append(plain)
    assert view != "scored_answer" or len({tuple(found) for found in answers}) == 3


def test_a_query_that_rests_on_the_view_reads_the_kept_rows(tasted):
    store, _, _ = tasted
    scored = ScoredOnce()
    for view in VIEWS:
        with store.reading() as cursor:
            scored.lend(cursor, f"select * from {view}", 1, None, ())
            cursor.execute("drop view temp.scored_answer")


def test_another_query_is_lent_nothing(tasted):
    store, _, _ = tasted
    with store.reading() as cursor:
        ScoredOnce().lend(cursor, "-- scored_answer\nselect * from attendance", 1, None, ())
        with pytest.raises(duckdb.CatalogException):
            cursor.execute("drop view temp.scored_answer")


def test_what_an_act_takes_away_is_not_read_again(tasted):
    store, _, sample = tasted
    before = store.rows("scored_answers", until_on=DAY)
    with store.recording("aside") as act:
        act.add("sample_aside", {
            "sample_id": sample, "is_aside": True, "reason": "", "reason_salt": "",
            "reason_digest": "",
        })  # fmt: skip
    after = store.rows("scored_answers", until_on=DAY)
    assert {row["sample_id"] for row in before} - {row["sample_id"] for row in after} == {sample}


def test_rows_of_an_earlier_version_are_let_go_of(tasted):
    store, known_at, _ = tasted
    scored = ScoredOnce()
    for version, moment in ((1, None), (1, known_at), (2, None)):
        rows(store, "scored_answer", moment, (), scored, version)
    assert [asked[0] for asked in scored._kept] == [2]
