"""One panellist's record: where they stand, on what evidence, and what is missing."""

from collections import defaultdict
from datetime import date, datetime, timedelta
from typing import Any

import numpy as np

from seatworthy.rules.compound import day_text
from seatworthy.rules.verdict import Standing, counted
from seatworthy.steps.boards import cell_view, person_view
from seatworthy.steps.calendar_months import months_before
from seatworthy.steps.desk import Desk
from seatworthy.steps.figures import plain_figures
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import first_names, item_label, short_label
from seatworthy.steps.seen import cell_place
from seatworthy.steps.sentences import (
    day_in_sentence,
    in_sentence,
    joined,
    number_word,
    sentence_start,
    the_beers,
)
from seatworthy.steps.views import (
    Choice,
    GlassView,
    Mixup,
    RecordRow,
    RecordView,
    RuleLine,
    ThresholdPoint,
)

RANGE = (0.15, 0.95)  # the range drawn: wholly right of the line is met, see rules.compound
NOTHING = "nothing"


def record(
    desk: Desk,
    person_id: str,
    *,
    family: str | None = None,
    as_of: date | None = None,
    known_at: datetime | None = None,
) -> RecordView | None:
    """The record of one panellist for one beer family at the end of one day.

    Args:
        desk: The open store.
        person_id: Whose.
        family: Beer family; None, or one that is not known, for the most tasted.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.

    Returns:
        None if nobody on record has this id, or nothing is on record.
    """
    judged = judge_day(desk, as_of, known_at)
    if person_id not in judged.people or not judged.families:
        return None
    families = tuple(Choice(key, label) for key, label in judged.families.items())
    chosen = next((choice for choice in families if choice.key == family), families[0])
    return _Record(desk, judged, person_id, chosen, families).view()


