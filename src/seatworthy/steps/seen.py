"""What the record shows of everybody up to one day: read from the store, counted, not judged."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from seatworthy.evidence import Evidence, gather
from seatworthy.rules.attendance import Attended
from seatworthy.rules.compound import CellDay
from seatworthy.rules.duplicates import DuplicateCounts
from seatworthy.rules.false_calls import BlankCounts
from seatworthy.rules.rulebook import Item, Rulebook
from seatworthy.stats.ability.followed import Followed
from seatworthy.stats.agreement import chance_of_so_few, expected_agreement
from seatworthy.stats.false_calls import chance_false_calls_within
from seatworthy.steps.calendar_months import months_before
from seatworthy.steps.desk import Desk
from seatworthy.steps.estimating import OUTLOOK_DAYS

Cell = tuple[str, str, str]  # person id, compound, beer family

BLANKS_AHEAD = 31
_EPOCH = date(1970, 1, 1)


@dataclass(frozen=True)
class Seen:
    """The record up to the end of one day, as it stood at one moment.

    Attributes:
        desk: The open store.
        as_of: The day.
        known_at: The moment (UTC); None for all that is on record.
        book: The rulebook whose windows count.
        supposed_aside: Samples read as if they were set aside.
    """

    desk: Desk
    as_of: date
    known_at: datetime | None
    book: Rulebook
    supposed_aside: tuple[str, ...] = ()

    def people(self) -> dict[str, str]:
        """Name by person id, in the order of names."""
        return {row["person_id"]: row["spelling"] for row in self._rows("people")}

    def labels(self) -> dict[str, str]:
        """Label by compound."""
        return {row["compound"]: row["label"] for row in self._rows("compounds")}

    def families(self) -> dict[str, str]:
        """Label by beer family, the most tasted first."""
        rows = self._rows("families", until_on=self.as_of)
        return {row["family"]: row["label"] for row in rows}

    def critical(self, families: Iterable[str]) -> dict[str, tuple[Item, ...]]:
        """Critical items by family; the rulebook's where a family has no list of its own."""
        items: dict[str, dict[int, list[str]]] = defaultdict(lambda: defaultdict(list))
        for row in self._rows("family_compounds"):
            if row["role"] == "critical":
                items[row["family"]][row["item_no"]].append(row["compound"])
        return {
            family: tuple(tuple(group) for group in items[family].values()) or self.book.critical
            for family in families
        }

    def evidence(self, people: Iterable[str], families: Iterable[str]) -> Evidence:
        """Every answer up to the day, as arrays."""
        store, as_read = self.desk.store, (self.known_at, self.supposed_aside)
        return gather(
            store.read("scored_answers", *as_read, until_on=self.as_of),
            store.read("blanks", *as_read, until_on=self.as_of),
            tuple(people),
            tuple(families),
        )

    def cell_days(self, evidence: Evidence, followed: Followed) -> dict[Cell, list[CellDay]]:
        """Every cell with glasses: its days touched, the day asked, and the days ahead."""
        counting = self.book.counted
        rows = self._rows(
            "counted_glasses",
            until_on=self.as_of,
            asked_on=_days_asked(self.as_of),
            lowest_level=counting.lowest_level,
            highest_level=counting.highest_level,
            strong_level=self.book.insensitive.strong_level,
            months=counting.months,
        )
        chances = {
            **_past_chances(evidence, followed),
            **dict(_coming_chances(evidence, followed, self.as_of)),
        }
        seen: dict[Cell, list[CellDay]] = defaultdict(list)
        for row in rows:
            cell = (row["person_id"], row["compound"], row["family"])
            known = chances.get((cell, row["asked_on"]))
            if known is not None:  # a day whose glasses have no level says nothing
                counts = {name: row[name] for name in _COUNTS}
                seen[cell].append(
                    CellDay(row["asked_on"], known[0], chance_insensitive=known[1], **counts)
                )
        return seen

    def blanks(self, people: Iterable[str]) -> dict[str, BlankCounts]:
        """Blanks and calls in the window of the false-call rule, by person."""
        rows = self._rows(
            "blank_counts", after_on=self._after(self.book.false_calls.months), until_on=self.as_of
        )
        found = {row["person_id"]: row for row in rows}
        return {person: self._blank_counts(found.get(person, _NO_BLANKS)) for person in people}

    def attended(self) -> tuple[dict[str, Attended], dict[str, date]]:
        """Sessions offered and attended in the window, and the first day ever, by person."""
        rows = self._rows(
            "attendance", after_on=self._after(self.book.attendance.months), until_on=self.as_of
        )
        attended = {
            row["person_id"]: Attended(row["offered"], row["attended"], row["last_on"])
            for row in rows
        }
        return attended, {row["person_id"]: row["first_on"] for row in rows}

    def duplicates(
        self, people: Iterable[str], evidence: Evidence, followed: Followed
    ) -> dict[str, DuplicateCounts]:
        """Hidden pairs beside what the person's own rates would give, by person."""
        rows = self._rows(
            "duplicate_pairs",
            after_on=self._after(self.book.duplicates.months),
            until_on=self.as_of,
        )
        pairs: dict[str, list[tuple[bool, float]]] = defaultdict(list)
        for row in rows:
            if row["compound"] is not None:
                place = cell_place(evidence, (row["person_id"], row["compound"], row["family"]))
                rate = float(followed.today.rate_mean[place])
                pairs[row["person_id"]].append((bool(row["is_agreed"]), rate))
        return {person: _duplicate_counts(pairs[person]) for person in people}

    def _rows(self, query: str, **params: object) -> list[dict[str, Any]]:
        return self.desk.store.rows(query, self.known_at, self.supposed_aside, **params)

    def _after(self, months: int) -> date:
        return months_before(self.as_of, months)

    def _blank_counts(self, row: Mapping[str, int]) -> BlankCounts:
        calls, blanks = row["false_calls"], row["blanks"]
        after = chance_false_calls_within(
            calls, [blanks + more for more in range(BLANKS_AHEAD)], self.book.false_calls.ceiling
        )
        return BlankCounts(
            blanks, calls, row["possible_background"], float(after[0]), tuple(after.tolist())
        )


