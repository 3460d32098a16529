from datetime import date, timedelta

import pytest

from seatworthy.rules.attendance import Attended, judge_attendance
from seatworthy.rules.duplicates import DuplicateCounts, judge_duplicates
from seatworthy.rules.false_calls import BlankCounts, judge_false_calls
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.rules.verdict import Standing

BOOK = rulebook_on_menu("default")
TODAY = date(2026, 6, 1)


@pytest.mark.parametrize(
    ("blanks", "chance", "expected"),
    [
        (10, 0.75, Standing.MET),
        (9, 0.75, Standing.TOO_LITTLE),
        (10, 0.7499, Standing.TOO_LITTLE),
        (10, 0.25, Standing.NOT_MET),
        (10, 0.2501, Standing.TOO_LITTLE),
        (9, 0.01, Standing.TOO_LITTLE),
        (0, 0.3, Standing.TOO_LITTLE),
    ],
)
def test_false_calls_need_ten_blanks_and_three_chances_in_four(blanks, chance, expected):
    seen = BlankCounts(blanks, 1, 0, chance)
    assert judge_false_calls(seen, BOOK.false_calls).standing is expected


def test_the_way_to_meet_false_calls_is_counted_in_blanks():
    seen = BlankCounts(8, 0, 2, 0.9, (0.9,) * 31)
    verdict = judge_false_calls(seen, BOOK.false_calls)
    assert verdict.change == "2 more blanks without a call would be enough."
    assert "2 more calls may be the beer's own background" in verdict.sentence


@pytest.mark.parametrize(
    ("offered", "attended", "days_ago", "expected"),
    [
        (10, 5, 10, Standing.MET),
        (10, 4, 10, Standing.NOT_MET),
        (3, 3, 10, Standing.TOO_LITTLE),
        (4, 2, 10, Standing.MET),
        (10, 10, 60, Standing.MET),
        (10, 10, 61, Standing.NOT_MET),
    ],
)
def test_attendance_is_half_of_the_sessions_and_seen_within_sixty_days(
    offered, attended, days_ago, expected
):
    seen = Attended(offered, attended, TODAY - timedelta(days=days_ago))
    assert judge_attendance(seen, TODAY, BOOK.attendance).standing is expected


def test_the_way_back_to_attendance_is_counted_in_sessions():
    seen = Attended(10, 3, TODAY)
    change = judge_attendance(seen, TODAY, BOOK.attendance).change
    assert change == "The next 4 sessions in a row would meet it."


@pytest.mark.parametrize(("chance", "expected"), [(0.0099, Standing.NOT_MET), (0.01, Standing.MET)])
def test_duplicates_are_flagged_only_when_improbable(chance, expected):
    seen = DuplicateCounts(12, 4, 8.2, chance)
    assert judge_duplicates(seen, BOOK.duplicates).standing is expected


@pytest.mark.parametrize(("pairs", "expected"), [(5, Standing.TOO_LITTLE), (6, Standing.MET)])
def test_five_pairs_say_too_little_and_six_say_something(pairs, expected):
    seen = DuplicateCounts(pairs, pairs, 4.4, 1.0)
    assert judge_duplicates(seen, BOOK.duplicates).standing is expected


def test_few_pairs_that_disagree_beyond_chance_are_flagged_all_the_same():
    assert (
        judge_duplicates(DuplicateCounts(4, 0, 3.6, 0.002), BOOK.duplicates).standing
        is Standing.NOT_MET
    )
