from datetime import date, timedelta

import pytest
from given import DAY, beer, glass, person, session, vocabulary

LIMITS = {
    "lowest_level": 2.0, "highest_level": 4.0, "strong_level": 5.0, "months": 12,
    "people": None, "compounds": None,
}  # fmt: skip


@pytest.fixture
def lab(store):
    vocabulary(store)
    with store.recording("shelf") as act:
        beer(act)
        beer(act, "weizen", "wheat")
    return store


def counted(store, on=DAY, until=DAY):
    rows = store.rows("counted_glasses", until_on=until, asked_on=[on], **LIMITS)
    return {
        (row["compound"], row["family"]): (row["glasses"], row["hits"], row["days"])
        for row in rows
        if row["asked_on"] == on
    }


@pytest.mark.parametrize(("level", "glasses"), [(1.9, 0), (2.0, 1), (4.0, 1), (4.1, 0)])
def test_only_levels_in_the_band_count(lab, level, glasses):
    with lab.recording("results") as act:
        glass(act, session(act), person(act, "ada"), "dms", "dms", level=level)
    assert counted(lab) == {("dms", "pale"): (glasses, glasses, glasses)}


def test_own_words_count_neither_way_until_their_meaning_is_said(lab):
    with lab.recording("results") as act:
        sitting, who = session(act), person(act, "ada")
        glass(act, sitting, who, "dms", "corn", number=1)
        glass(act, sitting, who, "dms", None, kind="something", number=2)
    assert counted(lab)["dms", "pale"] == (1, 0, 1)
    with lab.recording("words") as act:
        act.add("synonym", {"words_key": "corn", "words": "corn", "compound": "dms"})
    assert counted(lab)["dms", "pale"] == (2, 1, 1)


def test_the_window_is_twelve_months_long(lab):
    with lab.recording("results") as act:
        who = person(act, "ada")
        for day in (DAY, date(2025, 3, 3), date(2025, 3, 2)):
            glass(act, session(act, day), who, "dms", "dms")
    assert counted(lab)["dms", "pale"] == (2, 2, 2)


def test_later_glasses_do_not_count_on_an_earlier_day(lab):
    with lab.recording("results") as act:
        who = person(act, "ada")
        glass(act, session(act), who, "dms", "dms")
        glass(act, session(act, DAY + timedelta(days=7)), who, "dms", None)
    later = DAY + timedelta(days=7)
    assert counted(lab, on=DAY, until=later)["dms", "pale"] == (1, 1, 1)
    assert counted(lab, on=later, until=later)["dms", "pale"] == (2, 1, 2)


def test_beer_families_are_counted_apart(lab):
    with lab.recording("results") as act:
        sitting, who = session(act), person(act, "ada")
        glass(act, sitting, who, "dms", "dms")
        glass(act, sitting, who, "dms", None, beer="weizen")
    assert counted(lab) == {("dms", "pale"): (1, 1, 1), ("dms", "wheat"): (1, 0, 1)}


def test_a_pair_agrees_when_both_glasses_were_named_right_or_neither(lab):
    with lab.recording("results") as act:
        sitting, who = session(act), person(act, "ada")
        pairs = {"A": ("dms", "dms"), "B": ("dms", None), "C": ("diacetyl", None)}
        for mark, answers in pairs.items():
            for number, said in enumerate(answers):
                glass(act, sitting, who, "dms", said, mark=mark, number=f"{mark}{number}")
    rows = lab.rows("duplicate_pairs", after_on=date(2026, 1, 1), until_on=DAY)
    assert [row["is_agreed"] for row in rows] == [True, False, True]


def test_sessions_are_offered_from_a_persons_first_one_on(lab):
    with lab.recording("results") as act:
        old, new = person(act, "old"), person(act, "new")
        for week in range(4):
            sitting = session(act, DAY - timedelta(weeks=week))
            glass(act, sitting, old, "dms", "dms")
            if week in (0, 1):
                glass(act, sitting, new, "dms", "dms")
    rows = lab.rows("attendance", after_on=date(2026, 1, 1), until_on=DAY)
    seen = {row["person_id"].strip("_"): (row["offered"], row["attended"]) for row in rows}
    assert seen == {"old": (4, 4), "new": (2, 2)}
