"""How one cell's threshold went over time, as all own answers have it: for plots, not for verdicts.

A verdict of a past day stands on what was known that day. A plot of the past may know better: each
day is read with the answers before it and after it, so a sudden loss shows where it happened.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.both_ways import Cell, CellAnswers, Days, answers_of, combine
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.messages import build_walk
from seatworthy.stats.ability.reading import (
    mean_rate,
    posterior,
    rate_histogram,
    rate_interval,
    read_thresholds,
)
from seatworthy.stats.ability.settings import DEFAULT, Settings

DAYS_BETWEEN: Final = 30  # of the days on which a plot is read though nothing was poured


@dataclass(frozen=True)
class Smoothed:
    """One cell on N days, each read with all own answers; every array has shape (N,).

    Attributes:
        days: Days since 1970-01-01, ascending.
        is_poured: Whether a glass of this cell was answered that day.
        threshold_mean: Threshold, log2 multiples, widened for slopes that differ.
        threshold_low: Lower end of its interval.
        threshold_high: Upper end.
        rate_mean: Mean rate of right names at the reference level.
        rate_low: Lower end of its interval.
        rate_high: Upper end.
    """

    days: Days
    is_poured: NDArray[np.bool_]
    threshold_mean: Floats
    threshold_low: Floats
    threshold_high: Floats
    rate_mean: Floats
    rate_low: Floats
    rate_high: Floats


def smooth(
    glasses: Glasses,
    blanks: Blanks,
    cell: Cell,
    today: int,
    settings: Settings = DEFAULT,
    days: Sequence[int] | None = None,
) -> Smoothed:
    """Read one cell on days past with all own answers up to today.

    The prior is that of own answers alone and speaks about the threshold of the day that is read,
    so a day far from any answer reads like somebody unknown, but for naming accuracy, which does
    not wander. The drift settings are weighed by how well they fit all answers. Today reads as
    `follow` has it.

    Args:
        glasses: Answered spiked glasses, also of others; those after `today` are left out.
        blanks: Answered blanks, likewise.
        cell: Which cell, and for which beer family.
        today: Days since 1970-01-01.
        settings: Numbers of the model.
        days: Days to read; unless given, the days with glasses, today, and from the first glass
            on every 30th day back from today.

    Raises:
        ValueError: if days are given and there is none.
    """
    if days is not None and not len(days):
        msg = "At least one day to read was expected, got none."
        raise ValueError(msg)
    with threadpool_limits(limits=1):
        answers = answers_of(cell, glasses, blanks, today, settings)
        poured = np.unique(answers.glasses.day)
        asked = _days_to_read(poured, today) if days is None else np.unique(np.array(days, int))
        return _read(answers, cell.family, asked, settings)


def _days_to_read(poured: Days, today: int) -> Days:
    first = poured[0] if poured.size else today
    return np.union1d(poured, np.arange(today, first, -DAYS_BETWEEN) if first < today else [today])


def _read(answers: CellAnswers, family: int, days: Days, settings: Settings) -> Smoothed:
    said = {own: line.until(days).times(line.after(days)) for own, line in answers.lines.items()}
    together = combine(said, family, days.size, settings).mixed(build_walk(settings))
    joint = posterior(together, build_grid(settings).own_prior, settings)
    node = np.full(days.size, answers.call_node)
    threshold = read_thresholds(joint.sum(axis=1), settings)
    rate_low, rate_high = rate_interval(rate_histogram(joint, node, settings), settings)
    return Smoothed(
        days=days,
        is_poured=np.isin(days, answers.glasses.day),
        threshold_mean=threshold.mean,
        threshold_low=threshold.low,
        threshold_high=threshold.high,
        rate_mean=mean_rate(joint, node, settings),
        rate_low=rate_low,
        rate_high=rate_high,
    )
