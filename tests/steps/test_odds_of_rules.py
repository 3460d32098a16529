"""Odds of single rules against the rules themselves, on every row of answers where there are few."""

from datetime import date, timedelta
from itertools import pairwise, product

import numpy as np
import pytest
from scipy.stats import beta, binom, gamma

from seatworthy.rules.by_counting import judge_by_counting
from seatworthy.rules.compound import After, CellDay, judge_compound
from seatworthy.rules.compound_rules import (
    Counted,
    GuessingRule,
    KOfNRule,
    SequentialRule,
    ShareRule,
    ThresholdRule,
)
from seatworthy.rules.facts import Glass, OwnEstimate, RatedPair, RatedSeries
from seatworthy.rules.person_rules import (
    DuplicateDifference,
    DuplicateShare,
    FalseCallShare,
    OrderRule,
)
from seatworthy.rules.rated import judge_difference, judge_order, swaps_in
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.rules.rulebook import Asked
from seatworthy.rules.threshold_band import judge_threshold
from seatworthy.rules.verdict import Standing
from seatworthy.stats.ability.simulated_looks import all_runs, chance_at_looks
from seatworthy.steps.odds_compound import compound_odds, threshold_standings
from seatworthy.steps.odds_person import (
    agreement_odds,
    difference_odds,
    false_call_odds,
    order_standings,
    square_standings,
)
from seatworthy.steps.odds_year import days_poured, naming_kinds, window_starts

ASKED, COUNTING = Asked(), Counted(2.0, 4.0, 12)
DEFAULT = rulebook_on_menu("default")
CRITICAL = DEFAULT.critical
THREE = ("triangle",)


def looked_at(says, days):
    """Standing after each distinct day; `says` is asked for the places so far and the day."""
    looks = sorted(set(days))
    return [says(sum(one <= look for one in days), look) for look in looks]


def facts(standings):
    return (
        standings[-1] is Standing.MET,
        Standing.MET in standings,
        standings[-1] is Standing.NOT_MET,
        Standing.NOT_MET in standings,
    )


def judged_row_by_row(rule, days, rates):
    """Every row of answers, judged by the rule on every day poured."""
    total = np.zeros((4, len(rates)))
    method = rule.methods[0]
    for row in product((False, True), repeat=len(days)):
        glasses = [
            Glass(f"{place:02}", day, f"s{day}", "dms", method, 3.0, is_right)
            for place, (day, is_right) in enumerate(zip(days, row, strict=True))
        ]

        def says(number, look, glasses=glasses):
            return judge_by_counting(glasses[:number], (), look, rule, COUNTING).standing

        weight = rates ** sum(row) * (1 - rates) ** (len(days) - sum(row))
        total += np.outer(facts(looked_at(says, days)), weight)
    return total


RULES = {
    "windows apart": KOfNRule(right=3, of=3, leave_at=1, windows="apart"),
    "windows sliding": KOfNRule(right=3, of=4, leave_at=1, windows="sliding"),
    "sliding in half a year": KOfNRule(right=2, of=3, leave_at=0, windows="sliding", months=6),
    "sliding in four months": KOfNRule(right=2, of=2, leave_at=0, windows="sliding", months=4),
    "sliding over two days": KOfNRule(right=2, of=2, leave_at=0, windows="sliding", days=2),
    "share": ShareRule(share=0.7, glasses=3, days=3),
    "share of the last sessions": ShareRule(share=0.6, glasses=2, last_sessions=3),
    "sliding over the last sessions": KOfNRule(
        right=2, of=2, leave_at=0, windows="sliding", last_sessions=3
    ),
    "windows apart in a quarter": KOfNRule(right=2, of=2, leave_at=0, windows="apart", months=3),
    "share in half a year": ShareRule(share=0.6, glasses=2, days=2, months=6),
    "guessing in half a year": GuessingRule(methods=THREE, improbable=0.12, glasses=2, months=6),
    "sequential in half a year": SequentialRule(
        methods=THREE, poor=0.34, good=0.8, wrongly_met=0.3, wrongly_not_met=0.3, months=6
    ),
    "guessing": GuessingRule(methods=THREE, improbable=0.05, glasses=4),
    "sequential": SequentialRule(
        methods=THREE, poor=0.34, good=0.8, wrongly_met=0.2, wrongly_not_met=0.2
    ),
}