class _Record:
    """One record in the making."""

    def __init__(
        self,
        desk: Desk,
        judged: Judged,
        person: str,
        family: Choice,
        families: tuple[Choice, ...],
    ) -> None:
        self.desk, self.judged, self.person = desk, judged, person
        self.family, self.families = family, families
        self.seat = judged.seats[person, family.key]
        self.critical = [c for item in judged.critical[family.key] for c in item]
        self.glasses = self._glasses()

    def view(self) -> RecordView:
        judged, blanks = self.judged, self.judged.blanks[self.person]
        attended = judged.attended.get(self.person)
        rows = tuple(self._row(compound) for compound in self._compounds())
        return RecordView(
            as_of=judged.as_of,
            family=self.family,
            families=self.families,
            people=tuple(Choice(key, name) for key, name in judged.people.items()),
            person=person_view(judged, self.person, self.family.key),
            since=judged.first_on.get(self.person),
            blanks=blanks.blanks,
            false_calls=blanks.false_calls,
            possible_background=blanks.possible_background,
            needed=judged.rulebook.compound.named_right,
            reference_level=judged.rulebook.compound.reference_level,
            answer=self._answer(),
            catch=self._catch(),
            lead=self._lead(),
            rules=self._rules(),
            rows=rows,
            mixups=self._mixups(),
            sessions_attended=attended.attended if attended else 0,
            sessions_offered=attended.offered if attended else 0,
            last_seen=attended.last_on if attended else None,
        )

    def _compounds(self) -> list[str]:
        served = {c for p, c, f in self.judged.cells if f == self.family.key}
        others = sorted(served - set(self.critical), key=self._label)
        return [*self.critical, *others]

    def _label(self, compound: str) -> str:
        return short_label(self.judged.labels.get(compound, compound))

    def _glasses(self) -> dict[str, list[dict[str, Any]]]:
        """Every glass of the person in this beer family, by compound."""
        counting = self.judged.rulebook.counted
        rows = self.desk.store.rows(
            "person_glasses",
            self.judged.known_at,
            person_id=self.person,
            until_on=self.judged.as_of,
            after_on=months_before(self.judged.as_of, counting.months),
            lowest_level=counting.lowest_level,
            highest_level=counting.highest_level,
        )
        found: dict[str, list[dict[str, Any]]] = defaultdict(list)
        for row in rows:
            if row["family"] == self.family.key:
                found[row["compound"]].append(row)
        return found

    # -- one compound ------------------------------------------------------------------------

    def _row(self, compound: str) -> RecordRow:
        cell = (self.person, compound, self.family.key)
        view = cell_view(self.judged, *cell)
        empty = RecordRow(
            compound, self._label(compound), compound in self.critical, view, None, None, None,
            (), "" if view.standing == "no_glasses" else view.sentence, (), (),
            plain_figures(self.glasses[compound]),
        )  # fmt: skip
        if cell not in self.judged.cells:
            return empty
        place = cell_place(self.judged.evidence, cell)
        followed = self.judged.followed
        histogram = followed.today.rate_histogram[place]
        low, high = (_quantile(histogram, share) for share in RANGE)
        return RecordRow(
            compound=compound,
            label=empty.label,
            is_critical=empty.is_critical,
            cell=view,
            chance_right=float(followed.today.rate_mean[place]),
            low=low,
            high=high,
            density=tuple(histogram.tolist()),
            missing=self._missing(compound),
            history=tuple(self._glass_view(row) for row in self.glasses[compound]),
            thresholds=self._thresholds(place),
            figures=empty.figures,
        )

    def _missing(self, compound: str) -> str:
        """What to do about this compound, in a few words."""
        verdict = self.judged.cells[self.person, compound, self.family.key]
        taken_for = self._taken_for(compound)
        if verdict.standing is Standing.INSENSITIVE:
            return "Doesn't smell it. No fault; not counted on for it."
        if verdict.standing is Standing.MET:
            if verdict.is_fresh or verdict.until is None:
                return self._due(verdict.until)
            day = day_in_sentence(verdict.until, self.judged.as_of)
            unsure = f"Met before, stands until {day}; unsure on today's glasses."
            return f"{unsure} {self._in_other_beers(compound)}".strip()
        words = [f"Takes it for {taken_for}: pour the two side by side."] if taken_for else []
        waiting = sum(row["outcome"] == "open" for row in self.glasses[compound])
        if waiting:
            verb = "waits" if waiting == 1 else "wait"
            words.append(f"{counted(waiting, 'answer')} in own words {verb} for a meaning.")
        return " ".join([*words, verdict.verdict.change, self._in_other_beers(compound)]).strip()

    def _in_other_beers(self, compound: str) -> str:
        """Where else the estimate comes from: counted glasses in other beer families."""
        cells = [(self.person, compound, f) for f in self.judged.families if f != self.family.key]
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
        return in_sentence(self._label(top)) if wrong.count(top) >= 2 else ""

    def _glass_view(self, row: dict[str, Any]) -> GlassView:
        said = str(row["said"])
        return GlassView(
            day=row["session_on"],
            level=row["total_level"],
            method=row["method"],
            outcome="open" if row["outcome"] == "noticed" else row["outcome"],
            said=self._label(said) if row["said_a_compound"] else said,
            counts=bool(row["is_counted"]),
        )

    def _thresholds(self, place: tuple[int, int, int]) -> tuple[ThresholdPoint, ...]:
        followed = self.judged.followed
        here = (
            (followed.cell_person == place[0])
            & (followed.cell_compound == place[1])
            & (followed.cell_family == place[2])
        )
        columns = (
            followed.days,
            followed.threshold_mean,
            followed.threshold_low,
            followed.threshold_high,
        )
        return tuple(
            ThresholdPoint(
                date(1970, 1, 1) + timedelta(days=int(day)), 2.0**mean, 2.0**low, 2.0**high
            )
            for day, mean, low, high in zip(
                *(column[here].tolist() for column in columns), strict=True
            )
        )

    # -- the person --------------------------------------------------------------------------

    def _rules(self) -> tuple[RuleLine, ...]:
        verdicts = (
            ("Critical compounds", self.seat.critical),
            ("Calls in blanks", self.judged.false_calls[self.person]),
            ("Attendance", self.judged.attendance[self.person]),
            ("Hidden duplicates", self.judged.duplicates[self.person]),
        )
        return tuple(
            RuleLine(title, str(v.standing), v.sentence, v.change) for title, v in verdicts
        )

    def _mixups(self) -> tuple[Mixup, ...]:
        rows = self.desk.store.rows(
            "mixups",
            self.judged.known_at,
            person_id=self.person,
            after_on=months_before(self.judged.as_of, self.judged.rulebook.counted.months),
            until_on=self.judged.as_of,
        )
        return tuple(
            Mixup(
                self._label(row["compound"]),
                self._label(row["named_compound"]) if row["named_compound"] else NOTHING,
                row["glasses"],
            )
            for row in rows
        )

    def _name(self) -> str:
        return first_names(self.judged.people)[self.person]

    def _answer(self) -> str:
        family = the_beers(self.family.label)
        day = day_text(self.judged.as_of)
        if self.judged.as_of != self.desk.today():
            verb = "could" if self.seat.can_sit else "couldn't"
            return f"{self._name()} {verb} sit for {family} on {day}"
        if self.seat.until is None:
            return f"{self._name()} can't sit for {family} today"
        until = day_in_sentence(self.seat.until, self.judged.as_of)
        return f"{self._name()} can sit for {family} until {until}"

    def _catch(self) -> str:
        if self.seat.can_sit:
            return self._weak_spots()
        verdicts = {
            "attendance": self.judged.attendance[self.person],
            "calls in blanks": self.judged.false_calls[self.person],
            "critical compounds": self.seat.critical,
        }
        bad = [what for what, v in verdicts.items() if v.standing is Standing.NOT_MET]
        if bad:
            return f"{joined(bad)} {'is' if bad == ['attendance'] else 'are'} in the way."
        unsure = [what for what, v in verdicts.items() if v.standing is Standing.TOO_LITTLE]
        return f"too little evidence on {joined(unsure)}."

    def _weak_spots(self) -> str:
        """What somebody with a seat is not counted on for, worst first."""
        bad, unsure = self._items(Standing.NOT_MET), self._items(Standing.TOO_LITTLE)
        if bad:
            return f"{joined(bad)} {'is' if len(bad) == 1 else 'are'} not met."
        some = unsure[:2]
        return f"{joined(some)} still {_needs(some)} glasses." if some else ""

    def _items(self, standing: Standing) -> list[str]:
        items = self.seat.items.items()
        return [
            in_sentence(item_label(item, self.judged.labels)) for item, s in items if s is standing
        ]

    def _lead(self) -> str:
        met, asked = self.seat.met_items, len(self.seat.items)
        parts = [
            (
                f"{sentence_start(number_word(met) if met else 'none')} of {number_word(asked)} "
                f"critical compounds {'is' if met < 2 else 'are'} met."
            )
        ]
        if not self.seat.can_sit:
            parts.append(self.seat.verdict.change)
        if blind := self._items(Standing.INSENSITIVE):
            parts.append(f"{self._name()} doesn't smell {joined(blind)}. That is no fault.")
        return " ".join(part for part in parts if part)


def _needs(items: list[str]) -> str:
    return "needs" if len(items) == 1 else "need"


def _quantile(histogram: Any, share: float) -> float:  # noqa: ANN401
    """Point below which a share of a histogram over 100 equal bins lies, linear inside a bin."""
    total = np.concatenate([[0.0], np.cumsum(histogram)])
    return float(np.interp(share * total[-1], total, np.linspace(0, 1, total.size)))
