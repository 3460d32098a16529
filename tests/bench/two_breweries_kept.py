"""What a brewery has on record: counts by week, and what the ability model makes of the answers.

P people, K compounds, W weeks, G glasses of a session.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from two_breweries_truth import COMPOUNDS, PEOPLE, WEEKS, Flags, Pour, Whole
from world_answers import Floats

from seatworthy.decide.noses import Noses
from seatworthy.stats.ability.abilities import Abilities
from seatworthy.stats.ability.glasses import NAMING, NOTHING, Blanks, Glasses, Outcome
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.present import Present
from seatworthy.stats.ability.reading import chance_rate_at_least, rate_histogram, read_thresholds
from seatworthy.stats.ability.settings import DEFAULT

YEAR: Final = 52  # weeks that count
COUNTED: Final = (2.0, 4.0)
STRONG: Final = 5.0
SHAPE: Final = (PEOPLE, COMPOUNDS, 1)


class Counts:
    """How many glasses everybody had and named right, week by week."""

    def __init__(self) -> None:
        self.glasses, self.hits, self.strong = np.zeros((3, WEEKS, PEOPLE, COMPOUNDS), np.int64)
        self.blanks, self.calls, self.came = np.zeros((3, WEEKS, PEOPLE), np.int64)
        self.wrong = np.zeros((PEOPLE, COMPOUNDS, COMPOUNDS))
        self.called = np.zeros(COMPOUNDS)

    def take_in(self, week: int, pour: Pour, said: Whole, is_here: Flags) -> None:
        """Count a session's answers (P, G) of those who came."""
        self.came[week] += is_here
        for glass, (compound, level) in enumerate(zip(pour.compound, pour.level, strict=True)):
            word = said[:, glass]
            if compound == NOTHING:
                self.blanks[week] += is_here
                self.calls[week] += is_here & (word != NOTHING)
                named = word[is_here & (word >= 0) & (word < COMPOUNDS)]
                np.add.at(self.called, named, 1)
                continue
            counts = is_here & (COUNTED[0] <= level <= COUNTED[1])
            self.glasses[week, :, compound] += counts
            self.hits[week, :, compound] += counts & (word == compound)
            self.strong[week, :, compound] += is_here & (level >= STRONG)
            mistaken = is_here & (word >= 0) & (word < COMPOUNDS) & (word != compound)
            self.wrong[mistaken, compound, word[mistaken]] += 1

    def in_year(self, counts: Whole, week: int) -> Whole:
        """Sum over the last twelve months up to a week."""
        return counts[max(week - YEAR + 1, 0) : week + 1].sum(axis=0)

    def days(self, week: int) -> Whole:
        """Weeks of the last twelve months with a counted glass; shape (P, K)."""
        return self.in_year(self.glasses > 0, week)


@dataclass(frozen=True)
class Reading:
    """What the model says of every cell on a day, on own answers alone; shape (P, K) unless said.

    Attributes:
        joint: Posterior of accuracy and threshold; shape (P, K, C, G).
        has_glasses: Where own answers exist.
        met: Chance that the rate is good enough.
        insensitive: Chance that the threshold lies above the insensitive level.
    """

    joint: Floats
    has_glasses: Flags
    met: Floats
    insensitive: Floats


class Answers:
    """Everybody's answers, as the model keeps them."""

    def __init__(self) -> None:
        self.counts, self.present = Counts(), Present(SHAPE)

    def take_in(self, week: int, day: int, pour: Pour, said: Whole, is_here: Flags) -> None:
        """Keep a session's answers (P, G) of those who came."""
        self.counts.take_in(week, pour, said, is_here)
        person, glass = np.nonzero(is_here[:, None] & (pour.compound != NOTHING))
        word, compound = said[person, glass], pour.compound[glass]
        outcome = np.where(word == compound, Outcome.RIGHT, Outcome.WRONG)
        outcome = np.where(word == NOTHING, Outcome.NONE, outcome)
        size = person.size
        who, blank = np.nonzero(is_here[:, None] & (pour.compound == NOTHING))
        self.present.take_in(
            Glasses(
                day=np.full(size, day),
                person=person,
                compound=compound,
                family=np.zeros(size, np.int64),
                method=np.full(size, NAMING),
                level=pour.level[glass],
                background=np.zeros(size),
                outcome=outcome,
            ),
            Blanks(np.full(who.size, day), who, said[who, blank] != NOTHING),
        )

    def read(self, day: int) -> Reading:
        """Read all cells on a day."""
        person = np.repeat(np.arange(PEOPLE), COMPOUNDS)
        compound = np.tile(np.arange(COMPOUNDS), PEOPLE)
        days = np.full(person.shape, day)
        grid, one = build_grid(DEFAULT), np.zeros(1, np.intp)
        joint = self.present.evidence(person, compound, days, one)[:, 0]
        joint = joint * grid.naming_mass[:, None] * grid.own_prior
        joint /= joint.sum(axis=(1, 2), keepdims=True)
        node = self.present.call_node_on(person, days)
        met = chance_rate_at_least(rate_histogram(joint, node, DEFAULT), DEFAULT.p_min)
        blind = read_thresholds(joint.sum(axis=1), DEFAULT).chance_insensitive
        shape = (PEOPLE, COMPOUNDS)
        return Reading(
            joint=joint.reshape(*shape, *joint.shape[1:]),
            has_glasses=self.present.has_glasses()[..., 0],
            met=met.reshape(shape),
            insensitive=blind.reshape(shape),
        )

    def noses(self, reading: Reading) -> Noses:
        """What everybody says to each compound, as the decisions ask for it."""
        return Noses(
            people=tuple(f"person {p}" for p in range(PEOPLE)),
            compounds=tuple(f"compound {k}" for k in range(COMPOUNDS)),
            abilities=self._abilities(reading),
            guessed=(self.counts.called + 1) / (self.counts.calls.sum() + DEFAULT.names),
            misnamed=_shares(self.counts.wrong),
        )

    def _abilities(self, reading: Reading) -> Abilities:
        """Posteriors with one draw, their mean: no decision here asks for a range."""
        threshold = reading.joint.sum(axis=2)
        named = np.einsum("pkcg,c->pkg", reading.joint, build_grid(DEFAULT).naming_mean)
        a, b = DEFAULT.call_prior
        calls = (a + self.counts.calls.sum(axis=0)) / (a + b + self.counts.blanks.sum(axis=0))
        return Abilities(
            threshold=threshold,
            accuracy=named / np.maximum(threshold, np.finfo(np.float64).tiny),
            threshold_draws=(threshold @ build_grid(DEFAULT).theta)[None],
            accuracy_draws=named.sum(axis=2)[None],
            calls=calls,
            call_draws=calls[None],
            has_glasses=reading.has_glasses,
        )


def _shares(wrong: Floats) -> Floats:
    """Of the wrong names for a compound the share of each: own, then the panel's, then all alike."""
    panel = wrong.sum(axis=0)
    usual = (panel + 1 / (COMPOUNDS - 1)) / (panel.sum(axis=1, keepdims=True) + 1)
    np.fill_diagonal(usual, 0.0)
    return (wrong + usual) / (wrong.sum(axis=2, keepdims=True) + 1)
