"""Was a sample made as stated? If everybody misses what they usually find, suspect the bottle."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import logsumexp
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.history import Cells, History, Places
from seatworthy.stats.ability.pooling import pool
from seatworthy.stats.ability.reading import posterior
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.ability.tables import answer_weights, likelihood, seen_in

AS_STATED, HALF, NOT_DOSED = 1.0, 0.5, 0.0


@dataclass(frozen=True)
class SampleCheck:
    """How the answers to each of S samples speak about its preparation; every array (S,).

    Log factors are natural logarithms of Bayes factors against "as stated": above 0 speaks for a
    slip. Those of several samples from one stock may be added. On simulated panels (true dose
    error .25 log2, about six earlier answers a person) a factor above 3 with three tasters, above
    2 from four on, called 1 in 100 good samples "not dosed" at most and found 3 in 4 or more. Half
    a dose can hardly be seen in a single sample.

    Attributes:
        sample: The numbers that were given for the samples, ascending.
        glasses: Glasses answered of it.
        log_not_dosed: Nothing was added : as stated.
        log_half_dosed: Half was added : as stated.
    """

    sample: NDArray[np.int64]
    glasses: NDArray[np.int64]
    log_not_dosed: Floats
    log_half_dosed: Floats


def check_samples(
    glasses: Glasses,
    blanks: Blanks,
    sample: NDArray[np.int64],
    shape: tuple[int, int, int],
    settings: Settings = DEFAULT,
) -> SampleCheck:
    """Look at every sample with what was known about its tasters before that day.

    Colleagues' answers help to say what to expect of a taster here, since the sample is judged
    and no person.

    Args:
        glasses: Answered spiked glasses; shape (A,).
        blanks: Answered blanks.
        sample: Which preparation each glass came from; shape (A,). A sample is one compound in
            one beer, poured on one day; those with a number below 0 are not looked at.
        shape: Numbers of people, compounds and beer families.
        settings: Numbers of the model.

    Returns:
        One entry for each sample with at least one answer the model can read.
    """
    last = int(glasses.day.max(initial=0))
    found: dict[int, tuple[int, float, float]] = {}
    with threadpool_limits(limits=1):
        history = History(glasses, blanks, shape, last, settings, reads_all=True)
        numbers = sample[history.chosen]
        for day in history.days.tolist():
            on_day = history.glasses.day == day
            for number in np.unique(numbers[on_day & (numbers >= 0)]).tolist():
                poured = history.glasses.where(on_day & (numbers == number))
                found[number] = (poured.day.size, *_log_factors(history, poured))
            history.absorb(day)
    ordered = sorted(found)
    columns = np.array([found[number] for number in ordered]).reshape(-1, 3)
    return SampleCheck(
        sample=np.array(ordered, dtype=np.int64),
        glasses=columns[:, 0].astype(np.int64),
        log_not_dosed=columns[:, 1],
        log_half_dosed=columns[:, 2],
    )


def _log_factors(history: History, poured: Glasses) -> tuple[float, float]:
    """Log Bayes factors of "not dosed" and "half dosed" against "as stated"."""
    joint, node = _expected_of_all(history, poured)
    stated, half, none = (
        log_evidence(joint[poured.person], node[poured.person], poured, part, history.settings)
        for part in (AS_STATED, HALF, NOT_DOSED)
    )
    return none - stated, half - stated


def _expected_of_all(history: History, poured: Glasses) -> tuple[Floats, Places]:
    """Posterior before these glasses, (P, C, G), and false-call node, (P,), of all people."""
    people = history.shape[0]
    cells = Cells(
        person=np.arange(people),
        compound=np.full(people, poured.compound[0]),
        family=np.full(people, poured.family[0]),
        day=np.full(people, poured.day[0]),
    )
    evidence, settings = history.likelihood(cells), history.settings
    over_naming = np.einsum("ncg,c->ng", evidence, build_grid(settings).naming_mass)
    others = pool(over_naming[None], settings).prior[0]
    return posterior(evidence, others, settings), history.call_node(cells)


def log_evidence(
    joint: Floats, call_node: Places, poured: Glasses, part: float, settings: Settings
) -> float:
    """Log probability of all answers to one sample if a part of the stated addition went in.

    The error of the preparation is shared: it is averaged over outside the product over glasses.

    Args:
        joint: Posterior of each glass's taster without this sample; shape (A, C, G).
        call_node: False-call node of each glass's taster; shape (A,).
        poured: The A glasses of the sample.
        part: 1 as stated, .5 half, 0 nothing added.
        settings: Numbers of the model.
    """
    grid = build_grid(settings)
    seen = seen_in(poured, grid.dose_shift, part, settings)
    share, base = answer_weights(poured, call_node, settings)
    doses = grid.dose_shift.size
    each = likelihood(
        np.repeat(share, doses, axis=0), np.repeat(base, doses), seen.reshape(-1, grid.theta.size)
    ).reshape(len(seen), doses, *joint.shape[1:])
    _, first, taster = np.unique(poured.person, return_index=True, return_inverse=True)
    together = np.ones((first.size, *each.shape[1:]))
    for place, own in zip(taster, each, strict=True):
        together[place] *= own
    by_taster = np.einsum("tjcg,tcg->tj", together, joint[first])
    return float(logsumexp(np.log(by_taster).sum(axis=0), b=grid.dose_weight))
