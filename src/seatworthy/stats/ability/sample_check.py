"""Was a sample made as stated? If everybody misses what they usually find, suspect the bottle."""

from dataclasses import dataclass, fields
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import logsumexp
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.history import Cells, History, Places
from seatworthy.stats.ability.pooling import pool
from seatworthy.stats.ability.reading import posterior
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.ability.tables import answer_weights, likelihood, seen_in

AS_STATED, NOT_DOSED, HALF, TWICE = 1.0, 0.0, 0.5, 2.0

Limits = tuple[tuple[int, float], ...]


@dataclass(frozen=True)
class SlipChances:
    """How often preparations go wrong before anybody has tasted. Assumed, not measured.

    Attributes:
        not_dosed: Share of samples to which nothing was added.
        half_dosed: Share with half of the stated addition.
        twice_dosed: Share with twice of it.

    Raises:
        ValueError: if a share is not above 0 or together they leave nothing for "as stated".
    """

    not_dosed: float = 0.03
    half_dosed: float = 0.02
    twice_dosed: float = 0.02

    def __post_init__(self) -> None:
        shares = [getattr(self, field.name) for field in fields(self)]
        if min(shares) <= 0 or sum(shares) >= 1:
            msg = f"Shares of slips must be above 0 and together below 1, got {shares}."
            raise ValueError(msg)


ASSUMED_SLIPS: Final = SlipChances()

# Log factor above which a sample is suspect, by the least number of tasters. From simulated panels
# (true dose error .25 log2, six earlier answers a person, level 3; tests/bench/bench_sample_check.py
# with 30 worlds, 1,200 samples a row, standard errors up to .014): shares of good samples called
# bad, and of bad ones found, with 3 / 4 / 6 / 8 / 12 tasters.
NOT_DOSED_ABOVE: Final[Limits] = ((4, 2.0), (3, 3.0))
"""Called bad .005 .008 .002 .001 .000, half a dose .06 .09 .06 .05 .03; found .83 .96 .99 .99 1."""
HALF_ABOVE: Final[Limits] = ((3, 2.0),)
"""Called bad .010 .013 .019 .022 .020, found .09 .14 .23 .32 .40. No dose at all is found too."""
TWICE_ABOVE: Final[Limits] = ((3, 1.5),)
"""Called bad .005 .005 .008 .019 .019, found .02 .03 .06 .10 .14."""
HALF_STOCK_ABOVE: Final[Limits] = ((3, 4.0),)
"""For sums over a stock. Four samples: called bad .01 at most, found .20 .28 .40 .53 .64."""
TWICE_STOCK_ABOVE: Final[Limits] = ((3, 3.0),)
"""Likewise. Called bad .02 at most, found .08 .11 .16 .24 .30."""


@dataclass(frozen=True)
class SampleCheck:
    """How the answers to each of S samples speak about its preparation; every array (S,).

    Log factors are natural logarithms of Bayes factors against "as stated": above 0 speaks for a
    slip. Those of several samples from one stock may be added (`add_by_stock`). Above which factor
    a sample is suspect, and how often that is wrong, stands at `NOT_DOSED_ABOVE` and the limits
    after it. Half or twice the dose can hardly be seen in a single sample. Which slip is the
    likeliest is what the chances say.

    Attributes:
        sample: The numbers that were given for the samples, ascending.
        glasses: Glasses answered of it.
        tasters: Different people among them.
        log_not_dosed: Nothing was added : as stated.
        log_half_dosed: Half was added : as stated.
        log_twice_dosed: Twice as much was added : as stated.
        chance_as_stated: Chance that it was made as stated; the four chances weigh the factors
            with the chances of a slip before tasting, and sum to 1.
        chance_not_dosed: Chance that nothing was added.
        chance_half_dosed: Chance of half.
        chance_twice_dosed: Chance of twice.
    """

    sample: NDArray[np.int64]
    glasses: NDArray[np.int64]
    tasters: NDArray[np.int64]
    log_not_dosed: Floats
    log_half_dosed: Floats
    log_twice_dosed: Floats
    chance_as_stated: Floats
    chance_not_dosed: Floats
    chance_half_dosed: Floats
    chance_twice_dosed: Floats


@dataclass(frozen=True)
class StockCheck:
    """The samples of each of T stocks taken together; every array (T,).

    Attributes:
        stock: The numbers that were given for the stocks, ascending.
        samples: Samples made from it.
        tasters: Tasters of these samples, somebody who tasted two of them counted twice.
        log_not_dosed: Sum of the samples' log factors.
        log_half_dosed: Likewise.
        log_twice_dosed: Likewise.
    """

    stock: NDArray[np.int64]
    samples: NDArray[np.int64]
    tasters: NDArray[np.int64]
    log_not_dosed: Floats
    log_half_dosed: Floats
    log_twice_dosed: Floats


