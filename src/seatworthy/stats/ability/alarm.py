"""Has a whole person lost sensitivity: a cold that stayed, a medicine?

One compound alone shows a loss too late. So what all of a person's compounds say is added up, for
every day on which it may have begun: each compound compares the answers since that day with what
the answers before it promised, once as it stands and once with the threshold raised. Somebody who
finds everything hard from the start has lost nothing, so a level shared by all compounds is
integrated over. Colleagues' answers play no part.

On simulated tasters (ten compounds, six spiked glasses a session, half a year of history, looked at
after every session for half a year; tests/bench/bench_alarm.py) an alarm from .95 was false in 1 of
360 ordinary ones, in 1 of 300 who drift twice as much or are poor at everything, and in 7 of 360
whose days differ much and who have colds that pass; from .90 in 2, 1 and 17. A loss of 2.5 log2 in
all compounds was seen after 3 sessions, weekly or fortnightly (in four tasters of five after 4 and
5), one in half of the compounds after 9 weekly sessions (25), and fortnightly in less than half of
the tasters within the half-year. One compound alone mostly never came so far; one that had been met
fell below even odds after 5 or 6 sessions. So of a loss in part of the compounds the single
estimates tell first.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, log_softmax, logit, softmax
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.both_ways import (
    CellAnswers,
    Days,
    Evidence,
    call_node_of,
    combine,
    log_average,
)
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats, bell, build_grid
from seatworthy.stats.ability.messages import build_walk
from seatworthy.stats.ability.settings import DEFAULT, Settings

WINDOW_DAYS: Final = 182  # half a year in which a loss may have begun; assumed
LOSS_PRIOR: Final = 0.05  # chance of one in that time; assumed
SHARE_LOST: Final = 0.6  # of the compounds, each by itself; assumed
SHIFTS: Final = (1.0, 2.0, 3.0, 4.0)  # log2 by which a threshold may rise, all alike; assumed
SHARED_PART: Final = 0.5  # of the own prior's variance lies between people; assumed
LEVELS: Final = np.linspace(-3.0, 3.0, 13)  # of a person on the whole, in sd between people
LEAST_BEFORE: Final = 4  # sessions before it began: a person must be known first
LEAST_SINCE: Final = 2  # sessions since it began, the first counted: one bad day is no loss
ALARM_CHANCE: Final = 0.95  # chosen on simulated tasters, see above


@dataclass(frozen=True)
class Loss:
    """Whether one person lost sensitivity: K compounds, T days, S shifts (`SHIFTS`).

    Log factors are natural logarithms of Bayes factors against "as before": above 0 speaks for a
    loss.

    Attributes:
        days: Days on which a loss may have begun, ascending: those with glasses in the last
            half-year that have enough of them before and since; shape (T,).
        sessions_since: Days with glasses since each of them, itself counted; shape (T,).
        log_factor_by_day: Of a loss that began on each day, all compounds together; shape (T,).
        log_factors: What each compound says about each day, given how well the person does on the
            whole; nan where it has no answers before the day or none since; shape (K, T).
        shares: Chance that a compound's threshold rose by a shift if the loss began on a day;
            0 where it has no answers before the day; shape (K, T, S).
    """

    days: Days
    sessions_since: NDArray[np.int64]
    log_factor_by_day: Floats
    log_factors: Floats
    shares: Floats

    @property
    def log_factor(self) -> float:
        """Log factor of a loss that began on any of the days; 0 where there is none."""
        return float(_log_mean(self.log_factor_by_day)) if self.days.size else 0.0

    @property
    def chance(self) -> float:
        """Posterior chance of a loss; the prior's where no day comes into question."""
        return float(expit(self.log_factor + logit(LOSS_PRIOR)))

    @property
    def chance_by_day(self) -> Floats:
        """Posterior chance of a loss that began on each day; shape (T,)."""
        return self.chance * softmax(self.log_factor_by_day) if self.days.size else np.empty(0)

    @property
    def chance_by_shift(self) -> Floats:
        """Posterior chance of each shift in each compound on each day; shape (K, T, S)."""
        return self.chance_by_day[:, None] * self.shares

    @property
    def by_compound(self) -> Floats:
        """What each compound says about the likeliest day; shape (K,), nan where nothing."""
        if not self.days.size:
            return np.full(len(self.log_factors), np.nan)
        return self.log_factors[:, self._likeliest]

    @property
    def day(self) -> int | None:
        """The likeliest day, whether or not a loss is likely; None where none is in question."""
        return int(self.days[self._likeliest]) if self.days.size else None

    @property
    def sessions(self) -> int:
        """Days with glasses since the likeliest day, itself counted; 0 where there is none."""
        return int(self.sessions_since[self._likeliest]) if self.days.size else 0

    @property
    def is_alarm(self) -> bool:
        """Whether the chance is high enough to tell the panel leader."""
        return self.chance >= ALARM_CHANCE

    @property
    def _likeliest(self) -> int:
        return int(self.log_factor_by_day.argmax())


