"""Odds of the rules that judge a compound, of which there are six kinds."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.rules.by_counting import question
from seatworthy.rules.compound import CellDay, is_met_afresh, is_not_met, last_met_day
from seatworthy.rules.compound_rules import (
    NAMING,
    ChanceRule,
    CompoundRule,
    Counted,
    Glasses,
    GuessingRule,
    KOfNRule,
    SequentialRule,
    ShareRule,
    ThresholdRule,
)
from seatworthy.rules.counting import levels_of, months_of
from seatworthy.rules.facts import Glass
from seatworthy.rules.rulebook import Asked
from seatworthy.rules.verdict import Standing
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.simulated_looks import chance_at_looks
from seatworthy.stats.looks import MOST_BITS, Odds, apart_windows, sequential_run, sliding_window
from seatworthy.stats.sequential import wald_lines
from seatworthy.steps.odds_year import (
    DRAWN,
    MONTHS,
    Floats,
    Found,
    Kind,
    by_guessing,
    days_poured,
    found_at_rates,
    glasses_so_far,
    how_drawn,
    looks_of,
    naming_kinds,
    odds_of_counts,
    odds_of_looks,
    weighed,
    window_starts,
    years_of,
)

_GLASSES_DRAWN: Final = 4800  # years of 12 glasses are drawn 400 times, of 24 glasses 200 times
_FEWEST, _MOST = 100, 400
_DRAWN_ONE_BY_ONE: Final = 60  # where every day of every year is put to the rule itself
_ROUNDING: Final = 1e-9  # as in the rule, in log10
_SPREAD: Final = 2.0  # antilog SD of somebody's own threshold from day to day
LONGEST: Final = 60  # months; any year lies within


@dataclass(frozen=True)
class Poured:
    """What one person gets of one compound in a year, and what the rulebook says of it.

    Attributes:
        days: Day of each glass.
        asked: What the estimate is asked.
        counting: Which glasses count.
    """

    days: tuple[date, ...]
    asked: Asked
    counting: Counted


def compound_odds(
    rule: CompoundRule, asked: Asked, counting: Counted, glasses: int, sessions: int
) -> Found:
    """What a rule does to somebody who guesses, and to a true 50, 70, 85 and 95 %.

    Args:
        rule: The rule.
        asked: What the estimate is asked; its rate stands in place of the 70 %.
        counting: Which glasses count.
        glasses: Counted glasses in the year; own estimates for a rule of thresholds.
        sessions: Sessions in the year.
    """
    poured = Poured(days_poured(glasses, sessions), asked, counting)
    if isinstance(rule, ThresholdRule):
        return _of_thresholds(rule, poured)
    kinds = naming_kinds(asked, _method(rule))
    rates = np.array([kind.truth for kind in kinds])
    judged = _by_chance if isinstance(rule, ChanceRule) else _by_counting
    odds, how = judged(rule, poured, rates)
    return found_at_rates(kinds, odds, how, _assumed(rule, asked))


def _method(rule: ChanceRule | Glasses) -> str:
    """The method that is poured: naming where it counts, else the first that does."""
    if isinstance(rule, ChanceRule) or NAMING in rule.methods:
        return NAMING
    return rule.methods[0]


def _assumed(rule: ChanceRule | Glasses, asked: Asked) -> str:
    if isinstance(rule, ChanceRule):
        others = " Colleagues' answers are left aside." if rule.answers == "pooled" else ""
        return (
            f"Every glass is poured at {asked.reference_level:g}× and counts; in one that is not "
            f"named right nothing is noticed; who guesses hits one name of {DEFAULT.names}.{others}"
        )
    method = _method(rule)
    if method == NAMING:
        return f"Who guesses hits one name of {DEFAULT.names}."
    return f"Every set is a {method}; guessing gets {100 * by_guessing(method):.0f} in 100 right."


def _by_chance(rule: ChanceRule, poured: Poured, rates: Floats) -> tuple[Odds, str]:
    number, asked = len(poured.days), poured.asked
    drawn = min(max(_GLASSES_DRAWN // max(number, 1), _FEWEST), _MOST)
    runs, how = years_of(rates, number, drawn)
    if not number:
        return Odds(*np.zeros((4, rates.size))), how
    settings = replace(DEFAULT, reference_level=asked.reference_level, p_min=asked.named_right)
    day = [one.toordinal() - poured.days[0].toordinal() for one in poured.days]
    chance = chance_at_looks(runs.right, day, settings)
    windows = _windows(poured)
    told = [
        _told(_cell_days(right, seen, windows), rule)
        for right, seen in zip(runs.right.tolist(), chance.tolist(), strict=True)
    ]
    return Odds(*(runs.weight @ np.array(told, dtype=np.float64)).T), how


Window = tuple[date, int, int, int]  # day of the look, first glass and the one after the last, days


def _windows(poured: Poured) -> list[Window]:
    """The glasses that count at each look."""
    days, months = poured.days, poured.counting.months
    spans = list(zip(window_starts(days, months), glasses_so_far(days), strict=True))
    distinct = [len(set(days[start:end])) for start, end in spans]
    return [
        (look, int(start), int(end), number)
        for look, (start, end), number in zip(looks_of(days), spans, distinct, strict=True)
    ]


def _cell_days(
    right: Sequence[bool], chance: Sequence[float], windows: Sequence[Window]
) -> list[CellDay]:
    return [
        CellDay(look, one, end - start, sum(right[start:end]), number)
        for one, (look, start, end, number) in zip(chance, windows, strict=True)
    ]


def _told(cells: Sequence[CellDay], rule: ChanceRule) -> tuple[bool, bool, bool, bool]:
    """Met at the end and ever, not met at the end and ever."""
    is_met = last_met_day(cells, rule) is not None
    return (
        is_met,
        any(is_met_afresh(cell, rule) for cell in cells),
        not is_met and is_not_met(cells[-1], rule),
        any(is_not_met(cell, rule) for cell in cells),
    )


def _by_counting(rule: Glasses, poured: Poured, rates: Floats) -> tuple[Odds, str]:
    """Exact where that can be, else many years, where need be put to the rule itself."""
    days, months = poured.days, months_of(rule, poured.counting)
    is_whole = months >= MONTHS and rule.last_sessions is None
    if isinstance(rule, ShareRule | GuessingRule):
        return odds_of_counts(rates, days, months, _count_says(rule, poured), rule.last_sessions)
    if isinstance(rule, SequentialRule) and is_whole:
        lines = wald_lines(rule.poor, rule.good, rule.wrongly_met, rule.wrongly_not_met)
        return sequential_run(rates, lines, len(days)), "exact"
    if isinstance(rule, KOfNRule) and rule.windows == "sliding":
        return _sliding(rule, poured, rates)
    if isinstance(rule, KOfNRule) and is_whole and _has_days(rule, days):
        return apart_windows(rates, len(days), rule.of, rule.right, rule.leave_at), "exact"
    return _one_by_one(rule, poured, rates)


def _sliding(rule: KOfNRule, poured: Poured, rates: Floats) -> tuple[Odds, str]:
    days, months = poured.days, months_of(rule, poured.counting)
    starts, ends = window_starts(days, months, rule.last_sessions), glasses_so_far(days)
    if not starts.any() and _has_days(rule, days) and rule.of <= MOST_BITS:
        limits = (len(days), rule.of, rule.right, rule.leave_at)
        return sliding_window(rates, *limits, ends.tolist()), "exact"
    runs, how = years_of(rates, len(days), DRAWN)
    standing = np.zeros((len(runs.right), ends.size))  # 1 met, -1 not met
    now, given = np.zeros((2, len(runs.right)), dtype=np.intp)
    for look, (start, end) in enumerate(zip(starts.tolist(), ends.tolist(), strict=True)):
        if end - start >= rule.of and len(set(days[end - rule.of : end])) >= rule.days:
            right = runs.right[:, end - rule.of : end].sum(axis=1)
            says = (right >= rule.right) * 1 - (right <= rule.leave_at)
            now, given = np.where(says, says, now), np.where(says, end, given)
        now = np.where(given > start, now, 0)  # who was last given one too long ago has none
        standing[:, look] = now
    return weighed(runs, standing > 0, standing < 0), how


def _has_days(rule: KOfNRule, days: Sequence[date]) -> bool:
    """Whether every window that is looked at has its least number of days."""
    ends = range(rule.of, len(days) + 1, rule.of)
    if rule.windows == "sliding":
        ends = [end for end in glasses_so_far(days).tolist() if end >= rule.of]
    return all(len(set(days[end - rule.of : end])) >= rule.days for end in ends)


def _count_says(rule: ShareRule | GuessingRule, poured: Poured) -> Callable[[range, int], Standing]:
    """The rule on some glasses, all of its window, of which so many are right."""
    whole = replace(rule, months=LONGEST, last_sessions=None)

    def says(seen: range, right: int) -> Standing:
        part = replace(poured, days=poured.days[seen.start : seen.stop])
        answers = [place < right for place in range(len(seen))]
        return _standing(whole, part, answers, part.days[-1])

    return says


def _one_by_one(rule: Glasses, poured: Poured, rates: Floats) -> tuple[Odds, str]:
    runs, how = years_of(rates, len(poured.days), _DRAWN_ONE_BY_ONE)
    looks = list(zip(glasses_so_far(poured.days).tolist(), looks_of(poured.days), strict=True))
    seen: dict[bytes, Standing] = {}

    def stands(row: NDArray[np.bool_], look: date) -> Standing:
        key = row.tobytes()
        if key not in seen:
            seen[key] = _standing(rule, poured, row.tolist(), look)
        return seen[key]

    said = [[stands(row[:end], look) for end, look in looks] for row in runs.right]
    standings = np.array(said, dtype=object).reshape(len(runs.right), len(looks))
    return weighed(runs, standings == Standing.MET, standings == Standing.NOT_MET), how


def _standing(rule: Glasses, poured: Poured, right: Sequence[bool], today: date) -> Standing:
    """What the rule itself says of some answers."""
    method, level = _method(rule), levels_of(rule, poured.counting)[0]
    glasses = [
        Glass(f"{place:04}", day, day.isoformat(), "", method, level, is_right)
        for place, (day, is_right) in enumerate(zip(poured.days, right, strict=False))
    ]
    return question(glasses, (), today, rule, poured.counting).judged().standing


def _of_thresholds(rule: ThresholdRule, poured: Poured) -> Found:
    """Own estimates scatter about somebody's true threshold by a factor of 2, lognormally."""
    middle, edge = (rule.lowest * rule.highest) ** 0.5, rule.highest
    places = {
        "at four times the end of the band": 4 * edge,
        "at twice the end of the band": 2 * edge,
        "at the end of the band": edge,
        "halfway to the end of the band": (middle * edge) ** 0.5,
        "in the middle of the band": middle,
    }
    kinds = tuple(
        Kind(f"have their threshold {words} ({truth:.3g}×)", truth)
        for words, truth in places.items()
    )
    luck = np.random.default_rng(1).normal(size=(DRAWN, len(poured.days)))
    truth = np.array([kind.truth for kind in kinds])[:, None, None]
    odds = threshold_standings(truth * _SPREAD**luck, poured.days, rule)
    assumed = (
        f"One estimate for each glass of the year; from day to day they scatter by a factor of "
        f"{_SPREAD:g} (lognormal). For the seat, a true 85 % stands for the middle of the band, "
        "60 % for its end, guessing for four times that."
    )
    return Found(kinds, odds, how_drawn(DRAWN), assumed, for_seat=(0, 2, 4), good=4)


def threshold_standings(thresholds: Floats, days: Sequence[date], rule: ThresholdRule) -> Odds:
    """Odds of the rule on own estimates, from the estimates themselves; shape (R, years, n)."""
    logs = np.log10(thresholds)
    low, high, most = np.log10([rule.lowest, rule.highest, rule.spread_at_most])
    met, bad = np.zeros((2, *logs.shape[:2], len(set(days))), dtype=np.bool_)
    windows = zip(window_starts(days, rule.months), glasses_so_far(days), strict=True)
    for look, (start, end) in enumerate(windows):
        first = max(start, end - rule.last_estimates)
        if end - first < max(rule.estimates, 2) or len(set(days[first:end])) < rule.days:
            continue
        seen = logs[:, :, first:end]
        mean, spread = seen.mean(axis=2), seen.std(axis=2, ddof=1)
        is_within = (mean >= low - _ROUNDING) & (mean <= high + _ROUNDING)
        met[:, :, look] = is_within & (spread <= most + _ROUNDING)
        bad[:, :, look] = ~met[:, :, look]
    return odds_of_looks(met, bad)
