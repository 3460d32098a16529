"""Reads the estimates of one day: of everybody together, because colleagues' answers are pooled."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final, Protocol

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.cells import Places, Shape, portions
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.pooling import pool
from seatworthy.stats.ability.reading import (
    chance_rate_at_least,
    mean_rate,
    posterior,
    rate_histogram,
    rate_interval,
    read_thresholds,
)
from seatworthy.stats.ability.settings import Settings

_CELLS_A_BLOCK: Final = 128

Named = dict[str, NDArray[Any]]


class AnswersSoFar(Protocol):
    """Whatever can say what people's answers so far mean on a day."""

    settings: Settings
    shape: Shape

    def call_node_on(self, person: Places, day: NDArray[np.int64]) -> Places:
        """False-call node in force for people, each on a day; shape (N,)."""

    def evidence(
        self, person: Places, compound: Places, day: NDArray[np.int64], read_for: Places
    ) -> Floats:
        """P(own answers so far | naming accuracy, threshold on the day); shape (N, R, C, G)."""

    def has_glasses(self) -> NDArray[np.bool_]:
        """Where own answers exist; shape (P, K, B)."""


@dataclass(frozen=True)
class Block:
    """What is known on one day of all P people in J compounds, read for R beer families.

    N = J * P * R cells in that order, the family running fastest.

    Attributes:
        day: Days since 1970-01-01.
        person: Place on the person axis; shape (J * P,).
        compound: Place on the compound axis; shape (J * P,).
        call_node: False-call nodes; shape (N,).
        own: Posterior of accuracy and threshold from own answers; shape (N, C, G).
        pooled: The same from colleagues' answers too; shape (N, C, G).
        panel_mean: Distribution of each panel's mean threshold; shape (J, R, M).
    """

    day: int
    person: Places
    compound: Places
    call_node: Places
    own: Floats
    pooled: Floats
    panel_mean: Floats


def blocks_of(
    answers: AnswersSoFar, compounds: Places, read_for: Places, day: int
) -> Iterator[Block]:
    """Posteriors of all people in some compounds, a few compounds at a time.

    Args:
        answers: The answers of all people.
        compounds: Shape (J,).
        read_for: Families to read for; shape (R,).
        day: Days since 1970-01-01.
    """
    people, settings = answers.shape[0], answers.settings
    for portion in portions(compounds.size, max(1, _CELLS_A_BLOCK // (people * read_for.size))):
        number = compounds[portion].size
        person = np.tile(np.arange(people), number)
        compound = np.repeat(compounds[portion], people)
        days = np.full(person.shape, day)
        evidence = answers.evidence(person, compound, days, read_for)
        others, panel_mean = _pool(evidence, people, settings)
        cells = evidence.reshape(-1, *evidence.shape[2:])
        yield Block(
            day=day,
            person=person,
            compound=compound,
            call_node=np.repeat(answers.call_node_on(person, days), read_for.size),
            own=posterior(cells, build_grid(settings).own_prior, settings),
            pooled=posterior(cells, others, settings),
            panel_mean=panel_mean,
        )


def _pool(evidence: Floats, people: int, settings: Settings) -> tuple[Floats, Floats]:
    """Each cell's prior from the others, (J * P * R, G), and the panels' means, (J, R, M)."""
    over_naming = np.einsum("nrcg,c->nrg", evidence, build_grid(settings).naming_mass)
    _, families, thresholds = over_naming.shape
    by_person = over_naming.reshape(-1, people, families, thresholds)
    by_panel = by_person.swapaxes(1, 2)
    pooled = pool(by_panel.reshape(-1, people, thresholds), settings)
    others = pooled.prior.reshape(by_panel.shape).swapaxes(1, 2)
    return others.reshape(-1, thresholds), pooled.panel_mean.reshape(*by_panel.shape[:2], -1)


def read_today(answers: AnswersSoFar, compounds: Places, read_for: Places, day: int) -> Named:
    """The estimates of all people by their names in `Today`; shape (P, J, R, ...).

    Args:
        answers: The answers of all people.
        compounds: Shape (J,).
        read_for: Families to read for; shape (R,).
        day: Days since 1970-01-01.
    """
    blocks = blocks_of(answers, compounds, read_for, day)
    read = [read_block(one, answers.settings) for one in blocks]
    has_glasses = answers.has_glasses()[:, compounds[:, None], read_for]
    return {**join_blocks(read, answers.shape[0], read_for.size), "has_glasses": has_glasses}


def read_block(block: Block, settings: Settings) -> Named:
    """The estimates of a block by their names in `Today`; the first axis is that of its cells."""
    own_threshold = read_thresholds(block.own.sum(axis=1), settings)
    pooled_threshold = read_thresholds(block.pooled.sum(axis=1), settings)
    own_rate = rate_histogram(block.own, block.call_node, settings)
    pooled_rate = rate_histogram(block.pooled, block.call_node, settings)
    low, high = rate_interval(own_rate, settings)
    pooled_low, pooled_high = rate_interval(pooled_rate, settings)
    return {
        "chance_met_own": chance_rate_at_least(own_rate, settings.p_min),
        "chance_met_pooled": chance_rate_at_least(pooled_rate, settings.p_min),
        "chance_insensitive_own": own_threshold.chance_insensitive,
        "rate_mean": mean_rate(block.own, block.call_node, settings),
        "rate_low": low,
        "rate_high": high,
        "rate_histogram": own_rate,
        "rate_mean_pooled": mean_rate(block.pooled, block.call_node, settings),
        "rate_low_pooled": pooled_low,
        "rate_high_pooled": pooled_high,
        "threshold_mass_own": block.own.sum(axis=1),
        "threshold_mean_own": own_threshold.mean,
        "threshold_low_own": own_threshold.low,
        "threshold_high_own": own_threshold.high,
        "threshold_mean_pooled": pooled_threshold.mean,
        "threshold_low_pooled": pooled_threshold.low,
        "threshold_high_pooled": pooled_threshold.high,
    }


def join_blocks(blocks: list[Named], people: int, families: int) -> Named:
    """Values of the cells of all blocks on axes of their own; shape (P, J, R, ...)."""
    joined = {}
    for name in blocks[0]:
        values = np.concatenate([one[name] for one in blocks])
        compounds = len(values) // (people * families)
        apart = values.reshape(compounds, people, families, *values.shape[1:])
        joined[name] = apart.swapaxes(0, 1)
    return joined
