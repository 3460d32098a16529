"""Judges ratings: of hidden pairs, beside the panel's median, and in the order of their levels."""

from collections.abc import Sequence
from datetime import date
from statistics import fmean
from typing import Final, TypeVar

from seatworthy.rules.compound import day_text
from seatworthy.rules.counting import ROUNDING, first_day_counted, last_day_counted, number_beside
from seatworthy.rules.facts import RatedGlass, RatedPair, RatedSeries
from seatworthy.rules.person_rules import DeviationRule, DuplicateDifference, OrderRule
from seatworthy.rules.verdict import Standing, Verdict, counted

DUPLICATES: Final = "duplicates"
DEVIATION: Final = "deviation"
ORDER: Final = "order"
SHORTEST_SERIES: Final = 3  # two levels can only be swapped or not
MOST_TRIED: Final = 100

Dated = TypeVar("Dated", RatedPair, RatedGlass, RatedSeries)


def judge_difference(pairs: Sequence[RatedPair], today: date, rule: DuplicateDifference) -> Verdict:
    """Mean squared difference of hidden pairs: met at the limit or below.

    Args:
        pairs: Pairs of ratings of one panellist, in any order.
        today: The day asked; later pairs do not count.
        rule: The rule in force.

    Source:
        Sum of (x1 - x2)^2 over the pairs, by their number: the repeatability figure of olive-oil
        panels (IOC), from memory; check the standard itself.
    """
    squares = [(p.first - p.second) ** 2 for p in _recent(pairs, today, rule.months)]
    words = ("hidden pair", "mean squared difference", "without a difference")
    return _judge_mean(DUPLICATES, squares, (rule.pairs, rule.at_most, rule.months), words)


def judge_deviation(glasses: Sequence[RatedGlass], today: date, rule: DeviationRule) -> Verdict:
    """Mean squared distance from the panel's median: met at the limit or below.

    Args:
        glasses: Rated glasses of one panellist, each with the median of its sample, in any order.
        today: The day asked; later glasses do not count.
        rule: The rule in force.

    Source:
        Sum of (x - median)^2 over the glasses, by their number: the deviation figure of olive-oil
        panels (IOC), from memory; check the standard itself.
    """
    squares = [(g.rating - g.median) ** 2 for g in _recent(glasses, today, rule.months)]
    words = ("rated glass", "mean squared distance from the panel's median", "on the median")
    return _judge_mean(DEVIATION, squares, (rule.glasses, rule.at_most, rule.months), words)


def judge_order(series: Sequence[RatedSeries], today: date, rule: OrderRule) -> Verdict:
    """The series with the most swaps decides: met with no more of them than allowed.

    Series of fewer than three levels say nothing. Equal ratings of neighbours are no swap.

    Args:
        series: Rated series of one panellist, in any order.
        today: The day asked; later series do not count.
        rule: The rule in force.
    """
    recent = _recent(series, today, rule.months)
    seen = [one for one in recent if len(one.ratings) >= SHORTEST_SERIES]
    if len(seen) < rule.series:
        missing = rule.series - len(seen)
        sentence = f"{len(seen) or 'No'} rated series in {counted(rule.months, 'month')}; "
        sentence += f"judged from {rule.series} on."
        change = f"{missing} more of three levels or more in ascending order could meet it."
        return Verdict(ORDER, Standing.TOO_LITTLE, sentence, change)
    worst = max(seen, key=lambda one: (swaps_in(one), one.day))
    sentence = (
        f"{counted(swaps_in(worst), 'swap').capitalize()} of neighbours in the worst of "
        f"{len(seen)} rated series, on {day_text(worst.day)}; {rule.swaps_at_most or 'none'} "
        f"at most."
    )
    if swaps_in(worst) <= rule.swaps_at_most:
        return Verdict(ORDER, Standing.MET, sentence)
    return Verdict(ORDER, Standing.NOT_MET, sentence, _after_the_swaps(seen, rule))


def swaps_in(series: RatedSeries) -> int:
    """Neighbouring levels of which the stronger was rated lower."""
    pairs = zip(series.ratings, series.ratings[1:], strict=False)
    return sum(weaker > stronger for weaker, stronger in pairs)


def _after_the_swaps(seen: Sequence[RatedSeries], rule: OrderRule) -> str:
    """A series too far out of order counts as long as it lies in the window."""
    latest = max(one.day for one in seen if swaps_in(one) > rule.swaps_at_most)
    ends = day_text(last_day_counted(latest, rule.months))
    return (
        f"The series of {day_text(latest)} counts until {ends}; after that {rule.series} in "
        "order could meet it."
    )


def _judge_mean(
    name: str,
    squares: Sequence[float],
    limits: tuple[int, float, int],
    words: tuple[str, str, str],
) -> Verdict:
    """A mean of squares within its limit, on enough of them; limits: least number, most, months."""
    least, at_most, months = limits
    thing, figure, _ = words
    number, change = counted(len(squares), thing), _way(squares, limits, words)
    if len(squares) < least:
        sentence = f"{number} in {counted(months, 'month')}; judged from {least} on."
        return Verdict(name, Standing.TOO_LITTLE, sentence.capitalize(), change)
    mean = fmean(squares)
    sentence = (
        f"{figure.capitalize()} of {number} {number_beside(mean, at_most)}; at most {at_most:g}."
    )
    if mean <= at_most + ROUNDING:
        return Verdict(name, Standing.MET, sentence)
    return Verdict(name, Standing.NOT_MET, sentence, change)


def _way(
    squares: Sequence[float], limits: tuple[int, float, int], words: tuple[str, str, str]
) -> str:
    """The fewest further ones at zero that bring number and mean to their limits, by trying."""
    least, at_most, _ = limits
    thing, _, at_best = words
    for more in range(1, MOST_TRIED + 1):
        number = len(squares) + more
        if number >= least and sum(squares) / number <= at_most + ROUNDING:
            return f"{counted(more, f'more {thing}')} {at_best} could meet it."
    return f"More than {MOST_TRIED} {at_best} would be needed: train first."


def _recent(dated: Sequence[Dated], today: date, months: int) -> list[Dated]:
    """Those in the window of months that ends today."""
    first = first_day_counted(today, months)
    return [one for one in dated if first <= one.day <= today]
