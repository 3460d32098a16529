"""One panellist's record compound by compound: how sure, on what glasses, what is missing."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any, Final

from seatworthy.phrases import multiple
from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.compound_rules import ChanceRule
from seatworthy.rules.verdict import Standing, counted
from seatworthy.steps.boards import cell_view
from seatworthy.steps.chances import chance_to_name
from seatworthy.steps.desk import Desk
from seatworthy.steps.figures import CHOICES, Row, plain_figures
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import day_in_sentence, in_sentence, joined
from seatworthy.steps.views import GlassView, PlainFigures, RecordRow

NONE_COUNTED = "No glass counted yet; the chance rests on other glasses."
_TASTED: Final = (
    ("glass to be named", "glasses to be named"),
    ("glass asked by yes or no", "glasses asked by yes or no"),
    ("set", "sets"),
    ("rated glass", "rated glasses"),
)


def every_glass(desk: Desk, judged: Judged, person_id: str) -> list[dict[str, Any]]:
    """Every spiked glass of one panellist up to the day judged, in any beer, by day."""
    counting = judged.rulebook.counted
    return desk.store.rows(
        "person_glasses",
        judged.known_at,
        person_id=person_id,
        until_on=judged.as_of,
        after_on=months_before(judged.as_of, counting.months),
        lowest_level=counting.lowest_level,
        highest_level=counting.highest_level,
    )


def tasted_aside(glasses: Sequence[Row], ratings: int, figures: PlainFigures) -> str:
    """What was tasted of a compound of which no glass counts, in a sentence or two; "" for nothing.

    Args:
        glasses: Rows of ``sql/queries/person_glasses.sql`` for one compound.
        ratings: Rated glasses of it.
        figures: The plain figures of the same glasses.
    """
    methods = Counter(row["method"] for row in glasses)
    sets = sum(methods[method] for method in CHOICES)
    numbers = (methods["naming"], methods["a_not_a"], sets, ratings)
    told = [
        f"{number} {one if number == 1 else many}"
        for number, (one, many) in zip(numbers, _TASTED, strict=True)
        if number
    ]
    if not told:
        return ""
    verb = "it doesn't count" if sum(numbers) == 1 else "none counts"
    said = f"{joined(told)}; {verb} under this rulebook."
    if figures.best_estimate is None:
        return said
    edge = f"{figures.best_estimate_edge} " if figures.best_estimate_edge else ""
    return f"{said} Latest series: threshold {edge}{multiple(figures.best_estimate)}."


def _rated(desk: Desk, judged: Judged, person: str, family: str) -> Counter[str]:
    """How many glasses of each compound somebody rated in some beers, up to the day judged."""
    rows = desk.store.rows("ratings", judged.known_at, after_on=date.min, until_on=judged.as_of)
    return Counter(
        row["compound"]
        for row in rows
        if row["compound"] and (row["person_id"], row["family"]) == (person, family)
    )


class CompoundRows:
    """The rows of one panellist's record for one beer family.

    Args:
        desk: The open store.
        judged: The day judged.
        person: Whose.
        family: Beer family.
        critical: Its critical compounds.
    """

    def __init__(
        self, desk: Desk, judged: Judged, person: str, family: str, critical: frozenset[str]
    ) -> None:
        self.desk, self.judged, self.person, self.family = desk, judged, person, family
        self.critical = critical
        self.in_all_beers = every_glass(desk, judged, person)
        self.glasses: dict[str, list[dict[str, Any]]] = defaultdict(list)
        for row in self.in_all_beers:
            if row["family"] == family:
                self.glasses[row["compound"]].append(row)
        self.rated = _rated(desk, judged, person, family)

    def tasted(self) -> frozenset[str]:
        """Compounds of which this person had a glass, a set or a rating in these beers."""
        return frozenset(self.glasses) | frozenset(self.rated)

    def label(self, compound: str) -> str:
        """Short name of a compound."""
        return short_label(self.judged.labels.get(compound, compound))

    def row(self, compound: str) -> RecordRow:
        """One compound, ready to show; where no glass counts, what was tasted and no chance."""
        cell = (self.person, compound, self.family)
        glasses = self.glasses.get(compound, [])
        figures, view = plain_figures(glasses), cell_view(self.judged, *cell)
        aside = tasted_aside(glasses, self.rated[compound], figures)
        row = RecordRow(
            compound=compound,
            label=self.label(compound),
            is_critical=compound in self.critical,
            cell=view if cell in self.judged.cells or not aside else replace(view, sentence=aside),
            chance_right=None,
            low=None,
            high=None,
            density=(),
            missing=aside,
            history=tuple(self._glass_view(glass) for glass in glasses),
            figures=figures,
        )
        if cell not in self.judged.cells:
            return row
        chance = chance_to_name(self.judged, cell)
        return replace(
            row, chance_right=chance.mean, low=chance.low, high=chance.high,
            density=chance.density, missing=self._missing(compound),
        )  # fmt: skip

    def _missing(self, compound: str) -> str:
        """What to do about this compound, in a few words."""
        verdict = self.judged.cells[self.person, compound, self.family]
        taken_for = self._taken_for(compound)
        if verdict.standing is Standing.INSENSITIVE:
            return "Doesn't smell it. No fault; not counted on for it."
        if verdict.standing is Standing.MET:
            if verdict.is_fresh or verdict.until is None:
                return self._due(verdict.until)
            day = day_in_sentence(verdict.until, self.judged.as_of)
            unsure = f"Met before, stands until {day}; {self._why_not_fresh(compound)}."
            return f"{unsure} {self._in_other_beers(compound)}".strip()
        words = [] if self._counts(compound) else [NONE_COUNTED]
        words += [f"Takes it for {taken_for}: pour the two side by side."] if taken_for else []
        waiting = sum(row["outcome"] == "open" for row in self.glasses[compound])
        if waiting:
            verb = "waits" if waiting == 1 else "wait"
            words.append(f"{counted(waiting, 'answer')} in own words {verb} for a meaning.")
        return " ".join([*words, verdict.verdict.change, self._in_other_beers(compound)]).strip()

    def _why_not_fresh(self, compound: str) -> str:
        """Why the glasses of today alone would not meet it."""
        rule, today = (
            self.judged.rulebook.compound,
            self.judged.days[self.person, compound, self.family],
        )
        if not isinstance(rule, ChanceRule) or today.chance >= rule.met_when_sure:
            return f"only {counted(today.glasses, 'counted glass')} now"
        return "unsure on today's glasses"

    def _counts(self, compound: str) -> int:
        return self.judged.days[self.person, compound, self.family].glasses

    def _in_other_beers(self, compound: str) -> str:
        """Where else the estimate comes from: counted glasses in other beer families."""
        cells = [(self.person, compound, f) for f in self.judged.families if f != self.family]
        days = [self.judged.days[cell] for cell in cells if cell in self.judged.days]
        glasses = sum(day.glasses for day in days)
        return f"In other beers: {sum(d.hits for d in days)} of {glasses}." if glasses else ""

    def _due(self, until: date | None) -> str:
        notice = self.judged.rulebook.seat.notice_days
        if until is None or (until - self.judged.as_of).days > notice:
            return ""
        return f"Due by {day_in_sentence(until, self.judged.as_of)}."

    def _taken_for(self, compound: str) -> str:
        """The other compound that was named at least twice, and in most of the wrong names."""
        wrong = [
            str(row["said"]) for row in self.glasses[compound]
            if row["is_counted"] and row["outcome"] == "wrong" and row["said_a_compound"]
        ]  # fmt: skip
        top = max(set(wrong), key=wrong.count, default="")
        return in_sentence(self.label(top)) if wrong.count(top) >= 2 else ""

    def _glass_view(self, row: dict[str, Any]) -> GlassView:
        said = str(row["said"])
        return GlassView(
            day=row["session_on"],
            level=row["total_level"],
            method=row["method"],
            outcome="open" if row["outcome"] == "noticed" else row["outcome"],
            said=self.label(said) if row["said_a_compound"] else said,
            counts=bool(row["is_counted"]),
        )
