"""How well somebody repeats a rating: spread of hidden duplicates, of groups, of a panel."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import chdtri

from seatworthy.stats.discrimination import analyse_one_way
from seatworthy.stats.proportions import Interval

PRIOR_FREEDOM: Final = 4.0  # pairs that the panel's value counts for; too few people to learn it
_HALVINGS: Final = 60

Floats = NDArray[np.float64]


class Spread(NamedTuple):
    """A standard deviation and its interval, in the unit of the ratings and of one shape."""

    sd: Floats
    interval: Interval


class Precision(NamedTuple):
    """Mean and standard deviations of repeated ratings by several people.

    Attributes:
        mean: Mean of all ratings.
        repeatability_sd: s_r, of one person's ratings of the same sample.
        between_sd: s_L, of people's own means, after taking off what s_r explains; at least 0.
        reproducibility_sd: s_R, of ratings by any two people: sqrt(s_r^2 + s_L^2).
    """

    mean: float
    repeatability_sd: float
    between_sd: float
    reproducibility_sd: float


def within_variance(differences: ArrayLike) -> float:
    """Variance of one rating about its own mean, from pairs of the same sample.

    Args:
        differences: First rating less second, one a pair; shape (m,). Pairs with a nan, one rating
            not given, are left out.

    Returns:
        sum d^2 / (2 m), in the squared unit of the ratings; nan without any pair.

    Raises:
        ValueError: if a difference is infinite.
    """
    known = _known_differences(differences)
    return float(np.mean(known**2) / 2) if known.size else float("nan")


def panel_sd(variances: ArrayLike, pairs: ArrayLike, prior_freedom: float = PRIOR_FREEDOM) -> float:
    """Spread of a typical person's ratings: the s0 that makes the panel's spreads most likely.

    Args:
        variances: `within_variance` of each person; shape (P,). Not looked at for no pairs.
        pairs: Number of pairs of each person; shape (P,).
        prior_freedom: d0, how alike people's true spreads are taken to be, > 0.

    Returns:
        In the unit of the ratings; nan if nobody has a pair. Where so many people repeat exactly
        that 0 would be most likely, the root of the mean variance over all pairs instead: a scale
        of few steps must not make anybody certain. 0 only if nobody ever differed.

    Raises:
        ValueError: if a variance or a number of pairs is negative or unknown where it counts, or
            `prior_freedom` is not above 0.

    Source:
        Smyth (2004), Stat. Appl. Genet. Mol. Biol. 3:3: v / s0^2 ~ F(m, d0), here with d0 fixed.
    """
    _check_prior_freedom(prior_freedom)
    spread, number = _checked(variances, pairs)
    spread, number = spread[number > 0], number[number > 0]
    if not spread.size:
        return float("nan")

    def is_too_small(square: float) -> bool:
        shares = (prior_freedom + number) * square / (prior_freedom * square + number * spread)
        return shares.sum() < spread.size

    if (1 + number[spread == 0] / prior_freedom).sum() >= spread.size:
        return float(np.sqrt((number * spread).sum() / number.sum()))
    low, high = 0.0, float(spread.max())
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if is_too_small(middle) else (low, middle)
    return float(np.sqrt(high))


def moderated_sd(
    variances: ArrayLike,
    pairs: ArrayLike,
    panel: float,
    confidence: float = 0.90,
    prior_freedom: float = PRIOR_FREEDOM,
) -> Spread:
    """Spread of a person's ratings, drawn towards the panel's while pairs are few.

    Colleagues' ratings enter through the panel's value, so it describes and judges nobody.

    Args:
        variances: `within_variance` of each person; any shape. Not looked at for no pairs.
        pairs: Number of pairs m of each; same shape.
        panel: The panel's standard deviation s0, from `panel_sd`; nan if unknown.
        confidence: Coverage of the interval, a fraction between 0 and 1.
        prior_freedom: d0, the number of pairs that the panel's value counts for, > 0.

    Returns:
        sqrt((d0 s0^2 + m v) / (d0 + m)) and an interval from chi-square with d0 + m degrees of
        freedom. Without pairs the panel's value; nan where the panel's is. In simulated panels of
        eight whose spreads differ by .35 (log) the 90 % interval held the truth in .87 to .89 with
        three pairs or more, in .83 with one.

    Raises:
        ValueError: if a variance, a number of pairs or `panel` is negative, a variance is unknown
            where there are pairs, or `confidence` or `prior_freedom` is out of range.

    Source:
        Smyth (2004), Stat. Appl. Genet. Mol. Biol. 3:3. The freedom is fixed since five to eight
        people are too few to estimate it.
    """
    if not 0 < confidence < 1:
        msg = f"Confidence is a fraction between 0 and 1, got {confidence}."
        raise ValueError(msg)
    if panel < 0:
        msg = f"The panel's standard deviation must not be negative, got {panel}."
        raise ValueError(msg)
    _check_prior_freedom(prior_freedom)
    spread, number = _checked(variances, pairs)
    freedom, tail = prior_freedom + number, (1 - confidence) / 2
    total = prior_freedom * panel**2 + number * spread
    low, high = (np.sqrt(total / chdtri(freedom, upper)) for upper in (tail, 1 - tail))
    return Spread(np.sqrt(total / freedom), Interval(low, high))


def precision(ratings: ArrayLike, group: ArrayLike) -> Precision:
    """Repeatability and reproducibility of repeated ratings of one sample.

    Args:
        ratings: Ratings on one scale; shape (n,). Those that are nan are left out.
        group: Code of who gave each; shape (n,). Groups may differ in size.

    Returns:
        Mean and standard deviations. Without any repeat all three standard deviations are nan;
        with a single person only s_r is known.

    Raises:
        ValueError: if the shapes differ or a rating is infinite.

    Source:
        After ISO 5725-2, one-way layout; its tests for outliers are not made here.
    """
    parts = analyse_one_way(ratings, group)
    values = np.asarray(ratings, dtype=np.float64)
    known = values[~np.isnan(values)]
    between = np.maximum((parts.between - parts.within) / parts.group_size, 0)
    return Precision(
        mean=float(known.mean()) if known.size else float("nan"),
        repeatability_sd=float(np.sqrt(parts.within)),
        between_sd=float(np.sqrt(between)),
        reproducibility_sd=float(np.sqrt(parts.within + between)),
    )


def _known_differences(differences: ArrayLike) -> Floats:
    values = np.asarray(differences, dtype=np.float64)
    if np.any(np.isinf(values)):
        msg = "A difference must be finite, or nan if a rating was not given."
        raise ValueError(msg)
    return values[~np.isnan(values)]


def _check_prior_freedom(prior_freedom: float) -> None:
    if not prior_freedom > 0:
        msg = f"The prior's freedom must be above 0, got {prior_freedom}."
        raise ValueError(msg)


def _checked(variances: ArrayLike, pairs: ArrayLike) -> tuple[Floats, Floats]:
    """Variances, 0 where there are no pairs, and numbers of pairs, of one shape."""
    spread, number = np.broadcast_arrays(
        np.asarray(variances, dtype=np.float64), np.asarray(pairs, dtype=np.float64)
    )
    spread = np.where(number == 0, 0.0, spread)
    if not np.all(np.isfinite(spread) & (spread >= 0) & np.isfinite(number) & (number >= 0)):
        msg = "Variances and numbers of pairs must be known and not negative."
        raise ValueError(msg)
    return spread, number
