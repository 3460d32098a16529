"""One panellist and compound from near: what the answers say, and the glasses behind it."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta
from functools import cached_property
from types import MappingProxyType
from typing import Any, Final

import numpy as np

from seatworthy.evidence import OUTCOMES, day_number
from seatworthy.phrases import multiple
from seatworthy.rules.verdict import percent
from seatworthy.stats.ability.both_ways import Cell as Place
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.smooth import smooth
from seatworthy.stats.ability.tables import clearness
from seatworthy.stats.ability.trend import Trend, find_trend
from seatworthy.stats.ability.why import find_reasons
from seatworthy.steps.cell_days import cell_place
from seatworthy.steps.closer_views import CloserView, Line, WeighedGlass
from seatworthy.steps.concentrations import shown_unit
from seatworthy.steps.desk import Desk
from seatworthy.steps.estimating import model_settings
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import short_label
from seatworthy.steps.record_rows import every_glass
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.threshold_words import concentration_text, threshold_text
from seatworthy.steps.views import ThresholdPoint

EPOCH: Final = date(1970, 1, 1)
HALF_WAY: Final = "There it is noticed about half the time; naming it takes more."
FURTHEST: Final = 5  # a d' beyond is certainty, whatever its number

Row = Mapping[str, Any]


def closer_look(
    desk: Desk,
    person_id: str,
    compound: str,
    family: str,
    *,
    as_of: date | None = None,
    known_at: datetime | None = None,
) -> CloserView | None:
    """What one panellist's answers about one compound say, for one beer family.

    Args:
        desk: The open store.
        person_id: Whose.
        compound: Compound's key.
        family: Beer family's key.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.

    Returns:
        None where this person has no glass of it with a known level, in any beer.
    """
    judged = judge_day(desk, as_of, known_at)
    known = (
        person_id in judged.people
        and family in judged.families
        and compound in judged.evidence.compounds
    )
    looking = _Looking(desk, judged, person_id, compound, family) if known else None
    return looking.view() if looking and looking.rows else None


OTHER_BEERS: Final = "in other beers, right"
OTHER_GLASSES: Final = MappingProxyType(
    {
        "naming": "older glasses or other levels, named right",
        "3afc": "one of three (3-AFC), right",
        "triangle": "triangle, right",
        "duo_trio": "duo-trio, right",
        "2afc": "one of two (2-AFC), right",
        "a_not_a": "A/not-A, yes",
    }
)


class _Looking:
    """One closer look in the making."""

    def __init__(self, desk: Desk, judged: Judged, person: str, compound: str, family: str) -> None:
        self.desk, self.judged = desk, judged
        self.person, self.compound, self.family = person, compound, family
        self.settings = model_settings(judged.rulebook)
        self.today = day_number(judged.as_of)
        self.place = cell_place(judged.evidence, (person, compound, family))

    def view(self) -> CloserView:
        label = short_label(self.judged.labels.get(self.compound, self.compound))
        return CloserView(
            compound=self.compound,
            label=label,
            head=f"{label}: needs {self._threshold_words()}",
            lines=tuple(self._lines()),
            curve=self._curve(),
            glasses=tuple(self._weighed()),
        )

    @cached_property
    def rows(self) -> list[Row]:
        """Every glass of this person and compound that is on record, in any beer, by day."""
        rows = every_glass(self.desk, self.judged, self.person)
        return [row for row in rows if row["compound"] == self.compound]

    @cached_property
    def _own(self) -> tuple[Glasses, Blanks, Place]:
        """The glasses of the rows, the person's blanks, and which cell is looked at."""
        evidence, (person, compound, family) = self.judged.evidence, self.place
        number = len(self.rows)
        glasses = Glasses(
            day=np.array([day_number(row["session_on"]) for row in self.rows], dtype=np.int64),
            person=np.full(number, person),
            compound=np.full(number, compound),
            family=np.array([evidence.families.index(row["family"]) for row in self.rows]),
            method=np.array([row["method"] for row in self.rows], dtype=np.str_),
            level=np.array([row["total_level"] for row in self.rows], dtype=np.float64),
            background=np.array([row["background_level"] or 0.0 for row in self.rows]),
            outcome=np.array([OUTCOMES[row["outcome"]] for row in self.rows]),
        )
        own = evidence.blank_person == person
        days, called = evidence.blank_day[own], evidence.blank_called[own]
        blanks = Blanks(days, np.full(days.size, person), called)
        return glasses, blanks, Place(person, compound, family)

    def _threshold(self) -> tuple[float, float, float]:
        now = self.judged.followed.today
        return (
            float(now.threshold_mean_own[self.place]),
            float(now.threshold_low_own[self.place]),
            float(now.threshold_high_own[self.place]),
        )

    def _threshold_words(self) -> str:
        return threshold_text(*self._threshold(), self.settings)

    def _lines(self) -> Iterator[Line]:
        yield self._rate()
        yield Line("Own threshold, 9 in 10", self._with_concentration())
        yield Line(self._at("Told apart from plain beer at"), self._distance())
        yield self._over_time(find_trend(*self._own, self.today, self.settings))
        if others := self._uncounted():
            yield Line("Informed also by", others)

    def _at(self, words: str) -> str:
        return f"{words} {multiple(self.settings.reference_level)}"

    def _rate(self) -> Line:
        now, at = self.judged.followed.today, self.place
        own = (now.rate_mean[at], now.rate_low[at], now.rate_high[at])
        pooled = (now.rate_mean_pooled[at], now.rate_low_pooled[at], now.rate_high_pooled[at])
        words = (
            f"{_share(*own)}, 9 in 10) of the time, on own answers alone. With what colleagues find as "
            f"background: {_share(*pooled)}); that decides nothing."
        )
        return Line(self._at("Named right at"), words)

    def _with_concentration(self) -> str:
        stated = self.desk.store.rows(
            "thresholds_on", self.judged.known_at, family=self.family, on_day=self.judged.as_of
        )
        working = {row["compound"]: row["threshold_ug_l"] for row in stated}.get(self.compound)
        if working is None:
            return f"{self._threshold_words()} of the working threshold. {HALF_WAY}"
        units = {row["compound"]: row for row in self.desk.store.rows("shelf_compounds")}
        unit = shown_unit(units[self.compound]["reference_unit"])
        amount = concentration_text(*self._threshold(), working, unit, self.settings)
        in_beer = f", so {amount}" if amount else ""
        return f"{self._threshold_words()} of the working threshold{in_beer}. {HALF_WAY}"

    def _distance(self) -> str:
        """D' at the reference level; a high threshold is a short distance."""
        mean, low, high = self._threshold()
        level = np.array(self.settings.reference_level)
        distances = clearness(level, np.array([high, mean, low])).tolist()
        short, middle, long = (
            f"{d:.1f}" if d <= FURTHEST else f"over {FURTHEST}" for d in distances
        )
        return f"d′ {middle} ({short} to {long})."

    def _over_time(self, trend: Trend) -> Line:
        title = "Over time"
        if np.isnan(trend.mean):
            return Line(title, "Glasses of one day say nothing about a trend.")
        chance = trend.chance_less_sensitive
        yearly = threshold_text(trend.mean, trend.low, trend.high, self.settings)
        if trend.is_less_sensitive:
            words = (
                f"Getting less sensitive, {percent(chance)} sure: needs {yearly} as much a year."
            )
            return Line(title, words, is_flagged=True)
        if trend.is_more_sensitive:
            sure = percent(trend.chance_more_sensitive)
            return Line(
                title, f"Getting more sensitive, {sure} sure: needs {yearly} as much a year."
            )
        return Line(
            title,
            f"No steady trend: {yearly} a year. A leap at one blow shows in the curve, not here.",
        )

    def _uncounted(self) -> str:
        """Glasses that inform the estimate and count for no seat, by what was asked."""
        kinds: dict[str, list[bool]] = defaultdict(list)
        for row in self.rows:
            if not row["is_counted"] or row["family"] != self.family:
                asked = OTHER_GLASSES.get(row["method"], OTHER_BEERS)
                kinds[asked if row["family"] == self.family else OTHER_BEERS].append(
                    row["outcome"] == "right"
                )
        return "; ".join(f"{asked} {sum(right)} of {len(right)}" for asked, right in kinds.items())

    def _curve(self) -> tuple[ThresholdPoint, ...]:
        curve = smooth(*self._own, self.today, self.settings)
        columns = (curve.days, curve.threshold_mean, curve.threshold_low, curve.threshold_high)
        return tuple(
            ThresholdPoint(EPOCH + timedelta(days=day), 2.0**mean, 2.0**low, 2.0**high)
            for day, mean, low, high in zip(*(one.tolist() for one in columns), strict=True)
        )

    def _weighed(self) -> Iterator[WeighedGlass]:
        reasons = find_reasons(*self._own, self.today, self.settings)
        weighed = zip(self.rows, reasons.counts, reasons.weight, reasons.pull, strict=True)
        for row, is_read, weight, pull in reversed(list(weighed)):
            yield WeighedGlass(
                day=row["session_on"],
                beers="" if row["family"] == self.family else self._beers(row["family"]),
                level=row["total_level"],
                method=row["method"],
                outcome="open" if row["outcome"] == "noticed" else row["outcome"],
                said=self._said(row),
                counts=bool(row["is_counted"]) and row["family"] == self.family,
                weight=float(weight) if is_read else None,
                pull=float(pull) if is_read else None,
            )

    def _beers(self, family: str) -> str:
        return in_sentence(self.judged.families.get(family, family))

    def _said(self, row: Row) -> str:
        said = str(row["said"])
        return short_label(self.judged.labels.get(said, said)) if row["said_a_compound"] else said


def _share(mean: float, low: float, high: float) -> str:
    return f"{percent(float(mean))} ({100 * low:.0f} to {100 * high:.0f}"
