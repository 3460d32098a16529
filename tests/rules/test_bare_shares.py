import pytest

from seatworthy.rules.duplicates import DuplicateCounts, judge_duplicates
from seatworthy.rules.false_calls import BlankCounts, judge_false_calls
from seatworthy.rules.person_rules import DuplicateRule, DuplicateShare, FalseCallShare
from seatworthy.rules.verdict import Standing

CALLS = FalseCallShare(ceiling=0.1, blanks=10, months=12)
PAIRS = DuplicateShare(share=0.75, pairs=8, months=12)
UNKNOWN = float("nan")  # a rule that goes by the bare share looks at no chance


def by_calls(blanks, calls, background=0, rule=CALLS):
    return judge_false_calls(BlankCounts(blanks, calls, background, UNKNOWN), rule)


def by_pairs(pairs, agreed, rule=PAIRS):
    return judge_duplicates(DuplicateCounts(pairs, agreed, UNKNOWN, UNKNOWN), rule)


# False calls


@pytest.mark.parametrize(
    ("blanks", "calls", "standing"),
    [
        (10, 1, Standing.MET),
        (10, 2, Standing.NOT_MET),
        (30, 3, Standing.MET),
        (30, 4, Standing.NOT_MET),
        (9, 0, Standing.TOO_LITTLE),
        (9, 9, Standing.TOO_LITTLE),
        (0, 0, Standing.TOO_LITTLE),
    ],
)
def test_a_share_of_calls_may_reach_its_ceiling_and_not_pass_it(blanks, calls, standing):
    assert by_calls(blanks, calls).standing is standing


@pytest.mark.parametrize(("calls", "standing"), [(0, Standing.MET), (1, Standing.NOT_MET)])
def test_a_ceiling_of_none_allows_no_call(calls, standing):
    none = FalseCallShare(ceiling=0.0, blanks=10, months=12)
    assert by_calls(20, calls, rule=none).standing is standing


def test_no_number_of_blanks_makes_up_for_a_call_where_none_is_allowed():
    none = FalseCallShare(ceiling=0.0, blanks=10, months=12)
    assert by_calls(20, 1, rule=none).change == (
        "The calls must first grow too old to count: no number of blanks makes up for them."
    )


@pytest.mark.parametrize(("blanks", "calls", "more"), [(10, 2, 10), (4, 0, 6), (4, 1, 6)])
def test_the_way_is_the_fewest_blanks_without_a_call(blanks, calls, more):
    assert by_calls(blanks, calls).change == f"{more} more blanks without a call would be enough."
    assert by_calls(blanks + more, calls).standing is Standing.MET
    assert by_calls(blanks + more - 1, calls).standing is not Standing.MET


def test_a_share_of_calls_says_its_numbers():
    assert by_calls(14, 2, background=1).sentence == (
        "2 false calls in 14 blanks (14%); at most 10% are allowed. "
        "1 more call may be the beer's own background."
    )


def test_few_blanks_are_said_with_the_number_asked_for():
    assert by_calls(9, 0).sentence == (
        "No false calls in 9 blanks (0%); at most 10% are allowed. "
        "At least 10 blanks in 12 months are asked for."
    )


def test_enough_blanks_are_not_asked_for_again():
    assert by_calls(10, 1).sentence == "1 false call in 10 blanks (10%); at most 10% are allowed."


@pytest.mark.parametrize(("blanks", "way"), [(10, "100 more blanks"), (9, "The calls must")])
def test_a_hundred_further_blanks_are_a_way_and_more_are_not(blanks, way):
    """By hand: 11 calls are a tenth of 110 blanks."""
    assert by_calls(blanks, 11).change.startswith(way)


def test_as_many_blanks_as_the_rule_asks_for_are_always_a_way():
    many = FalseCallShare(ceiling=0.1, blanks=200, months=12)
    assert by_calls(0, 0, rule=many).change == "200 more blanks without a call would be enough."


# Hidden pairs


@pytest.mark.parametrize(
    ("pairs", "agreed", "standing"),
    [
        (8, 6, Standing.MET),
        (8, 5, Standing.NOT_MET),
        (7, 7, Standing.TOO_LITTLE),
        (7, 0, Standing.TOO_LITTLE),
        (0, 0, Standing.TOO_LITTLE),
    ],
)
def test_a_share_of_pairs_must_reach_its_limit(pairs, agreed, standing):
    assert by_pairs(pairs, agreed).standing is standing


@pytest.mark.parametrize(("pairs", "agreed", "more"), [(8, 5, 4), (3, 3, 5), (0, 0, 8)])
def test_the_way_is_the_fewest_pairs_in_agreement(pairs, agreed, more):
    assert by_pairs(pairs, agreed).change == f"{more} more hidden pairs in agreement could meet it."
    assert by_pairs(pairs + more, agreed + more).standing is Standing.MET
    assert by_pairs(pairs + more - 1, agreed + more - 1).standing is not Standing.MET


def test_a_share_of_pairs_says_its_numbers():
    assert by_pairs(8, 5).sentence == (
        "5 of 8 hidden pairs both right or both not (62%); 75% of at least 8 are asked for."
    )


def test_a_pair_that_disagrees_cannot_be_made_up_for_where_all_must_agree():
    every = DuplicateShare(share=1.0, pairs=4, months=12)
    assert by_pairs(8, 7, every).change == (
        "The pairs that disagree must first grow too old to count."
    )


@pytest.mark.parametrize(
    ("agreed", "way"), [(20, "100 more hidden pairs"), (19, "The pairs that disagree")]
)
def test_a_hundred_further_pairs_in_agreement_are_a_way_and_more_are_not(agreed, way):
    """By hand: with 40 pairs in disagreement three quarters are 120 of 160."""
    assert by_pairs(40 + agreed, agreed).change.startswith(way)


# Hidden pairs by odds: the least number is the rulebook's


@pytest.mark.parametrize(("pairs", "standing"), [(8, Standing.TOO_LITTLE), (9, Standing.MET)])
def test_the_least_number_of_pairs_is_the_rulebooks(pairs, standing):
    rule = DuplicateRule(improbable=0.01, pairs=9, months=12)
    seen = DuplicateCounts(pairs, pairs, 6.6, 1.0)
    assert judge_duplicates(seen, rule).standing is standing
