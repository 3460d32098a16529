"""What the record shows of everybody up to one day: read from the store, counted, not judged."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from seatworthy.evidence import Evidence, gather
from seatworthy.rules.attendance import Attended
from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.duplicates import DuplicateCounts
from seatworthy.rules.false_calls import BlankCounts
from seatworthy.rules.person_rules import FalseCallRule
from seatworthy.rules.rulebook import Item, Rulebook
from seatworthy.stats.ability.followed import Followed
from seatworthy.stats.agreement import chance_of_so_few, expected_agreement
from seatworthy.stats.false_calls import chance_false_calls_within
from seatworthy.steps.cell_days import Axes, Cell, Columns
from seatworthy.steps.desk import Desk
from seatworthy.steps.estimating import OUTLOOK_DAYS

BLANKS_AHEAD = 31
DEFAULT_CEILING = 0.20  # shown where the rulebook asks for a bare share or nothing
NEVER_STRONG = 1e6  # no glass is that strong: the rulebook knows no insensitive people


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
        return {row["person_id"]: row["spelling"] for row in self.rows("people")}

    def labels(self) -> dict[str, str]:
        """Label by compound."""
        return {row["compound"]: row["label"] for row in self.rows("compounds")}

    def families(self) -> dict[str, str]:
        """Label by beer family, the most tasted first."""
        rows = self.rows("families", until_on=self.as_of)
        return {row["family"]: row["label"] for row in rows}

    def critical(self, families: Iterable[str]) -> dict[str, tuple[Item, ...]]:
        """Critical items by family.

        The rulebook's list of that family goes first, then the shelf's, then the rulebook's for all.
        """
        items: dict[str, dict[int, list[str]]] = defaultdict(lambda: defaultdict(list))
        for row in self.rows("family_compounds"):
            if row["role"] == "critical":
                items[row["family"]][row["item_no"]].append(row["compound"])
        return {
            family: self.book.families[family].critical
            if family in self.book.families
            else tuple(tuple(group) for group in items[family].values()) or self.book.critical
            for family in families
        }

    def evidence(self, people: Iterable[str], families: Iterable[str]) -> Evidence:
        """Every answer up to the day, as arrays."""
        store = self.desk.store
        as_read = (self.known_at, self.supposed_aside, self._expected)
        return gather(
            store.read("scored_answers", *as_read, until_on=self.as_of),
            store.read("blanks", *as_read, until_on=self.as_of),
            tuple(people),
            tuple(families),
        )

    def counted_today(self) -> Columns:
        """Counted glasses of every cell, on each day it was touched and on the day asked."""
        return self._counted([self.as_of], None)

    def counted_ahead(self, cells: Sequence[Cell]) -> Columns:
        """The same on the days of the outlook, if nothing more is poured, for some cells."""
        return self._counted([self.as_of + timedelta(days=ahead) for ahead in OUTLOOK_DAYS], cells)

    def _counted(self, asked_on: list[date], cells: Sequence[Cell] | None) -> Columns:
        counting, insensitive = self.book.counted, self.book.insensitive
        return self.desk.store.read(
            "counted_glasses",
            self.known_at,
            self.supposed_aside,
            self._expected,
            until_on=self.as_of,
            asked_on=asked_on,
            lowest_level=counting.lowest_level,
            highest_level=counting.highest_level,
            strong_level=insensitive.strong_level if insensitive else NEVER_STRONG,
            months=counting.months,
            people=None if cells is None else [cell[0] for cell in cells],
            compounds=None if cells is None else [cell[1] for cell in cells],
        )

    def blanks(self, people: Iterable[str]) -> dict[str, BlankCounts]:
        """Blanks and calls in the window of the false-call rule, by person."""
        rows = self.rows(
            "blank_counts", after_on=self._after(self._months_of_blanks()), until_on=self.as_of
        )
        found = {row["person_id"]: row for row in rows}
        return {person: self._blank_counts(found.get(person, _NO_BLANKS)) for person in people}

    def attended(self) -> tuple[dict[str, Attended], dict[str, date]]:
        """Sessions offered and attended in the window, and the first day ever, by person."""
        rule = self.book.attendance or self.book.counted
        rows = self.rows("attendance", after_on=self._after(rule.months), until_on=self.as_of)
        attended = {
            row["person_id"]: Attended(row["offered"], row["attended"], row["last_on"])
            for row in rows
        }
        return attended, {row["person_id"]: row["first_on"] for row in rows}

    def duplicates(
        self, people: Iterable[str], evidence: Evidence, followed: Followed
    ) -> dict[str, DuplicateCounts]:
        """Hidden pairs beside what the person's own rates would give, by person."""
        rule, axes = self.book.duplicates or self.book.counted, Axes.of(evidence)
        rows = self.rows("duplicate_pairs", after_on=self._after(rule.months), until_on=self.as_of)
        pairs: dict[str, list[tuple[bool, float]]] = defaultdict(list)
        for row in rows:
            if row["compound"] is not None:
                place = axes.place((row["person_id"], row["compound"], row["family"]))
                rate = float(followed.today.rate_mean[place])
                pairs[row["person_id"]].append((bool(row["is_agreed"]), rate))
        return {person: _duplicate_counts(pairs[person]) for person in people}

    def rows(self, query: str, **params: object) -> list[dict[str, Any]]:
        """Rows of a query by the record as it is read here."""
        as_read = (self.known_at, self.supposed_aside, self._expected)
        return self.desk.store.rows(query, *as_read, **params)

    @property
    def _expected(self) -> tuple[str, ...]:
        """What the rulebook expects in a beer family: no fault and no false call there."""
        return tuple(
            f"{family} {compound}"
            for family, lists in self.book.families.items()
            for compound in lists.expected
        )

    def _after(self, months: int) -> date:
        return months_before(self.as_of, months)

    def _months_of_blanks(self) -> int:
        return (self.book.false_calls or self.book.counted).months

    def _blank_counts(self, row: Mapping[str, int]) -> BlankCounts:
        calls, blanks = row["false_calls"], row["blanks"]
        rule = self.book.false_calls
        ceiling = rule.ceiling if isinstance(rule, FalseCallRule) else DEFAULT_CEILING
        after = chance_false_calls_within(
            calls, [blanks + more for more in range(BLANKS_AHEAD)], ceiling
        )
        return BlankCounts(
            blanks, calls, row["possible_background"], float(after[0]), tuple(after.tolist())
        )


_NO_BLANKS = {"blanks": 0, "false_calls": 0, "possible_background": 0}


def _duplicate_counts(pairs: list[tuple[bool, float]]) -> DuplicateCounts:
    agreed = sum(is_agreed for is_agreed, _ in pairs)
    expected = expected_agreement([rate for _, rate in pairs])
    return DuplicateCounts(
        len(pairs), agreed, float(expected.sum()), chance_of_so_few(agreed, expected)
    )
