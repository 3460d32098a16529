"""Does a person rate different samples differently, and do several judges rate alike?"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import fdtrc

_ROUNDING: Final = 1e-13  # means of equal ratings differ by less than this part of the ratings

Floats = NDArray[np.float64]


class OneWay(NamedTuple):
    """Ratings split into what differs between groups and what differs within them.

    Attributes:
        between: Mean square between groups; nan with fewer than two groups.
        within: Mean square within groups; nan where no group holds two ratings.
        between_freedom: Degrees of freedom between groups: groups less one.
        within_freedom: Degrees of freedom within groups: ratings less groups.
        group_size: Size of a group that counts as the average one if sizes differ; nan with fewer
            than two groups.
        ratio: F, between / within. Groups that differ without any spread within give inf; ratings
            that are all the same give nan, since neither sort of spread was seen.
        p: Chance of so large an F if the groups did not differ; nan where F is.
    """

    between: float
    within: float
    between_freedom: int
    within_freedom: int
    group_size: float
    ratio: float
    p: float


class IntraclassCorrelations(NamedTuple):
    """The six forms of Shrout & Fleiss: for one judge's rating and for the mean of all judges.

    Attributes:
        one_way_single: (1,1), each target has its own judges.
        random_single: (2,1), the same judges for all, drawn from many.
        fixed_single: (3,1), the same judges for all, and only these matter.
        one_way_mean: (1,k).
        random_mean: (2,k).
        fixed_mean: (3,k).
    """

    one_way_single: float
    random_single: float
    fixed_single: float
    one_way_mean: float
    random_mean: float
    fixed_mean: float


def analyse_one_way(ratings: ArrayLike, group: ArrayLike) -> OneWay:
    """Compare groups of ratings: one person's samples, or one sample's people.

    Ratings that are nan are left out, and a group of nothing else with them.

    Args:
        ratings: Ratings on one scale; shape (n,).
        group: Code of the group that each belongs to; shape (n,). Groups may differ in size.

    Returns:
        Mean squares, F and p; whatever the ratings cannot tell is nan.

    Raises:
        ValueError: if the shapes differ or a rating is infinite.

    Source:
        Fisher's one-way analysis of variance; average group size of ISO 5725-2 (unequal numbers).
    """
    values, place = _known(ratings, group)
    sizes = np.bincount(place)
    between_freedom, within_freedom = max(sizes.size - 1, 0), values.size - sizes.size
    # Counted from one of its own ratings, a group without spread leaves exactly 0 and no dust.
    start = values[np.unique(place, return_index=True)[1]]
    offset = values - start[place]
    inside = np.bincount(place, offset) / np.maximum(sizes, 1)
    means = start - start[:1] + inside
    middle = (sizes * means).sum() / max(values.size, 1)
    between = _per(between_freedom, (sizes * (means - middle) ** 2).sum())
    within = _per(within_freedom, ((offset - inside[place]) ** 2).sum())
    size = _per(between_freedom, values.size - (sizes**2).sum() / max(values.size, 1))
    ratio, p = _f_test(between, within, between_freedom, within_freedom)
    return OneWay(between, within, between_freedom, within_freedom, size, ratio, p)


def intraclass_correlations(table: ArrayLike) -> IntraclassCorrelations:
    """How far ratings of one target resemble each other, against those of other targets.

    Values below 0 are kept: judges who agree less than chance would have it.

    Args:
        table: Ratings, one row a target and one column a judge; shape (n, k).

    Returns:
        Six coefficients, at most 1; nan with fewer than two targets or judges, and for a form
        that divides by nothing, as where the targets' means do not differ at all.

    Raises:
        ValueError: if the table has not two dimensions or a rating is not finite: every judge
            must have rated every target.

    Source:
        Shrout & Fleiss (1979), Psychol. Bull. 86:420-428.
    """
    ratings = np.asarray(table, dtype=np.float64)
    if ratings.ndim != 2 or not np.all(np.isfinite(ratings)):
        msg = f"A full table of targets by judges is needed, got shape {ratings.shape} or gaps."
        raise ValueError(msg)
    targets, judges = ratings.shape
    if min(targets, judges) < 2:
        return IntraclassCorrelations(*[float("nan")] * 6)
    target, judge, rest, within = _mean_squares(ratings - ratings[0, 0])
    others, bias = judges - 1, (judge - rest) / targets
    return IntraclassCorrelations(
        one_way_single=_share(target - within, target + others * within),
        random_single=_share(target - rest, target + others * rest + judges * bias),
        fixed_single=_share(target - rest, target + others * rest),
        one_way_mean=_share(target - within, target),
        random_mean=_share(target - rest, target + bias),
        fixed_mean=_share(target - rest, target),
    )


def _mean_squares(ratings: Floats) -> tuple[float, float, float, float]:
    """Between targets, between judges, of what is left, and within targets."""
    targets, judges = ratings.shape
    by_target, by_judge = ratings.mean(axis=1), ratings.mean(axis=0)
    middle = ratings.mean()
    left = ratings - by_target[:, None] - by_judge + middle
    target = judges * ((by_target - middle) ** 2).sum() / (targets - 1)
    judge = targets * ((by_judge - middle) ** 2).sum() / (judges - 1)
    rest = (left**2).sum() / ((targets - 1) * (judges - 1))
    within = ((ratings - by_target[:, None]) ** 2).sum() / (targets * (judges - 1))
    dust = (_ROUNDING * np.abs(ratings).max()) ** 2
    target, judge, rest, within = (
        float(square) if square > dust else 0.0 for square in (target, judge, rest, within)
    )
    return target, judge, rest, within


def _share(above: float, below: float) -> float:
    return above / below if below > 0 else float("nan")


def _known(ratings: ArrayLike, group: ArrayLike) -> tuple[Floats, NDArray[np.intp]]:
    """Ratings that were given, and the place of each one's group among those left."""
    values, codes = np.asarray(ratings, dtype=np.float64), np.asarray(group)
    if values.ndim != 1 or values.shape != codes.shape:
        msg = f"Two rows of equal length are needed, got shapes {values.shape} and {codes.shape}."
        raise ValueError(msg)
    if np.any(np.isinf(values)):
        msg = "A rating must be finite, or nan if it was not given."
        raise ValueError(msg)
    given = ~np.isnan(values)
    _, place = np.unique(codes[given], return_inverse=True)
    return values[given], place.reshape(-1)


def _per(freedom: int, total: float) -> float:
    return float(total / freedom) if freedom > 0 else float("nan")


def _f_test(
    between: float, within: float, between_freedom: int, within_freedom: int
) -> tuple[float, float]:
    """F and its p."""
    if within > 0:
        ratio = between / within
        return ratio, float(fdtrc(between_freedom, within_freedom, ratio))
    return (float("inf"), 0.0) if within == 0 and between > 0 else (float("nan"), float("nan"))