@pytest.mark.parametrize("name", RULES)
@pytest.mark.parametrize("sessions", [4, 40])
def test_odds_of_counting_rules_are_those_of_the_rule_on_every_row_of_answers(name, sessions):
    rule, days = RULES[name], days_poured(5, sessions)
    found = compound_odds(rule, ASKED, COUNTING, 5, sessions)
    rates = np.array([kind.truth for kind in found.kinds])
    assert found.how.startswith("exact")
    assert np.allclose(found.odds, judged_row_by_row(rule, days, rates), rtol=0, atol=1e-9)


def test_odds_by_chance_are_those_of_the_rule_on_every_row_of_answers():
    """The chances come from the model; which standing follows, day by day, from the whole rule."""
    found = compound_odds(DEFAULT.compound, DEFAULT.asked, DEFAULT.counted, 6, 6)
    days, rows = days_poured(6, 6), all_runs([0.5], 6).right
    chances = chance_at_looks(rows, [day.toordinal() for day in days])
    total = np.zeros((4, len(found.kinds)))
    rates = np.array([kind.truth for kind in found.kinds])
    for row, chance in zip(rows, chances.tolist(), strict=True):
        cells = [CellDay(day, chance[n], n + 1, 0, n + 1) for n, day in enumerate(days)]
        standings = [
            judge_compound(cells[:n], cells[n], [], After(()), DEFAULT, DEFAULT.compound).standing
            for n in range(6)
        ]
        weight = rates ** row.sum() * (1 - rates) ** (6 - row.sum())
        total += np.outer(facts(standings), weight)
    assert 0.1 < total[0, 3] < 0.9
    assert total[3, 0] > 0.5
    assert np.allclose(found.odds, total, rtol=0, atol=1e-9)


def test_a_share_in_half_a_year_of_many_glasses_is_simulated_close_to_the_binomial():
    rule = ShareRule(share=0.7, glasses=2, months=6)
    found = compound_odds(rule, ASKED, COUNTING, 24, 24)
    rates = np.array([kind.truth for kind in found.kinds])
    assert found.how == "simulated, 2,000 years for each kind of person"
    assert window_starts(days_poured(24, 24), 6)[-1] == 24 - 13
    truth = binom.sf(9, 13, rates)
    assert np.all(np.abs(found.odds.met_at_end - truth) < 5 * np.sqrt(0.25 / 2000))


def test_a_sliding_window_too_long_to_be_exact_is_simulated_close_to_the_binomial():
    rule = KOfNRule(right=13, of=15, leave_at=9, windows="sliding")
    found = compound_odds(rule, ASKED, COUNTING, 15, 15)
    rates = np.array([kind.truth for kind in found.kinds])
    assert found.how == "simulated, 2,000 years for each kind of person"
    assert np.all(
        np.abs(found.odds.met_at_end - binom.sf(12, 15, rates)) < 5 * np.sqrt(0.25 / 2000)
    )


def test_windows_apart_in_half_a_year_are_put_to_the_rule_itself():
    rule = KOfNRule(right=3, of=4, leave_at=1, windows="apart", months=6)
    found = compound_odds(rule, ASKED, COUNTING, 12, 12)
    sure = np.array([kind.truth for kind in found.kinds])
    assert found.how == "simulated, 60 years for each kind of person"
    truth = binom.sf(2, 4, sure)
    truth = truth + (1 - truth - binom.cdf(1, 4, sure)) * truth
    assert np.all(np.abs(found.odds.met_at_end - truth) < 5 * np.sqrt(0.25 / 60))


def random_years(rng, kinds=2, years=6, number=9):
    return np.exp2(rng.normal(size=(kinds, years, number)))


def by_the_rule(values, days, judge):
    """Share of years by standing, each look of each year judged by the rule itself."""
    return np.transpose([
        np.mean([facts(looked_at(lambda n, look, y=year: judge(y[:n], look), days)) for year in kind], axis=0)
        for kind in values
    ])  # fmt: skip


def test_threshold_odds_are_those_of_the_rule_itself():
    rule = ThresholdRule(0.5, 2.0, 2.3, estimates=3, days=2, last_estimates=5, months=6)
    days, years = days_poured(9, 40), random_years(np.random.default_rng(3))

    def judge(seen, look):
        own = [OwnEstimate(day, one) for day, one in zip(days, seen.tolist(), strict=False)]
        return judge_threshold(own, look, rule, COUNTING).standing

    truth = by_the_rule(years, days, judge)
    assert 0 < truth[0].mean() < 1
    assert np.allclose(threshold_standings(years, days, rule), truth)


