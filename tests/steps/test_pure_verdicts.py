"""A verdict is a function of facts, rulebook, model and day alone."""

from datetime import date, timedelta

import pytest
from written import flight, results

from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.rulebooks import supposed_rulebook

FIRST, TODAY = date(2026, 6, 1), date(2026, 8, 10)


def files(folder):
    """Two files: the first five weeks of Ada and Bo, and five further ones."""
    for half in range(2):
        rows = []
        for week in range(5 * half, 5 * half + 5):
            day = (FIRST + timedelta(weeks=week)).isoformat()
            for n, who in enumerate(("Ada", "Bo")):
                said = "nothing" if who == "Bo" and week % 2 else "diacetyl"
                glasses = {"diacetyl": said, "dms": "dms", "t2n": "papery", "blank": "nothing"}
                rows += flight(day, who, glasses, first=100 + 50 * n)
        yield results(folder / f"half {half}.csv", rows)


def opened(path):
    desk = open_desk(path)
    desk.today = lambda: TODAY
    return desk


def built(folder, order):
    desk = opened(folder / "panel.duckdb")
    paths = list(files(folder))
    for half in order:
        bring_in_results(desk, paths[half])
    return desk


def rows(desk):
    """Every verdict by the names of people, with all it says."""
    judged = judge_day(desk)
    cells = {
        (judged.people[person], compound, family): (one.verdict, one.met_on, one.until,
                                                    one.verdict.change, one.more_right)
        for (person, compound, family), one in judged.cells.items()
    }  # fmt: skip
    seats = {
        (judged.people[person], family): (one.verdict, one.until, one.verdict.change, one.items)
        for (person, family), one in judged.seats.items()
    }
    return cells, seats


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    desk = built(tmp_path_factory.mktemp("forwards"), (0, 1))
    yield desk
    desk.close()


@pytest.fixture(scope="module")
def found(desk):
    return rows(desk)


def test_there_are_verdicts_of_every_kind_to_compare(found):
    assert {str(one[0].standing) for one in found[0].values()} >= {"met", "too_little"}


def test_judging_again_from_nothing_kept_gives_the_same_verdicts(desk, found):
    desk.judged.clear()
    desk.estimated.clear()
    assert rows(desk) == found


def test_files_brought_in_in_another_order_give_the_same_verdicts(found, tmp_path):
    other = built(tmp_path, (1, 0))
    backwards = rows(other)
    other.close()
    assert backwards == found


def test_a_store_closed_and_opened_gives_the_same_verdicts(desk, found):
    path = desk.store.path
    desk.close()
    again = opened(path)
    after = rows(again)
    again.close()
    assert after == found


def test_a_rule_that_cuts_windows_says_the_same_in_every_store(tmp_path):
    """Ids are random, so the order of glasses must rest on what is in the file."""
    text = rulebook_text("plain")
    for now, then in (
        ("right = 10", "right = 3"),
        ("of = 12", "of = 4"),
        ("leave_at = 7", "leave_at = 1"),
    ):
        text = text.replace(now, then, 1)
    found = []
    for number in range(2):
        folder = tmp_path / str(number)
        folder.mkdir()
        desk = built(folder, (0, 1))
        judged = judge_day(desk, supposed_book=supposed_rulebook(text))
        found.append({
            (judged.people[person], compound): (one.verdict, one.met_on, one.verdict.change)
            for (person, compound, _), one in judged.cells.items()
        })  # fmt: skip
        desk.close()
    assert found[0] == found[1]
