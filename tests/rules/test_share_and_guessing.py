from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from poured_glasses import COUNTED, TODAY, row

from seatworthy.rules.compound_rules import GuessingRule, ShareRule
from seatworthy.rules.guessing import chance_by_guessing, chance_halfway, judge_guessing
from seatworthy.rules.share import judge_share
from seatworthy.rules.verdict import Standing
from seatworthy.stats.guessing import guess_rate

SHARE = ShareRule(share=0.55, glasses=10, days=3)
GUESSING = GuessingRule(improbable=0.05, glasses=6, days=2)


def by_share(pattern, rule=SHARE, per_day=2):
    return judge_share(row(pattern, per_day), TODAY, rule, COUNTED)


def by_guessing(pattern, rule=GUESSING, per_day=2, method="triangle"):
    return judge_guessing(row(pattern, per_day, method=method), TODAY, rule, COUNTED)


# Share


@pytest.mark.parametrize(
    ("right", "standing"), [(11, Standing.MET), (10, Standing.NOT_MET), (0, Standing.NOT_MET)]
)
def test_eleven_of_twenty_are_55_percent_and_ten_are_not(right, standing):
    """In floats 0.55 x 20 is a bit more than 11; the share is met all the same."""
    assert by_share("1" * right + "0" * (20 - right)).standing is standing


@pytest.mark.parametrize(("glasses", "standing"), [(10, Standing.MET), (9, Standing.TOO_LITTLE)])
def test_a_share_needs_its_glasses_to_be_met(glasses, standing):
    assert by_share("1" * glasses).standing is standing


@pytest.mark.parametrize(
    ("glasses", "standing"), [(10, Standing.NOT_MET), (9, Standing.TOO_LITTLE)]
)
def test_a_share_needs_its_glasses_to_be_not_met(glasses, standing):
    assert by_share("0" * glasses).standing is standing


@pytest.mark.parametrize(("per_day", "standing"), [(4, Standing.MET), (5, Standing.TOO_LITTLE)])
def test_a_share_needs_its_days(per_day, standing):
    assert by_share("1" * 10, per_day=per_day).standing is standing


def test_a_share_says_its_numbers_and_its_glasses():
    found = by_share("11111011")
    assert found.verdict.sentence == (
        "7 of 8 glasses named right over 4 days; judged from 10 glasses over 3 days on."
    )
    assert len(found.behind) == 8


def test_a_share_met_today_is_fresh():
    found = by_share("1111101110")
    assert found.verdict.sentence == "8 of 10 glasses named right (80%); 55% are asked for."
    assert (found.met_on, found.is_fresh) == (TODAY, True)


def test_a_share_not_met_has_no_day_but_its_glasses():
    found = by_share("0" * 10)
    assert (found.met_on, found.is_fresh, len(found.behind)) == (None, False, 10)


# Guessing


@pytest.mark.parametrize(("right", "standing"), [(5, Standing.MET), (4, Standing.TOO_LITTLE)])
def test_five_of_six_triangles_beat_guessing_and_four_do_not(right, standing):
    """By hand: P(5 or more of 6) = 13/729 = .018; P(4 or more) = 73/729 = .10."""
    assert by_guessing("1" * right + "0" * (6 - right)).standing is standing


@pytest.mark.parametrize(("right", "standing"), [(1, Standing.NOT_MET), (2, Standing.TOO_LITTLE)])
def test_it_is_not_met_only_if_so_few_are_improbable_halfway_up(right, standing):
    """By hand, at 2/3: P(1 or fewer of 6) = 13/729 = .018; P(2 or fewer) = 73/729 = .10."""
    assert by_guessing("1" * right + "0" * (6 - right)).standing is standing


def test_so_few_exactly_at_the_limit_is_not_yet_not_met():
    rule = replace(GUESSING, improbable=13 / 729)
    assert by_guessing("100000", rule).standing is Standing.TOO_LITTLE
    assert by_guessing("000000", rule).standing is Standing.NOT_MET


def test_so_many_exactly_at_the_limit_is_met():
    assert by_guessing("111110", replace(GUESSING, improbable=13 / 729)).standing is Standing.MET
    below = replace(GUESSING, improbable=13 / 729 - 1e-6)
    assert by_guessing("111110", below).standing is Standing.TOO_LITTLE


@pytest.mark.parametrize(("sets", "standing"), [(6, Standing.MET), (5, Standing.TOO_LITTLE)])
def test_guessing_needs_its_sets_to_be_met(sets, standing):
    assert by_guessing("1" * sets).standing is standing


@pytest.mark.parametrize(("sets", "standing"), [(6, Standing.NOT_MET), (5, Standing.TOO_LITTLE)])
def test_guessing_needs_its_sets_to_be_not_met(sets, standing):
    assert by_guessing("0" * sets).standing is standing


@pytest.mark.parametrize(("per_day", "standing"), [(5, Standing.MET), (6, Standing.TOO_LITTLE)])
def test_guessing_needs_its_days(per_day, standing):
    assert by_guessing("111111", per_day=per_day).standing is standing


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.sampled_from(["3afc", "triangle", "duo_trio", "2afc"]), min_size=1, max_size=6),
    st.data(),
)
def test_mixed_methods_are_added_up_exactly(methods, data):
    """Against every outcome counted one by one."""
    right = data.draw(st.integers(0, len(methods)))
    sets = [
        replace(one, method=method)
        for one, method in zip(
            row("1" * right + "0" * (len(methods) - right)), methods, strict=True
        )
    ]
    rates = [guess_rate(method) for method in methods]
    halfway = [(1 + rate) / 2 for rate in rates]
    assert chance_by_guessing(sets) == pytest.approx(_chance(rates, lambda n: n >= right))
    assert chance_halfway(sets) == pytest.approx(_chance(halfway, lambda n: n <= right))


def _chance(rates, counts):
    total = 0.0
    for answers in product((0, 1), repeat=len(rates)):
        chance = 1.0
        for rate, answer in zip(rates, answers, strict=True):
            chance *= rate if answer else 1 - rate
        total += chance * counts(sum(answers))
    return total


def test_guessing_beaten_today_is_fresh_and_says_its_chance():
    found = by_guessing("111110")
    assert (found.met_on, found.is_fresh, len(found.behind)) == (TODAY, True, 6)
    assert found.verdict.sentence == (
        "5 of 6 sets right; by guessing alone that or better has a chance of 2%, at most 5% is "
        "asked for."
    )


def test_guessing_says_both_chances_where_it_is_not_met():
    assert by_guessing("100000").verdict.sentence == (
        "1 of 6 sets right; by guessing alone that or better has a chance of 91%, at most 5% is "
        "asked for. Somebody halfway between guessing and always right would get so few with a "
        "chance of 2%."
    )


def test_too_few_sets_are_counted_with_their_days():
    assert by_guessing("101").verdict.sentence == (
        "2 of 3 sets right over 2 days; judged from 6 sets over 2 days on."
    )
