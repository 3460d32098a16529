from dataclasses import replace
from datetime import date, timedelta

import pytest

from seatworthy.rules.compound import (
    After,
    CellDay,
    is_met_afresh,
    is_not_met,
    judge_compound,
    last_met_day,
    shortest_way,
)
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.rules.verdict import Standing

BOOK = rulebook_on_menu("default")
RULE = BOOK.compound
DAY = date(2026, 3, 2)
SEEN = CellDay(DAY, chance=0.90, glasses=8, hits=7, days=3)
AFTER = (0.90, 0.93, 0.95, 0.96, 0.97, 0.975, 0.98, 0.985, 0.99)


def judged(today, past=(), ahead=(), after=AFTER):
    return judge_compound(past, today, ahead, After(after), BOOK, RULE)


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"chance": 0.85}, True),
        ({"chance": 0.8499}, False),
        ({"glasses": 4}, True),
        ({"glasses": 3}, False),
        ({"days": 2}, True),
        ({"days": 1}, False),
    ],
)
def test_met_needs_the_chance_the_glasses_and_the_days(change, expected):
    assert is_met_afresh(replace(SEEN, **change), RULE) is expected


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"chance": 0.05}, True),
        ({"chance": 0.0501}, False),
        ({"chance": 0.01, "glasses": 6}, True),
        ({"chance": 0.01, "glasses": 5}, False),
    ],
)
def test_not_met_needs_a_small_chance_on_six_glasses(change, expected):
    assert is_not_met(replace(SEEN, **change), RULE) is expected


def test_no_glasses_is_too_little_evidence_whatever_the_chance():
    nothing = CellDay(DAY, chance=0.99, glasses=0, hits=0, days=0)
    verdict = judged(nothing)
    assert verdict.standing is Standing.TOO_LITTLE
    assert "No glasses counted yet" in verdict.verdict.sentence
    assert "4 more glasses" in verdict.verdict.change


def test_a_met_stands_26_weeks_and_not_a_day_longer():
    unsure = replace(SEEN, chance=0.70)
    last = replace(unsure, day=DAY + timedelta(weeks=26))
    late = replace(unsure, day=DAY + timedelta(weeks=26, days=1))
    assert last_met_day([SEEN, last], RULE) == DAY
    assert last_met_day([SEEN, late], RULE) is None


def test_a_met_ends_at_once_under_one_half_and_does_not_come_back_by_itself():
    bad = replace(SEEN, day=DAY + timedelta(days=7), chance=0.4999)
    better = replace(SEEN, day=DAY + timedelta(days=14), chance=0.84)
    assert last_met_day([SEEN, bad, better], RULE) is None
    assert last_met_day([SEEN, replace(bad, chance=0.50), better], RULE) == DAY


def test_a_met_ends_at_once_with_not_met():
    bad = replace(SEEN, day=DAY + timedelta(days=7), chance=0.02)
    assert judged(bad, past=[SEEN]).standing is Standing.NOT_MET


def test_the_weeks_run_from_the_last_day_it_was_met():
    again = replace(SEEN, day=DAY + timedelta(weeks=20))
    unsure = replace(SEEN, day=DAY + timedelta(weeks=40), chance=0.7)
    assert last_met_day([SEEN, again, unsure], RULE) == again.day


def test_a_standing_met_says_until_when():
    today = replace(SEEN, day=DAY + timedelta(weeks=10), chance=0.70)
    ahead = [replace(today, day=today.day + timedelta(weeks=n)) for n in range(1, 30)]
    verdict = judged(today, past=[SEEN], ahead=ahead)
    assert verdict.standing is Standing.MET
    assert not verdict.is_fresh
    assert verdict.until == DAY + timedelta(weeks=26)
    assert "31 August 2026" in verdict.verdict.sentence


def test_a_fresh_met_ends_when_its_glasses_grow_old():
    ahead = [replace(SEEN, day=DAY + timedelta(weeks=n), glasses=8 - n) for n in range(1, 9)]
    verdict = judged(SEEN, ahead=ahead)
    assert verdict.until == DAY + timedelta(weeks=4)


def test_somebody_who_does_not_smell_it_is_never_called_not_met():
    blind = replace(SEEN, chance=0.01, hits=0, chance_insensitive=0.95, strong_glasses=4)
    assert judged(blind).standing is Standing.INSENSITIVE
    assert "No fault" in judged(blind).verdict.sentence
    assert judged(replace(blind, strong_glasses=3)).standing is Standing.NOT_MET
    assert judged(replace(blind, chance_insensitive=0.949)).standing is Standing.NOT_MET


def test_the_shortest_way_counts_glasses_days_and_chance():
    few = CellDay(DAY, chance=0.80, glasses=3, hits=3, days=1)
    assert shortest_way(few, After(AFTER), BOOK.counted, RULE) == (
        "1 more glass named right at 2× to 4× over 1 more day could meet it."
    )
    slow = (0.5, 0.6, 0.7, 0.84, 0.86, 0.9, 0.9, 0.9, 0.9)
    assert shortest_way(few, After(slow), BOOK.counted, RULE).startswith(
        "4 more glasses named right"
    )
    hopeless = (0.1,) * 9
    assert "More than 8" in shortest_way(few, After(hopeless), BOOK.counted, RULE)


def test_the_shortest_way_says_how_many_it_takes_if_one_is_missed():
    few = CellDay(DAY, chance=0.80, glasses=5, hits=4, days=3)
    all_right = (0.80, 0.83, 0.86, 0.9, 0.92, 0.94, 0.95, 0.96, 0.97)
    one_missed = (0.60, 0.66, 0.71, 0.76, 0.80, 0.85, 0.88, 0.9, 0.92)
    assert shortest_way(few, After(all_right, one_missed), BOOK.counted, RULE) == (
        "2 more glasses named right at 2× to 4× could meet it, or 5 of 6."
    )
    assert ", or" not in shortest_way(few, After(all_right, (0.5,) * 9), BOOK.counted, RULE)


def test_the_missed_glass_counts_among_the_glasses_asked_for():
    few = CellDay(DAY, chance=0.80, glasses=1, hits=1, days=1)
    way = shortest_way(few, After(AFTER, AFTER), BOOK.counted, RULE)
    assert way == "3 more glasses named right at 2× to 4× over 1 more day could meet it, or 2 of 3."


def test_more_right_says_in_a_number_what_the_way_says_in_words():
    assert judged(CellDay(DAY, chance=0.80, glasses=3, hits=3, days=1)).more_right == 1
    assert judged(SEEN).more_right is None
