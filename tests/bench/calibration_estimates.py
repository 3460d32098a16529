"""What the ability model says of invented panels, beside the truth and the plain counts."""

from dataclasses import dataclass, fields
from typing import Final

import numpy as np
from numpy.typing import NDArray
from worlds import World

from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.followed import Today
from seatworthy.stats.ability.glasses import NAMING, Glasses, Outcome
from seatworthy.stats.ability.settings import DEFAULT, Settings

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Whole = NDArray[np.int64]

COUNTED_LEVELS: Final = (2.0, 4.0)
COUNTED_DAYS: Final = 365


@dataclass(frozen=True)
class Said:
    """What is said of N cells on some answers; every array has shape (N,).

    Attributes:
        rate: Mean rate of right names at the reference level.
        rate_low: Lower end of its interval.
        rate_high: Upper end.
        threshold: Mean threshold, log2 multiples.
        threshold_low: Lower end of its interval.
        threshold_high: Upper end.
    """

    rate: Floats
    rate_low: Floats
    rate_high: Floats
    threshold: Floats
    threshold_low: Floats
    threshold_high: Floats


@dataclass(frozen=True)
class Estimates:
    """N cells of many panels; every array has shape (N,).

    Attributes:
        panel: Which panel a cell belongs to; cells of one panel are not independent.
        rate: True rate of right names at the reference level.
        threshold: True threshold, log2 multiples.
        misnames: Cells that often name wrongly.
        cannot_taste: Cells that lack the compound.
        is_lost: Cells lost on some day up to now.
        hits: Right names in the counted glasses.
        glasses: Counted glasses: named, 2 to 4 times the threshold, of the last 365 days.
        days: Days among them.
        chance: Chance, on own answers, that the rate is good enough.
        own: What own answers say.
        pooled: What colleagues' answers add to it.
    """

    panel: Whole
    rate: Floats
    threshold: Floats
    misnames: Flags
    cannot_taste: Flags
    is_lost: Flags
    hits: Whole
    glasses: Whole
    days: Whole
    chance: Floats
    own: Said
    pooled: Said

    def where(self, chosen: Flags) -> "Estimates":
        """Only some of the cells."""
        own, pooled = (
            Said(*(getattr(said, field.name)[chosen] for field in fields(Said)))
            for said in (self.own, self.pooled)
        )
        names = [field.name for field in fields(self)][:-2]
        return Estimates(*(getattr(self, name)[chosen] for name in names), own, pooled)


def estimate(world: World, settings: Settings = DEFAULT) -> Estimates:
    """Follow every panel of a world by itself and lay its cells in a row."""
    panels, *shape = world.shape
    counts, days = [], []
    for number in range(panels):
        glasses, blanks = world.panel(number)
        counts.append(_count(glasses, tuple(shape), world.today))
        days.append(follow(glasses, blanks, tuple(shape), world.today, settings).today)
    hits, glasses, tasted = (np.concatenate(part) for part in zip(*counts, strict=True))
    return Estimates(
        **_true(world),
        hits=hits,
        glasses=glasses,
        days=tasted,
        chance=_joined(days, "chance_met_own"),
        own=Said(*(_joined(days, name) for name in _NAMES)),
        pooled=Said(*(_joined(days, _pooled(name)) for name in _NAMES)),
    )


_NAMES: Final = (
    "rate_mean",
    "rate_low",
    "rate_high",
    "threshold_mean_own",
    "threshold_low_own",
    "threshold_high_own",
)


def _pooled(name: str) -> str:
    return name.removesuffix("_own") + "_pooled"


def _joined(days: list[Today], name: str) -> Floats:
    return np.concatenate([getattr(day, name).ravel() for day in days])


def _true(world: World) -> dict[str, np.ndarray]:
    cells, shape = world.cells, world.shape
    of_cells = {
        "panel": np.arange(shape[0])[:, None, None],
        "misnames": cells.misnames,
        "cannot_taste": cells.cannot_taste,
        "is_lost": cells.is_lost & (world.today >= cells.lost_on),
    }
    spread = {
        name: np.broadcast_to(values[..., None], shape).ravel() for name, values in of_cells.items()
    }
    return spread | {"rate": world.rate.ravel(), "threshold": world.threshold.ravel()}


def _count(glasses: Glasses, shape: tuple[int, ...], today: int) -> tuple[Whole, Whole, Whole]:
    """Hits, glasses and days of each cell as the default rulebook counts, families apart."""
    low, high = COUNTED_LEVELS
    counts = (glasses.method == NAMING) & (glasses.level >= low) & (glasses.level <= high)
    chosen = glasses.where(counts & (glasses.day > today - COUNTED_DAYS))
    place = np.ravel_multi_index((chosen.person, chosen.compound, chosen.family), shape)
    hit = place[chosen.outcome == Outcome.RIGHT]
    of_days = np.unique(np.stack([place, chosen.day]), axis=1)[0]
    return tuple(np.bincount(of, minlength=int(np.prod(shape))) for of in (hit, place, of_days))
