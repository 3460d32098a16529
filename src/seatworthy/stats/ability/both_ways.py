"""What one cell's answers say about its threshold on any day, those before the day and those after.

The walk of thresholds is symmetric, so later answers speak about an earlier threshold exactly as
earlier answers speak about a later one: one recursion serves both directions. Answers about another
beer family count with one more step of the walk between.

Every answer is read with the false-call rate known today, also when an earlier day is asked for.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, reduce

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.ability.call_nodes import CallNodes
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.ability.messages import (
    Walk,
    absorb,
    advance,
    build_walk,
    from_waves,
    mix,
    to_waves,
)
from seatworthy.stats.ability.settings import Settings
from seatworthy.stats.ability.tables import answer_weights, glass_table, likelihood

Days = NDArray[np.int64]


@dataclass(frozen=True)
class Cell:
    """One person's one compound, read for one beer family: places on the three axes."""

    person: int
    compound: int
    family: int = 0


@dataclass(frozen=True)
class Evidence:
    """What some answers say about N thresholds, before any prior: D drift settings.

    Attributes:
        messages: P(answers | naming accuracy, threshold) over its scale; shape (D, N, C, G).
        log_scale: Natural logarithm of that scale; shape (D, N).
    """

    messages: Floats
    log_scale: Floats

    def times(self, other: "Evidence") -> "Evidence":
        """This and other answers about the same N thresholds."""
        return Evidence(self.messages * other.messages, self.log_scale + other.log_scale)

    def with_answers(self, answers: Floats) -> "Evidence":
        """Further answers given at these thresholds; shape (N, C, G) or (1, C, G)."""
        messages, growth = absorb(self.messages, answers)
        return Evidence(messages, self.log_scale + growth)

    def after_days(self, days: ArrayLike, walk: Walk) -> "Evidence":
        """The same answers about thresholds some days away, later or earlier; shape (N,)."""
        return Evidence(advance(self.messages, days, walk), self.log_scale)

    def across_gap(self, walk: Walk) -> "Evidence":
        """The same answers about the thresholds in another beer family."""
        waves = to_waves(self.messages, walk)
        return Evidence(from_waves(waves * walk.gap, walk), self.log_scale)

    def seen_from(self, steps: int) -> "Evidence":
        """The same answers about thresholds that lay so many grid steps lower, or -steps higher.

        Thresholds moved beyond an end of the grid count as that end.
        """
        places = np.arange(self.messages.shape[-1]) + steps
        inside = np.clip(places, 0, places.size - 1)
        return Evidence(self.messages[..., inside], self.log_scale)

    def mixed(self, walk: Walk) -> Floats:
        """Likelihoods averaged over the drift settings, without a common scale; (N, C, G)."""
        return mix(self.messages, self.log_scale, walk)


def log_average(parts: Floats, log_scale: Floats, walk: Walk) -> Floats:
    """Logarithm of what is averaged over the drift settings.

    Args:
        parts: Positive numbers by drift setting, each over its scale; shape (D, ...).
        log_scale: Natural logarithms of the scales; shape (D, ...), may be 1 long where alike.
        walk: Holds the weights of the settings.

    Returns:
        Natural logarithms; shape of `parts` without the first axis.
    """
    top = log_scale.max(axis=0)
    total = np.tensordot(walk.weight, parts * np.exp(log_scale - top), 1)
    return np.log(np.maximum(total, np.finfo(np.float64).tiny)) + top  # 0 only by rounding


def nothing_said(thresholds: int, settings: Settings) -> Evidence:
    """Evidence of no answers about a number of thresholds."""
    drifts, size = build_walk(settings).fading.shape
    shape = (drifts, thresholds, settings.naming_bins, size)
    return Evidence(np.ones(shape), np.zeros(shape[:2]))


def carry(
    evidence: Evidence, gaps: Iterable[ArrayLike], answers: Iterable[Floats], walk: Walk
) -> tuple[list[Evidence], list[Evidence]]:
    """Take in the answers of one day after another.

    Args:
        evidence: What is known of N thresholds at the start.
        gaps: Days that pass before each of T days; each a number or shape (N,).
        answers: P(a day's answers | accuracy, threshold); each of shape (N, C, G) or (1, C, G).
        walk: How thresholds wander.

    Returns:
        T pieces of evidence on arrival at each day, and T with that day's answers taken in.
    """
    on_arrival, taken_in = [], []
    for gap, on_day in zip(gaps, answers, strict=True):
        on_arrival.append(evidence.after_days(gap, walk))
        evidence = on_arrival[-1].with_answers(on_day)
        taken_in.append(evidence)
    return on_arrival, taken_in


