"""Odds of the rules that concern a person: false calls, duplicates, deviation, order of levels."""

from collections.abc import Sequence
from datetime import date
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.rules.duplicates import DuplicateCounts, judge_duplicates
from seatworthy.rules.false_calls import BlankCounts, judge_false_calls
from seatworthy.rules.person_rules import (
    DeviationRule,
    DuplicateDifference,
    DuplicateRule,
    DuplicateShare,
    FalseCallRule,
    FalseCallShare,
    OrderRule,
)
from seatworthy.rules.rated import SHORTEST_SERIES
from seatworthy.rules.verdict import Standing
from seatworthy.stats.agreement import expected_agreement
from seatworthy.stats.false_calls import chance_false_calls_within
from seatworthy.stats.guessing import binomial_tail
from seatworthy.stats.looks import Odds
from seatworthy.steps.odds_words import of_ten
from seatworthy.steps.odds_year import (
    DRAWN,
    Floats,
    Found,
    Kind,
    days_poured,
    found_at_rates,
    glasses_so_far,
    how_drawn,
    odds_of_counts,
    odds_of_looks,
    sum_in_window,
    window_starts,
)

CALL_RATES: Final = (0.40, 0.20, 0.10, 0.05, 0.02)
CALLS_OF_THE_GOOD: Final = 0.05  # assumed of a true 60 % and a true 85 % in the odds of a seat
SERIES_A_YEAR: Final = 12
_TIMES_THE_LIMIT: Final = MappingProxyType(
    {
        4.0: "four times the limit",
        2.0: "twice the limit",
        1.0: "just the limit",
        0.5: "half the limit",
        0.25: "a quarter of the limit",
    }
)
_LEVELS_APART: Final = (1.0, 2.0, 3.0, 4.0)  # in SDs of one rating
_ROUNDING: Final = 1e-9  # as in the rule: a mean that stands exactly on the limit is within it


def false_call_odds(rule: FalseCallRule | FalseCallShare, blanks: int, sessions: int) -> Found:
    """What the rule on blanks does to people who call something in 40 to 2 of 100 blanks."""
    kinds = [Kind(f"call something in {100 * rate:g} of 100 blanks", rate) for rate in CALL_RATES]
    kinds.append(Kind("call something in every blank", 1.0))
    ceiling = rule.ceiling if isinstance(rule, FalseCallRule) else 0.5  # a share asks no chance

    def says(seen: range, quiet: int) -> Standing:
        number, called = len(seen), len(seen) - quiet
        within = chance_false_calls_within(called, number, ceiling)
        return judge_false_calls(BlankCounts(number, called, 0, float(within)), rule).standing

    quiet = 1 - np.array([kind.truth for kind in kinds])
    odds, how = odds_of_counts(quiet, days_poured(blanks, sessions), rule.months, says)
    return Found(tuple(kinds), odds, how, "No call may be the beer's own.", for_seat=(5, 3, 3))


def agreement_odds(
    rule: DuplicateRule | DuplicateShare, kinds: tuple[Kind, ...], sessions: int
) -> Found:
    """What the rule on hidden pairs does to people with constant rates of right answers.

    Args:
        rule: The rule.
        kinds: From `naming_kinds`.
        sessions: Sessions, each with one hidden pair.
    """
    rates = np.array([kind.truth for kind in kinds])
    alike, days, each = expected_agreement(rates), days_poured(sessions, sessions), []
    for chance in alike:

        def says(seen: range, agreed: int, chance: float = float(chance)) -> Standing:
            number = len(seen)
            so_few = 1 - float(binomial_tail(agreed + 1, number, chance)) if agreed < number else 1
            counts = DuplicateCounts(number, agreed, number * chance, so_few)
            return judge_duplicates(counts, rule).standing

        odds, how = odds_of_counts(np.array([chance]), days, rule.months, says)
        each.append(odds)
    assumed = "One hidden pair in every session; somebody's own rate is taken as known."
    joined, sentence = Odds(*np.hstack(each)), ""
    if isinstance(rule, DuplicateRule):
        flagged = of_ten(float(joined.ever_not_met.max()))
        sentence = f"Of ten people with constant rates, {flagged} would be flagged within a year."
    return found_at_rates(kinds, joined, how, assumed, sentence)


def difference_odds(rule: DuplicateDifference, sessions: int) -> Found:
    """What the rule on pairs of ratings does where ratings scatter normally."""
    assumed = "One hidden pair of ratings in every session; ratings scatter normally."
    return _of_squares(rule.at_most, rule.pairs, rule.months, sessions, assumed)


def deviation_odds(rule: DeviationRule, sessions: int) -> Found:
    """What the rule on distances from the median does where they are normal."""
    assumed = "One rated glass in every session; its distance from the median is normal about 0."
    return _of_squares(rule.at_most, rule.glasses, rule.months, sessions, assumed)


def order_odds(rule: OrderRule, sessions: int) -> Found:
    """What the rule on the order of levels does where ratings scatter normally."""
    kinds = (
        Kind("rate all levels alike", 0.0),
        *(Kind(f"rate neighbouring levels {apart:g} times their scatter apart", apart)
          for apart in _LEVELS_APART),
    )  # fmt: skip
    days = days_poured(min(SERIES_A_YEAR, sessions), sessions)
    luck = np.random.default_rng(1).normal(size=(DRAWN, len(days), SHORTEST_SERIES))
    truth = np.array([kind.truth for kind in kinds])
    ratings = luck + truth[:, None, None, None] * np.arange(SHORTEST_SERIES)
    swaps = (np.diff(ratings, axis=3) < 0).sum(axis=3)
    odds = order_standings(swaps, days, rule)
    assumed = (
        f"Series of {SHORTEST_SERIES} levels, {len(days)} in the year; ratings scatter normally, "
        "as much at every level."
    )
    return Found(kinds, odds, how_drawn(DRAWN), assumed)


def order_standings(swaps: NDArray[np.intp], days: Sequence[date], rule: OrderRule) -> Odds:
    """Odds of the rule on order, from the swaps in each series; shape (R, years, series)."""
    so_far, before = glasses_so_far(days), window_starts(days, rule.months)
    too_many = sum_in_window(swaps > rule.swaps_at_most, so_far, before)
    is_enough = so_far - before >= max(rule.series, 1)
    return odds_of_looks(is_enough & (too_many == 0), is_enough & (too_many > 0))


def square_standings(
    squares: Floats, days: Sequence[date], at_most: float, least: int, months: int
) -> Odds:
    """Odds of a rule on mean squares, from the squares themselves; shape (R, years, n)."""
    so_far, before = glasses_so_far(days), window_starts(days, months)
    number = so_far - before
    is_within = sum_in_window(squares, so_far, before) <= number * (at_most + _ROUNDING)
    is_enough = number >= max(least, 1)
    return odds_of_looks(is_enough & is_within, is_enough & ~is_within)


def _of_squares(at_most: float, least: int, months: int, sessions: int, assumed: str) -> Found:
    """Kinds of people by their true mean square, a multiple of the greatest that is allowed."""
    kinds = tuple(
        Kind(f"have a true mean square of {words}", times)
        for times, words in _TIMES_THE_LIMIT.items()
    )
    days = days_poured(sessions, sessions)
    luck = np.random.default_rng(1).normal(size=(DRAWN, len(days)))
    truth = np.array([kind.truth for kind in kinds]) * at_most
    odds = square_standings(truth[:, None, None] * luck**2, days, at_most, least, months)
    return Found(kinds, odds, how_drawn(DRAWN), assumed)