def find_loss(
    glasses: Glasses,
    blanks: Blanks,
    shape: tuple[int, int, int],
    person: int,
    today: int,
    settings: Settings = DEFAULT,
) -> Loss:
    """Look for a loss that began in the last half-year and lasts until today.

    A compound speaks about a day only if it has answers before: nobody loses what they were never
    seen to have. False-call rates are those known today.

    Args:
        glasses: Answered spiked glasses, also of others; those after `today` are left out.
        blanks: Answered blanks, likewise.
        shape: Numbers of people, compounds and beer families.
        person: Whom to look at.
        today: Days since 1970-01-01.
        settings: Numbers of the model.

    Raises:
        ValueError: if the person, or the compound of a glass, lies outside `shape`.
    """
    check_places(glasses, person, shape)
    is_own = (glasses.person == person) & glasses.speaks & (glasses.day <= today)
    poured = np.unique(glasses.day[is_own])
    days = _days_in_question(poured, today)
    if not days.size:
        silent = np.full((shape[1], 0), np.nan)
        return Loss(days, days, np.empty(0), silent, np.zeros((*silent.shape, len(SHIFTS))))
    node = call_node_of(person, blanks, today, settings)
    with threadpool_limits(limits=1):
        told = [
            _compare(CellAnswers(glasses, person, compound, node, today, settings), days, settings)
            for compound in range(shape[1])
        ]
    return _add_up(told, days, poured.size - np.searchsorted(poured, days))


def check_places(glasses: Glasses, person: int, shape: tuple[int, int, int]) -> None:
    """Refuse people and compounds that are not on the axes.

    Raises:
        ValueError: if the person, or the compound of a glass, lies outside `shape`.
    """
    if not 0 <= person < shape[0]:
        msg = f"A person must lie in 0 to {shape[0] - 1}, got {person}."
        raise ValueError(msg)
    if np.any((glasses.compound < 0) | (glasses.compound >= shape[1])):
        found = f"{glasses.compound.min()} to {glasses.compound.max()}"
        msg = f"Compounds must lie in 0 to {shape[1] - 1}, got {found}."
        raise ValueError(msg)


def shift_steps(settings: Settings) -> NDArray[np.intp]:
    """The shifts in whole steps of the thresholds' grid; shape (S,)."""
    return np.round(np.array(SHIFTS) / settings.theta_step).astype(np.intp)


def _days_in_question(poured: Days, today: int) -> Days:
    """Days in the window with enough days with glasses before and since."""
    sessions_before = np.arange(poured.size)
    is_known = sessions_before >= LEAST_BEFORE
    has_lasted = poured.size - sessions_before >= LEAST_SINCE
    return poured[is_known & has_lasted & (poured >= today - WINDOW_DAYS)]


@dataclass(frozen=True)
class _Told:
    """What one compound says, by day (T), level of the person on the whole (U) and shift (S).

    Attributes:
        log_same: Log probability of all answers if nothing was lost; shape (T, U).
        log_ratio: Log Bayes factors of each shift against none; shape (T, U, S).
        has_before: Whether there are answers before the day; shape (T,).
        has_since: Whether there are some on it or later; shape (T,).
    """

    log_same: Floats
    log_ratio: Floats
    has_before: NDArray[np.bool_]
    has_since: NDArray[np.bool_]


def _compare(answers: CellAnswers, days: Days, settings: Settings) -> _Told:
    """Compare one compound's answers; thresholds are shifted alike in all beer families.

    They are read in the family most poured.
    """
    before = {family: line.before(days) for family, line in answers.lines.items()}
    since = {family: line.since(days) for family, line in answers.lines.items()}
    most_poured = int(np.bincount(answers.glasses.family, minlength=1).argmax())
    log_fit = []
    for steps in (0, *shift_steps(settings)):
        said = {own: before[own].times(since[own].seen_from(steps)) for own in answers.lines}
        log_fit.append(_log_evidence(combine(said, most_poured, days.size, settings), settings))
    poured = answers.glasses.day
    return _Told(
        log_same=log_fit[0],
        log_ratio=np.stack(log_fit[1:], axis=-1) - log_fit[0][..., None],
        has_before=np.searchsorted(poured, days) > 0,
        has_since=np.searchsorted(poured, days) < poured.size,
    )


def _log_evidence(said: Evidence, settings: Settings) -> Floats:
    """Log probability of answers about N thresholds, level by level; shape (N, U)."""
    grid = build_grid(settings)
    shared, apart = settings.own_sd * np.sqrt([SHARED_PART, 1 - SHARED_PART])
    priors = bell(grid.theta[:, None], LEVELS * shared, apart)
    fit = np.einsum("dncu,c->dnu", said.messages @ priors, grid.naming_mass)
    return log_average(fit, said.log_scale[:, :, None], build_walk(settings))


def _add_up(told: list[_Told], days: Days, since: NDArray[np.int64]) -> Loss:
    """Put all compounds together at every level of the person, and average over the levels."""
    log_ratio = np.stack([one.log_ratio for one in told])  # (K, T, U, S)
    has_before = np.stack([one.has_before for one in told])
    speaks = has_before & np.stack([one.has_since for one in told])
    risen = np.log(SHARE_LOST) + _log_mean(log_ratio)
    factor = np.where(speaks[..., None], np.logaddexp(np.log(1 - SHARE_LOST), risen), 0)
    log_level = np.log(bell(LEVELS, 0.0, 1.0)) + sum(one.log_same for one in told)
    as_before = log_softmax(log_level, axis=1)
    level = softmax(as_before + factor.sum(axis=0), axis=1)
    shares = SHARE_LOST / len(SHIFTS) * np.exp(log_ratio - factor[..., None])
    return Loss(
        days=days,
        sessions_since=since,
        log_factor_by_day=np.logaddexp.reduce(as_before + factor.sum(axis=0), axis=1),
        log_factors=np.where(speaks, np.einsum("ktu,tu->kt", factor, level), np.nan),
        shares=np.where(has_before[..., None], np.einsum("ktus,tu->kts", shares, level), 0),
    )


def _log_mean(logs: Floats) -> Floats:
    """Logarithm of the mean of numbers given by their logarithms, along the last axis."""
    return np.logaddexp.reduce(logs, axis=-1) - np.log(logs.shape[-1])
