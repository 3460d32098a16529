"""What one panel would miss, from the day judged: the join of the record with `decide`."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.clean_beer import Range, clean_beer
from seatworthy.decide.missing import Misses, panel_misses
from seatworthy.decide.noses import LEVELS, Floats, Noses, named_mean
from seatworthy.rules.rulebook import Item
from seatworthy.rules.verdict import Standing
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import item_label
from seatworthy.steps.miss_views import Chance, ItemFigures, PanelFigures
from seatworthy.steps.noses import noses_of


@dataclass(frozen=True)
class FamilyNoses:
    """Everybody's chances in one beer family, and who is counted on for what.

    Attributes:
        judged: The day judged.
        family: Beer family's key.
        noses: P people and K compounds; those not counted on say what they say of plain beer.
        tested: Whether somebody has own glasses of a compound; shape (P, K).
        deaf: Whether somebody doesn't smell it; shape (P, K).
        items: Critical items, then the other compounds that somebody has tasted.
        critical: How many of the items are critical; they stand first.
    """

    judged: Judged
    family: str
    noses: Noses
    tested: NDArray[np.bool_]
    deaf: NDArray[np.bool_]
    items: tuple[Item, ...]
    critical: int

    @property
    def counted(self) -> NDArray[np.bool_]:
        """Whether somebody is counted on for a compound; shape (P, K)."""
        return self.tested & ~self.deaf

    def places(self, item: Item) -> tuple[int, ...]:
        """Where the compounds of an item stand."""
        return tuple(self.noses.compounds.index(compound) for compound in item)

    def where(self, people: Sequence[str]) -> list[int]:
        """Where people stand on the person axis."""
        return [self.noses.people.index(person) for person in people]

    def named(self, level: float) -> Floats:
        """Chance to name each compound at a level, nought where not counted on; shape (P, K)."""
        return named_mean(self.noses, level)[..., 0] * self.counted

    def meets(self, item: Item) -> NDArray[np.bool_]:
        """Whether somebody meets an item by the rules; shape (P,)."""
        cells = self.judged.cells
        return np.array([
            any((c := cells.get((person, k, self.family))) and c.standing is Standing.MET for k in item)
            for person in self.noses.people
        ], dtype=np.bool_)  # fmt: skip


def family_noses(desk: Desk, judged: Judged, family: str) -> FamilyNoses:
    """Everybody on record in one beer family on the day judged."""
    noses = noses_of(desk, judged, family)
    deaf = np.zeros(noses.is_tested.shape, dtype=np.bool_)
    for (person, compound, beers), verdict in judged.cells.items():
        if beers == family and verdict.standing is Standing.INSENSITIVE:
            deaf[noses.people.index(person), noses.compounds.index(compound)] = True
    critical = judged.critical.get(family, ())
    listed = {compound for item in critical for compound in item}
    others = [
        (compound,)
        for compound, tasted in zip(noses.compounds, noses.is_tested.any(axis=0), strict=True)
        if tasted and compound not in listed
    ]
    others.sort(key=lambda item: item_label(item, judged.labels).casefold())
    return FamilyNoses(
        judged, family, noses, noses.is_tested, deaf, (*critical, *others), len(critical)
    )


def levels_shown(judged: Judged) -> tuple[float, ...]:
    """The levels of the table, with the one at which the rulebook asks."""
    return tuple(sorted({*LEVELS, judged.rulebook.asked.reference_level}))


def panel_figures(
    known: FamilyNoses, people: Sequence[str], callers: int, limit: Decimal
) -> PanelFigures:
    """What these people would miss together.

    Args:
        known: Everybody in the beer family.
        people: Person ids of those who sit; may be nobody.
        callers: Independent callers that make a fault call.
        limit: How often a critical compound may slip past.
    """
    levels, level = levels_shown(known.judged), known.judged.rulebook.asked.reference_level
    at = known.where(people)
    panel, counted = known.noses.of(at), known.counted[at]
    places = [known.places(item) for item in known.items]
    items: tuple[ItemFigures, ...] = ()
    if places and at:
        misses = panel_misses(panel, counted, places, callers, levels, levels.index(level))
        items = tuple(_item(known, people, misses, number) for number in range(len(places)))
    clean = clean_beer(panel, callers) if at else None
    return PanelFigures(
        people=tuple(people),
        callers=callers,
        limit=limit,
        level=level,
        levels=levels,
        items=items or tuple(_unknown(known, number) for number in range(len(places))),
        same=_chance(clean.same) if clean else None,
        anything=_chance(clean.anything) if clean else None,
    )


def _item(known: FamilyNoses, people: Sequence[str], misses: Misses, number: int) -> ItemFigures:
    at, item = known.where(people), known.items[number]
    own = list(known.places(item))
    ends = zip(misses.mean[number], misses.low[number], misses.high[number], strict=True)
    is_known = not np.isnan(misses.mean[number, 0])
    away = int(misses.away[number])
    tested, deaf = known.tested[at][:, own], known.deaf[at][:, own]
    is_deaf = (deaf | ~tested).all(axis=1) & deaf.any(axis=1)
    return replace(
        _unknown(known, number),
        member=known.noses.compounds[misses.member[number]],
        slips=tuple(Chance(float(m), float(lo), float(hi)) for m, lo, hi in ends)
        if is_known
        else (),
        away=people[away] if is_known and away >= 0 else None,
        without=float(misses.without[number]) if is_known and away >= 0 else None,
        noses=int(known.meets(item)[at].sum()),
        deaf=tuple(p for p, so in zip(people, is_deaf, strict=True) if so),
        untested=tuple(p for p, so in zip(people, ~tested.any(axis=1), strict=True) if so),
    )


def _unknown(known: FamilyNoses, number: int) -> ItemFigures:
    """An item of which nothing is said."""
    item = known.items[number]
    return ItemFigures(item, number < known.critical, item[0], (), None, None, 0, (), ())


def _chance(found: Range) -> Chance:
    return Chance(found.mean, found.low, found.high)
