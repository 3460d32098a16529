"""What this panel's own threshold is for each compound, beside the brewery's number and the book's."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any, Final

from seatworthy.stats.ability.pooling import PANEL_MEANS
from seatworthy.stats.best_estimate import group_threshold
from seatworthy.steps.concentrations import amount_text, shown_unit
from seatworthy.steps.desk import Desk
from seatworthy.steps.estimating import model_settings
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import short_label
from seatworthy.steps.threshold_words import concentration_text, threshold_text

FEWEST_PEOPLE: Final = 3  # with fewer the panel's mean is mostly what was assumed
FAR: Final = 1.5  # a panel mean whose whole range lies this factor off the working threshold
SHORTEST_SERIES: Final = 3

Row = Mapping[str, Any]


@dataclass(frozen=True)
class PanelNeed:
    """One compound in one beer family.

    Attributes:
        people: People with glasses of it in this family.
        threshold: The panel's mean threshold as a multiple of the working threshold, with range.
        amount: The same as a concentration; "" without a working threshold.
        working: The working threshold in force; "" without one.
        book: The book's range in the compound's unit; "" where books are silent.
        best_estimate: Best-estimate group threshold of the latest common 3-AFC series, a multiple,
            after ASTM E679; None without one.
        best_estimate_people: How many answered it.
        is_far: Whether the whole range lies far from the working threshold.
    """

    compound: str
    label: str
    people: int
    threshold: str
    amount: str
    working: str
    book: str
    best_estimate: float | None
    best_estimate_people: int
    is_far: bool


def panel_needs(desk: Desk, family: str, as_of: date | None = None) -> tuple[PanelNeed, ...]:
    """Compounds that at least `FEWEST_PEOPLE` have tasted in a family, those far off first.

    Args:
        desk: The open store.
        family: Beer family's key; empty where it is not known.
        as_of: The day; None for today.
    """
    judged = judge_day(desk, as_of)
    if family not in judged.families:
        return ()
    b = judged.evidence.families.index(family)
    tasted = judged.followed.today.has_glasses[:, :, b].sum(axis=0)
    asking = _Asking(desk, judged, family)
    found = [
        asking.need(compound, k, int(tasted[k]))
        for k, compound in enumerate(judged.evidence.compounds)
        if tasted[k] >= FEWEST_PEOPLE
    ]
    return tuple(sorted(found, key=lambda need: (not need.is_far, need.label.casefold())))


class _Asking:
    """The needs of one beer family in the making."""

    def __init__(self, desk: Desk, judged: Judged, family: str) -> None:
        self.judged, self.family = judged, family
        self.b = judged.evidence.families.index(family)
        # A panel's mean is sought less far out than a person's threshold.
        self.settings = replace(model_settings(judged.rulebook), theta_limit=float(PANEL_MEANS[-1]))
        stated = desk.store.rows("thresholds_on", family=family, on_day=judged.as_of)
        self.working = {row["compound"]: row["threshold_ug_l"] for row in stated}
        self.known = {row["compound"]: row for row in desk.store.rows("shelf_compounds")}
        self.series: dict[str, list[Row]] = defaultdict(list)
        for row in desk.store.rows("series", family=family, until_on=judged.as_of):
            self.series[row["compound"]].append(row)

    def need(self, compound: str, k: int, people: int) -> PanelNeed:
        followed, known = self.judged.followed, self.known[compound]
        ends = tuple(
            float(one[k, self.b])
            for one in (
                followed.panel_threshold,
                followed.panel_threshold_low,
                followed.panel_threshold_high,
            )
        )
        unit, working = shown_unit(known["reference_unit"]), self.working.get(compound)
        best, answered = best_estimate_of_group(self.series[compound])
        amount = concentration_text(*ends, working, unit, self.settings) if working else ""
        return PanelNeed(
            compound=compound,
            label=short_label(known["label"]),
            people=people,
            threshold=threshold_text(*ends, self.settings),
            amount=amount,
            working=amount_text(working, unit) if working else "",
            book=_book(known["reference_low"], known["reference_high"], unit),
            best_estimate=best,
            best_estimate_people=answered,
            is_far=2.0 ** ends[1] > FAR or 2.0 ** ends[2] < 1 / FAR,
        )


def _book(low: Decimal | None, high: Decimal | None, unit: str) -> str:
    """A book's range, which stands in the compound's own unit."""
    ends = [f"{end.normalize():f}" for end in (low, high) if end is not None]
    return f"{' to '.join(dict.fromkeys(ends))} {unit}" if ends else ""


def best_estimate_of_group(rows: Sequence[Row]) -> tuple[float | None, int]:
    """Group threshold of the latest day on which several people answered the same series.

    Args:
        rows: Rows of ``sql/queries/series.sql`` for one compound.

    Returns:
        The threshold as a multiple and how many people it rests on; None and 0 without one.
    """
    by_day: dict[date, dict[str, dict[float, bool]]] = defaultdict(lambda: defaultdict(dict))
    for row in rows:
        by_day[row["session_on"]][row["person_id"]][row["level"]] = row["is_right"]
    for day in sorted(by_day, reverse=True):
        series = [tuple(levels) for levels in by_day[day].values()]
        levels = max(series, key=lambda one: (series.count(one), len(one)))
        alike = [list(own.values()) for own in by_day[day].values() if tuple(own) == levels]
        if len(levels) >= SHORTEST_SERIES and len(alike) > 1:
            return group_threshold(levels, alike)[0], len(alike)
    return None, 0