def test_odds_of_mean_squares_are_those_of_the_rule_itself():
    rule = DuplicateDifference(at_most=1.5, pairs=3, months=6)
    days, years = days_poured(9, 40), random_years(np.random.default_rng(4))

    def judge(seen, look):
        pairs = [RatedPair(day, one, 0.0) for day, one in zip(days, seen.tolist(), strict=False)]
        return judge_difference(pairs, look, rule).standing

    truth = by_the_rule(years, days, judge)
    assert 0 < truth[0].mean() < 1
    found = square_standings(years**2, days, rule.at_most, rule.pairs, rule.months)
    assert np.allclose(found, truth)


def test_mean_squares_at_the_years_end_follow_the_chi_square():
    found = difference_odds(DuplicateDifference(at_most=2.0, pairs=6, months=12), 20)
    truth = gamma.cdf(10 / np.array([kind.truth for kind in found.kinds]), 10)
    assert np.all(np.abs(found.odds.met_at_end - truth) < 5 * np.sqrt(0.25 / 2000))


def test_odds_of_order_are_those_of_the_rule_itself():
    rule = OrderRule(swaps_at_most=0, series=2, months=6)
    days, rng = days_poured(6, 40), np.random.default_rng(5)
    ratings = rng.normal(size=(2, 8, 6, 3)) + 2 * np.arange(3)

    def judge(seen, look):
        rows = zip(days, seen.tolist(), strict=False)
        return judge_order([RatedSeries(d, "dms", tuple(r)) for d, r in rows], look, rule).standing

    truth = by_the_rule(ratings, days, judge)
    swaps = [
        [[swaps_in(RatedSeries(days[0], "", tuple(r))) for r in y] for y in k] for k in ratings
    ]
    assert 0 < truth[0].mean() < 1
    assert np.allclose(order_standings(np.array(swaps), days, rule), truth)


def test_false_calls_at_the_years_end_are_binomial():
    """The default asks for a chance of .75 of at most 20 %: up to 6 calls in 40 by Beta(.5, .5)."""
    found = false_call_odds(DEFAULT.false_calls, 40, 20)
    rates = np.array([kind.truth for kind in found.kinds])
    within = beta.cdf(0.2, np.arange(41) + 0.5, 40 - np.arange(41) + 0.5)
    most = np.flatnonzero(within >= 0.75).max()
    assert most == 6
    assert np.allclose(found.odds.met_at_end, binom.cdf(most, 40, rates), atol=1e-12)
    assert found.how == "exact"


def test_a_bare_share_of_false_calls_is_binomial_too():
    rule = FalseCallShare(ceiling=0.1, blanks=10, months=12)
    found = false_call_odds(rule, 30, 30)
    rates = np.array([kind.truth for kind in found.kinds])
    assert np.allclose(found.odds.met_at_end, binom.cdf(3, 30, rates), atol=1e-12)


def test_with_too_few_blanks_nobody_is_judged():
    found = false_call_odds(DEFAULT.false_calls, DEFAULT.false_calls.blanks - 1, 20)
    assert not np.any(found.odds)
    found = false_call_odds(DEFAULT.false_calls, DEFAULT.false_calls.blanks, 20)
    assert np.all(found.odds.met_at_end[3:5] > 0.5)


def test_a_share_of_agreeing_pairs_is_binomial():
    """Our own earlier figure: 75 % of 6 pairs, so 5 of 6, fails 62 % of true 80 % tasters."""
    kinds = naming_kinds(Asked(named_right=0.80))
    found = agreement_odds(DuplicateShare(share=0.75, pairs=6, months=12), kinds, 6)
    at = [kind.truth for kind in kinds].index(0.80)
    alike = 0.8**2 + 0.2**2
    assert found.odds.not_met_at_end[at] == pytest.approx(binom.cdf(4, 6, alike), abs=1e-12)
    assert found.odds.not_met_at_end[at] == pytest.approx(0.62, abs=0.005)


def test_a_flag_on_duplicates_is_no_oftener_than_it_says_at_one_look():
    found = agreement_odds(DEFAULT.duplicates, naming_kinds(ASKED), 40)
    assert np.all(found.odds.not_met_at_end < DEFAULT.duplicates.improbable)
    assert "would be flagged" in found.sentence


def test_glasses_are_spread_evenly_and_the_last_is_poured_on_the_last_day():
    days = days_poured(4, 40)
    steps = [after - before for before, after in pairwise(days)]
    assert max(steps) - min(steps) <= timedelta(days=1)
    assert days[-1] - date(2026, 1, 1) == timedelta(days=365)
    assert len(set(days_poured(12, 5))) == 5
    assert days_poured(0, 5) == ()