def check_samples(
    glasses: Glasses,
    blanks: Blanks,
    sample: NDArray[np.int64],
    shape: tuple[int, int, int],
    settings: Settings = DEFAULT,
    slips: SlipChances = ASSUMED_SLIPS,
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
        slips: How often preparations go wrong.

    Returns:
        One entry for each sample with at least one answer the model can read.
    """
    last = int(glasses.day.max(initial=0))
    found: dict[int, tuple[float, ...]] = {}
    with threadpool_limits(limits=1):
        room = (max(shape[0], 1), max(shape[1], 1), max(shape[2], 1))
        history = History(glasses, blanks, room, last, settings, reads_all=True)
        numbers = sample[history.chosen]
        for day in history.days.tolist():
            on_day = history.glasses.day == day
            for number in np.unique(numbers[on_day & (numbers >= 0)]).tolist():
                poured = history.glasses.where(on_day & (numbers == number))
                tasters = np.unique(poured.person).size
                found[number] = (poured.day.size, tasters, *_log_factors(history, poured))
            history.absorb(day)
    columns = np.array([found[number] for number in sorted(found)]).reshape(-1, 5).T
    return SampleCheck(
        np.array(sorted(found), dtype=np.int64),
        *columns[:2].astype(np.int64),
        *columns[2:],
        *weigh_slips(columns[2:], slips),
    )


def weigh_slips(log_factors: Floats, slips: SlipChances = ASSUMED_SLIPS) -> Floats:
    """Chances of "as stated", "not dosed", "half" and "twice", given the answers.

    Args:
        log_factors: Log factors of the three slips against "as stated", of samples or of stocks;
            shape (3, S).
        slips: How often preparations go wrong.

    Returns:
        Shape (4, S); every column sums to 1.
    """
    before = np.array([getattr(slips, field.name) for field in fields(slips)])
    log_weight = np.log(np.append(1 - before.sum(), before))[:, None]
    log_weight = log_weight + np.concatenate([0 * log_factors[:1], log_factors])
    weight = np.exp(log_weight - log_weight.max(axis=0))
    return weight / weight.sum(axis=0)


def add_by_stock(check: SampleCheck, stock: ArrayLike) -> StockCheck:
    """Add the log factors of samples that were made from one stock.

    A wrong stock spoils all of them alike, so what no single sample shows may show in their sum.

    Args:
        check: S samples.
        stock: Number of the stock that each of them was made from, below 0 for none; shape (S,).

    Raises:
        ValueError: if there is not one number for each sample.
    """
    number = np.asarray(stock, dtype=np.int64)
    if number.shape != check.sample.shape:
        msg = f"Each of {check.sample.size} samples needs a stock, got shape {number.shape}."
        raise ValueError(msg)
    has_stock = number >= 0
    stocks, place = np.unique(number[has_stock], return_inverse=True)

    def total(values: NDArray[np.int64] | Floats) -> Floats:
        return np.bincount(place, values[has_stock], minlength=stocks.size)

    return StockCheck(
        stock=stocks,
        samples=np.bincount(place, minlength=stocks.size),
        tasters=total(check.tasters).astype(np.int64),
        log_not_dosed=total(check.log_not_dosed),
        log_half_dosed=total(check.log_half_dosed),
        log_twice_dosed=total(check.log_twice_dosed),
    )


def limit_for(tasters: ArrayLike, limits: Limits) -> Floats:
    """Log factor above which so many tasters make a sample suspect.

    Args:
        tasters: Numbers of different tasters; any shape.
        limits: Least number of tasters and limit, the largest number first.

    Returns:
        Shaped like `tasters`; inf where they are too few to say anything.
    """
    number = np.asarray(tasters)
    enough = [number >= least for least, _ in limits]
    return np.select(enough, [limit for _, limit in limits], np.inf)


def _log_factors(history: History, poured: Glasses) -> tuple[float, float, float]:
    """Log Bayes factors of "not dosed", "half" and "twice" against "as stated"."""
    settings = history.settings
    where = poured.compound[0], poured.family[0], poured.day[0]
    joint, node = expected_of_all(history, *where)
    stated, none, half, twice = (
        log_evidence(joint[poured.person], node[poured.person], poured, part, settings)
        for part in (AS_STATED, NOT_DOSED, HALF, TWICE)
    )
    return none - stated, half - stated, twice - stated


def expected_of_all(
    history: History, compound: int, family: int, day: int
) -> tuple[Floats, Places]:
    """What is known on a day about everybody and one compound in one beer family.

    Args:
        history: Has taken in the days before.
        compound: Place on the compound axis.
        family: Place on the beer-family axis.
        day: One of the history's days, or its last.

    Returns:
        Posterior of accuracy and threshold with colleagues' answers as prior, (P, C, G), and
        false-call node, (P,).
    """
    people = np.arange(history.shape[0])
    cells = Cells(people, *(np.full(people.size, one) for one in (compound, family, day)))
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
        part: 1 as stated, .5 half, 2 twice, 0 nothing added.
        settings: Numbers of the model.
    """
    grid = build_grid(settings)
    seen = seen_in(poured, grid.dose_shift, part, settings, call_node)
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