class Line:
    """One cell's answers in one beer family, read in both directions.

    Args:
        day: Days of A answers, ascending, A > 0; shape (A,).
        each: P(answer | accuracy, threshold); shape (A, C, G).
        settings: Numbers of the model.

    Attributes:
        days: The T different days.
        place: Which of these days each answer is from; shape (A,).
        answers: P(all answers of a day | accuracy, threshold), largest 1; shape (T, C, G).
    """

    def __init__(self, day: Days, each: Floats, settings: Settings) -> None:
        self.days, first, self.place = np.unique(day, return_index=True, return_inverse=True)
        logs = np.add.reduceat(np.log(each), first, axis=0)  # a product of very many would be 0
        self.answers = np.exp(logs - logs.max(axis=(1, 2), keepdims=True))
        self._settings, self._walk = settings, build_walk(settings)
        gaps = np.diff(self.days)
        _, taken_in = carry(
            nothing_said(2, settings),
            [0, *np.stack([gaps, gaps[::-1]], axis=1)],
            np.stack([self.answers, self.answers[::-1]], axis=1),
            self._walk,
        )
        messages = np.stack([one.messages for one in taken_in], axis=2)  # (D, 2, T, C, G)
        scale = np.stack([one.log_scale for one in taken_in], axis=2)
        self._until = Evidence(messages[:, 0], scale[:, 0])
        self._since = Evidence(messages[:, 1, ::-1], scale[:, 1, ::-1])

    def until(self, days: Days) -> Evidence:
        """Answers up to and including each of N days, about that day's threshold."""
        return self._at(self._until, np.searchsorted(self.days, days, "right") - 1, days)

    def before(self, days: Days) -> Evidence:
        """Answers before each of N days, about that day's threshold."""
        return self._at(self._until, np.searchsorted(self.days, days, "left") - 1, days)

    def since(self, days: Days) -> Evidence:
        """Answers on and after each of N days, about that day's threshold."""
        return self._at(self._since, np.searchsorted(self.days, days, "left"), days)

    def after(self, days: Days) -> Evidence:
        """Answers after each of N days, about that day's threshold."""
        return self._at(self._since, np.searchsorted(self.days, days, "right"), days)

    def _at(self, known: Evidence, place: NDArray[np.intp], days: Days) -> Evidence:
        """Evidence kept for some places, brought to days; nothing beyond the ends."""
        found = nothing_said(place.size, self._settings)
        inside = np.flatnonzero((place >= 0) & (place < self.days.size))
        place = place[inside]
        found.messages[:, inside] = known.messages[:, place]
        found.log_scale[:, inside] = known.log_scale[:, place]
        apart = np.abs(np.asarray(days)[inside] - self.days[place])
        is_apart = apart > 0
        moved = advance(found.messages[:, inside[is_apart]], apart[is_apart], self._walk)
        found.messages[:, inside[is_apart]] = moved
        return found


class CellAnswers:
    """All of one person's answers about one compound up to today.

    Args:
        glasses: Answered glasses; those of others, of other compounds, after today, and those
            the model cannot read are left out.
        person: Place on the person axis.
        compound: Place on the compound axis.
        call_node: The person's false-call node.
        today: Days since 1970-01-01.
        settings: Numbers of the model.

    Attributes:
        chosen: Places of the A glasses that count among those given, by day; shape (A,).
        glasses: These glasses.
        call_node: As given.
    """

    def __init__(
        self,
        glasses: Glasses,
        person: int,
        compound: int,
        call_node: int,
        today: int,
        settings: Settings,
    ) -> None:
        is_own = (glasses.person == person) & (glasses.compound == compound)
        chosen = np.flatnonzero(is_own & glasses.speaks & (glasses.day <= today))
        self.chosen = chosen[np.argsort(glasses.day[chosen], kind="stable")]
        self.glasses = glasses.where(self.chosen)
        self.call_node, self._settings = call_node, settings

    @cached_property
    def each(self) -> Floats:
        """P(answer | accuracy, threshold); shape (A, C, G)."""
        return likelihood_of_each(self.glasses, self.call_node, self._settings)

    @cached_property
    def lines(self) -> dict[int, Line]:
        """The answers by beer family."""
        lines = {}
        for family in np.unique(self.glasses.family).tolist():
            at = self.glasses.family == family
            lines[family] = Line(self.glasses.day[at], self.each[at], self._settings)
        return lines


def combine(
    said: Mapping[int, Evidence], family: int, thresholds: int, settings: Settings
) -> Evidence:
    """What all beer families together say about N thresholds in one of them.

    Args:
        said: What the answers in each family say about the N thresholds in it.
        family: For which the thresholds are read.
        thresholds: N.
        settings: Numbers of the model.
    """
    walk = build_walk(settings)
    here = [one if own == family else one.across_gap(walk) for own, one in said.items()]
    return reduce(Evidence.times, here) if here else nothing_said(thresholds, settings)


def call_node_of(person: int, blanks: Blanks, today: int, settings: Settings) -> int:
    """One person's false-call node in force today."""
    return int(CallNodes(blanks, settings).on(np.array(person), np.array(today)))


def answers_of(
    cell: Cell, glasses: Glasses, blanks: Blanks, today: int, settings: Settings
) -> CellAnswers:
    """The answers behind one cell's estimate of today."""
    node = call_node_of(cell.person, blanks, today, settings)
    return CellAnswers(glasses, cell.person, cell.compound, node, today, settings)


def likelihood_of_each(glasses: Glasses, call_node: int, settings: Settings) -> Floats:
    """P(answer | accuracy, threshold) of A glasses of one person; shape (A, C, G)."""
    nodes = np.full(glasses.day.size, call_node)
    table = glass_table(glasses, settings, nodes)
    return likelihood(*answer_weights(glasses, nodes, settings), table.seen[table.kind])