_COUNTS = ("glasses", "hits", "days", "strong_glasses")
_NO_BLANKS = {"blanks": 0, "false_calls": 0, "possible_background": 0}


def cell_place(evidence: Evidence, cell: Cell) -> tuple[int, int, int]:
    """Indices of a cell on the axes person, compound, beer family."""
    person, compound, family = cell
    return (
        evidence.people.index(person),
        evidence.compounds.index(compound),
        evidence.families.index(family),
    )


def _days_asked(as_of: date) -> list[date]:
    return [as_of, *(as_of + timedelta(days=ahead) for ahead in OUTLOOK_DAYS)]


def _past_chances(
    evidence: Evidence, followed: Followed
) -> dict[tuple[Cell, date], tuple[float, float]]:
    """Own chances (met, insensitive) at the end of every day on which a cell was touched."""
    columns = (
        followed.cell_person,
        followed.cell_compound,
        followed.cell_family,
        followed.days,
        followed.chance_met_own,
        followed.chance_insensitive_own,
    )
    return {
        (
            (evidence.people[p], evidence.compounds[k], evidence.families[b]),
            _EPOCH + timedelta(days=day),
        ): (met, insensitive)
        for p, k, b, day, met, insensitive in zip(*(c.tolist() for c in columns), strict=True)
    }


def _coming_chances(
    evidence: Evidence, followed: Followed, as_of: date
) -> Iterator[tuple[tuple[Cell, date], tuple[float, float]]]:
    """Own chances today and on the days ahead, if nothing more is poured."""
    days = _days_asked(as_of)
    for p, person in enumerate(evidence.people):
        for k, compound in enumerate(evidence.compounds):
            for b, family in enumerate(evidence.families):
                insensitive = float(followed.today.chance_insensitive_own[p, k, b])
                today = float(followed.today.chance_met_own[p, k, b])
                ahead = followed.chance_met_outlook[p, k, b].tolist()
                for day, met in zip(days, [today, *ahead], strict=True):
                    yield ((person, compound, family), day), (met, insensitive)


def _duplicate_counts(pairs: list[tuple[bool, float]]) -> DuplicateCounts:
    agreed = sum(is_agreed for is_agreed, _ in pairs)
    expected = expected_agreement([rate for _, rate in pairs])
    return DuplicateCounts(
        len(pairs), agreed, float(expected.sum()), chance_of_so_few(agreed, expected)
    )
