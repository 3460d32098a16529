"""Estimates of somebody who may have lost sensitivity: old answers count less where a loss fits.

What was known before a possible day of a loss passes through one wide step there: the threshold
stayed, or rose by a shift. Each possibility is weighed by its posterior chance, which rests on all
compounds of the person together.

On 50 simulated tasters who lost 2.5 log2 (made as in tests/bench/bench_alarm.py) 90 % intervals of the
lost thresholds covered after 2, 4, 8 and 16 weekly sessions: all compounds lost, .68 .81 .83 .82
against .13 .26 .42 .50 by the walk alone; half of them, .36 .62 .76 .80 against .14 .27 .42 .50.
Of kept thresholds, and of those of 50 who lost nothing, they covered as well as before.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.alarm import Loss, check_places, shift_steps
from seatworthy.stats.ability.both_ways import (
    CellAnswers,
    Days,
    Evidence,
    Line,
    call_node_of,
    carry,
    combine,
)
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.messages import build_walk
from seatworthy.stats.ability.settings import DEFAULT, Settings

LEAST_CHANCE: Final = 1e-3  # of a shift on a day; less counts as if nothing had been lost


def likelihood_after_loss(
    glasses: Glasses,
    blanks: Blanks,
    shape: tuple[int, int, int],
    person: int,
    today: int,
    loss: Loss,
    settings: Settings = DEFAULT,
) -> Floats:
    """What one person's answers say today if a loss is given its chance.

    Args:
        glasses: Answered spiked glasses, also of others; those after `today` are left out.
        blanks: Answered blanks, likewise.
        shape: Numbers of people, compounds K and beer families B.
        person: Whose answers.
        today: Days since 1970-01-01, the day for which `loss` was found.
        loss: What `find_loss` found for the person.
        settings: Numbers of the model.

    Returns:
        P(own answers | accuracy, threshold today) without a common scale, to which `posterior`
        applies; all alike where a cell has no answers; shape (K, B, C, G).

    Raises:
        ValueError: if the person, or the compound of a glass, lies outside `shape`, or the loss
            was found for another number of compounds.
    """
    check_places(glasses, person, shape)
    if len(loss.shares) != shape[1]:
        msg = f"A loss in {shape[1]} compounds was expected, got one in {len(loss.shares)}."
        raise ValueError(msg)
    node, grid = call_node_of(person, blanks, today, settings), build_grid(settings)
    found = np.ones((*shape[1:], grid.naming_mean.size, grid.theta.size))
    with threadpool_limits(limits=1):
        for compound, chance in enumerate(loss.chance_by_shift):
            answers = CellAnswers(glasses, person, compound, node, today, settings)
            if answers.chosen.size:
                found[compound] = _average(answers, loss, chance, shape[2], today, settings)
    return found


def _average(
    answers: CellAnswers,
    loss: Loss,
    chance: Floats,
    families: int,
    today: int,
    settings: Settings,
) -> Floats:
    """Likelihoods of one compound over all possibilities; `chance` (T, S), result (B, C, G)."""
    at_day, at_shift = np.nonzero(chance >= LEAST_CHANCE)
    likely = chance[at_day, at_shift]
    weight = np.append(1 - likely.sum(), likely)
    days, steps = loss.days[at_day], shift_steps(settings)[at_shift]
    said = {
        family: _say_of_today(line, days, steps, today, settings)
        for family, line in answers.lines.items()
    }
    found = []
    for family in range(families):
        mixed = combine(said, family, weight.size, settings).mixed(build_walk(settings))
        found.append(np.einsum("h,hcg->cg", weight / _fit(mixed, settings), mixed))
    return np.stack(found)


def _fit(mixed: Floats, settings: Settings) -> Floats:
    """How well each possibility fits by the prior of own answers; shape (H,) for (H, C, G).

    Dividing by it leaves the weights to the chances, in which these answers have been counted.
    """
    grid = build_grid(settings)
    return np.einsum("hcg,c,g->h", mixed, grid.naming_mass, grid.own_prior)


def _say_of_today(
    line: Line, days: Days, steps: NDArray[np.intp], today: int, settings: Settings
) -> Evidence:
    """One family's answers about today: as before, then risen by H steps on H days; H + 1 cells.

    Days are ascending.
    """
    parts = [line.until(np.array([today]))]
    for day in np.unique(days):
        walk, later = build_walk(settings), line.days >= day
        before = line.before(np.array([day]))
        risen = _join([before.seen_from(-step) for step in steps[days == day]])
        poured = line.days[later]
        gaps = np.diff(poured, prepend=day)
        _, taken_in = carry(risen, gaps, line.answers[later][:, None], walk)
        last = poured[-1] if poured.size else day
        parts.append((taken_in or [risen])[-1].after_days(today - last, walk))
    return _join(parts)


def _join(parts: list[Evidence]) -> Evidence:
    """Evidence about several thresholds side by side."""
    return Evidence(
        np.concatenate([one.messages for one in parts], axis=1),
        np.concatenate([one.log_scale for one in parts], axis=1),
    )
