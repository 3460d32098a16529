"""A rulebook's lists of a beer family: critical before the shelf's, expected no false calls."""

from datetime import date

import pytest

from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.reasons import reasons
from seatworthy.steps.rulebooks import supposed_rulebook

TODAY = date(2026, 6, 1)
HEADER = "date,panellist,method,code,compound,level,answer,base beer,beer family"
LISTS = """
[family.pale]
critical = ["t2n", ["dms", "h2s"]]
expected = ["acetaldehyde"]
"""


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    folder = tmp_path_factory.mktemp("lists")
    lines = [HEADER, "2026-05-04,Ada,naming,99,dms,3,dms,Pils,Pale"]
    lines += [
        f"2026-05-04,Ada,naming,{100 + n},blank,,{'acetaldehyde' if n < 9 else 'diacetyl'},Pils,Pale"
        for n in range(10)
    ]
    lines += [f"2026-05-04,Ada,naming,{200 + n},blank,,acetaldehyde,Stout,Dark" for n in range(2)]
    (folder / "rows.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    desk = open_desk(folder / "panel.duckdb")
    desk.today = lambda: TODAY
    bring_in_results(desk, folder / "rows.csv")
    with desk.store.recording("shelf") as act:
        act.add("beer_family", {"family": "pale", "label": "Pale"})
        act.add("family_compound", {"family": "pale", "item_no": 0, "compound": "diacetyl",
                                    "role": "critical"})  # fmt: skip
    yield desk
    desk.close()


def judged(desk, lists=""):
    return judge_day(desk, supposed_book=supposed_rulebook(rulebook_text("default") + lists))


def blanks(desk, lists=""):
    (found,) = judged(desk, lists).blanks.values()
    return found.blanks, found.false_calls, found.possible_background


def test_without_a_list_of_the_rulebook_the_shelf_says_what_is_critical(desk):
    assert judged(desk).critical["pale"] == (("diacetyl",),)


def test_the_list_of_the_rulebook_goes_before_that_of_the_shelf(desk):
    assert judged(desk, LISTS).critical["pale"] == (("t2n",), ("dms", "h2s"))


def test_a_family_without_any_list_takes_the_general_one_of_the_rulebook(desk):
    assert judged(desk, LISTS).critical["dark"] == judged(desk, LISTS).rulebook.critical


def test_a_seat_is_judged_on_the_list_of_the_rulebook(desk):
    (ada,) = judged(desk).people
    assert list(judged(desk, LISTS).seats[ada, "pale"].items) == [("t2n",), ("dms", "h2s")]


def test_what_nobody_expects_is_a_false_call(desk):
    assert blanks(desk) == (12, 12, 0)


def test_what_the_rulebook_expects_in_a_family_is_no_false_call_there(desk):
    """Nine of the pale ones are expected; one was another name, and two stood in another family."""
    assert blanks(desk, LISTS) == (3, 3, 9)


def test_what_the_rulebook_expects_stands_pale_among_the_reasons(desk):
    found = judged(desk, LISTS)
    (ada,) = found.people
    tree = reasons(desk, found, ada, "pale")
    (calls,) = (part for part in tree.parts if part.title == "Calls in blanks")
    assert [glass.counts for glass in calls.glasses].count(False) == 9


def test_an_expectation_is_gone_again_with_the_next_rulebook(desk):
    blanks(desk, LISTS)
    desk.judged.clear()
    assert blanks(desk) == (12, 12, 0)


def test_the_estimate_of_calls_leaves_expected_ones_out_too(desk):
    counts = [len(judged(desk, lists).evidence.blank_day) for lists in ("", LISTS)]
    assert counts == [12, 3]
