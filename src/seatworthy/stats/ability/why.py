"""The glasses behind one cell's estimate: what each one did to it and how much of it is left."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.both_ways import (
    Cell,
    CellAnswers,
    Evidence,
    Line,
    answers_of,
    carry,
    combine,
    log_average,
    nothing_said,
)
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.messages import build_walk
from seatworthy.stats.ability.reading import build_readout
from seatworthy.stats.ability.settings import DEFAULT, Settings

_NOTHING = 1e-9  # a smaller shift of log odds is rounding


@dataclass(frozen=True)
class Reasons:
    """What A glasses did to one cell's estimate of today, in the order in which they were given.

    Log odds are natural logarithms of the odds that the rate at the reference level is good enough.

    Attributes:
        log_odds: With all glasses.
        prior_log_odds: Without any.
        counts: Whether a glass is behind the estimate: this person's and compound's, not after
            today, and readable by the model; shape (A,).
        pull: Log odds with all glasses less those without this one: above 0 speaks for a good
            enough rate; 0 where it does not count; shape (A,). They do not add up to the whole,
            since glasses that say the same share what they say.
        weight: How much of what the glass alone would say if it were poured today, in the beer
            family that is read, is left of it: 1 for a glass of today, less with age and from
            another family, 1 where it would say nothing, 0 where it does not count; shape (A,).
            Age takes from what a glass says about the threshold, not about naming accuracy.
    """

    log_odds: float
    prior_log_odds: float
    counts: NDArray[np.bool_]
    pull: Floats
    weight: Floats


def find_reasons(
    glasses: Glasses, blanks: Blanks, cell: Cell, today: int, settings: Settings = DEFAULT
) -> Reasons:
    """Weigh every glass behind one cell's own estimate of today.

    Args:
        glasses: Answered spiked glasses in any order, also of others.
        blanks: Answered blanks, likewise.
        cell: Which cell, and for which beer family.
        today: Days since 1970-01-01.
        settings: Numbers of the model.
    """
    pull, weight = np.zeros((2, glasses.day.size))
    counts = np.zeros(glasses.day.size, dtype=np.bool_)
    with threadpool_limits(limits=1):
        answers = answers_of(cell, glasses, blanks, today, settings)
        odds = _Odds(answers.call_node, settings)
        prior = float(odds.of(nothing_said(1, settings))[0])
        if not answers.chosen.size:
            return Reasons(prior, prior, counts, pull, weight)
        log_odds, pulls = _pulls(answers, cell.family, today, odds)
        counts[answers.chosen] = True
        pull[answers.chosen] = pulls
        weight[answers.chosen] = _weights(answers, cell.family, today, odds, prior)
    return Reasons(log_odds, prior, counts, pull, weight)


class _Odds:
    """Reads log odds off evidence about today's threshold.

    Attributes:
        targets: Prior mass where the rate is good enough, and where it is not; shape (2, C, G).
    """

    def __init__(self, call_node: int, settings: Settings) -> None:
        grid, met = build_grid(settings), build_readout(settings).met[call_node]
        self.settings = settings
        self.targets = np.stack([met, 1 - met]) * grid.naming_mass[:, None] * grid.own_prior

    def of(self, said: Evidence) -> Floats:
        """Log odds of N cells; shape (N,)."""
        flat = said.messages.reshape(*said.log_scale.shape, -1)
        parts = flat @ self.targets.reshape(len(self.targets), -1).T
        return self.between(parts, said.log_scale[:, :, None])

    def between(self, parts: Floats, log_scale: Floats) -> Floats:
        """Log odds of good enough, first, against not, last; shape (N,) for (D, N, 2)."""
        logs = log_average(parts, log_scale, build_walk(self.settings))
        return logs[:, 0] - logs[:, 1]


def _pulls(answers: CellAnswers, family: int, today: int, odds: _Odds) -> tuple[float, Floats]:
    """Log odds with all of A glasses, and less those without each; shape (A,)."""
    now, pulls = np.array([today]), np.empty(answers.chosen.size)
    said = {own: line.until(now) for own, line in answers.lines.items()}
    log_odds = float(odds.of(combine(said, family, 1, odds.settings))[0])
    for own, line in answers.lines.items():
        others = {other: said[other] for other in said if other != own}
        wanted = _aim(combine(others, family, 1, odds.settings), odds)
        if own != family:
            wanted = wanted.across_gap(build_walk(odds.settings))
        at = answers.glasses.family == own
        pulls[at] = log_odds - _without_each(line, answers.each[at], wanted, today, odds)
    return log_odds, pulls


def _aim(said: Evidence, odds: _Odds) -> Evidence:
    """Evidence of one cell times where the rate is good enough and where not, as two cells."""
    scale = np.repeat(said.log_scale, len(odds.targets), axis=1)
    return Evidence(said.messages * odds.targets, scale)


def _without_each(line: Line, each: Floats, wanted: Evidence, today: int, odds: _Odds) -> Floats:
    """Log odds without each of the A answers in a line; shape (A,) for answers (A, C, G).

    What is wanted today is carried back to each day and meets there what was known before that day
    and the day's other answers: exact, without going through the history once for every glass.
    """
    gaps = [today - line.days[-1], *np.diff(line.days)[::-1]]
    back, _ = carry(wanted, gaps, line.answers[::-1, None], build_walk(odds.settings))
    before, place = line.before(line.days), line.place
    early = before.messages[:, place] * _others_of_the_day(each, place)
    later = np.stack([one.messages for one in reversed(back)], axis=2)[:, :, place]
    parts = np.einsum("dacg,dracg->dar", early, later)
    later_scale = np.stack([one.log_scale for one in reversed(back)], axis=1)  # (D, T, 2)
    return odds.between(parts, before.log_scale[:, place, None] + later_scale[:, place])


def _others_of_the_day(each: Floats, place: NDArray[np.intp]) -> Floats:
    """Product of all answers of the same day but one, for each, largest 1; places are days."""
    logs = np.log(each)
    of_day = np.add.reduceat(logs, np.flatnonzero(np.diff(place, prepend=-1)), axis=0)
    others = of_day[place] - logs
    return np.exp(others - others.max(axis=(1, 2), keepdims=True))


def _weights(
    answers: CellAnswers, family: int, today: int, odds: _Odds, prior_log_odds: float
) -> Floats:
    """How much of what each glass alone would say is left; shape (A,)."""
    walk, glasses = build_walk(odds.settings), answers.glasses
    fresh = nothing_said(glasses.day.size, odds.settings).with_answers(answers.each)
    aged = fresh.after_days(today - glasses.day, walk)
    is_here = glasses.family == family
    now = np.where(is_here, odds.of(aged), odds.of(aged.across_gap(walk))) - prior_log_odds
    poured_today = odds.of(fresh) - prior_log_odds
    weight, speaks = np.ones(is_here.size), np.abs(poured_today) > _NOTHING
    weight[speaks] = np.minimum(np.abs(now[speaks] / poured_today[speaks]), 1)
    return weight
