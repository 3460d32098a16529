"""Judges everybody for one day: evidence to estimates to verdicts. Pages and commands read this."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from threading import Lock
from typing import Any

from seatworthy.evidence import Evidence, day_number, gather
from seatworthy.rules.attendance import Attended, judge_attendance
from seatworthy.rules.compound import CellDay, CompoundVerdict, judge_compound
from seatworthy.rules.duplicates import DuplicateCounts, judge_duplicates
from seatworthy.rules.false_calls import BlankCounts, judge_false_calls
from seatworthy.rules.panel import PanelVerdict, judge_panel
from seatworthy.rules.rulebook import Item, Rulebook
from seatworthy.rules.seat import SeatVerdict, judge_seat
from seatworthy.rules.verdict import Standing, Verdict
from seatworthy.stats.ability.followed import Followed
from seatworthy.stats.agreement import chance_of_so_few, expected_agreement
from seatworthy.stats.false_calls import chance_false_calls_within
from seatworthy.steps.desk import Desk
from seatworthy.steps.estimating import OUTLOOK_DAYS, estimate

Cell = tuple[str, str, str]  # person id, compound, beer family

BLANKS_AHEAD = 31
KEPT = 8

_judging = Lock()  # pages ask from several threads


@dataclass(frozen=True)
class Judged:
    """Everybody's standing at the end of one day.

    Attributes:
        as_of: The day judged.
        known_at: Moment up to which the record was read (UTC); None for all of it.
        people: Name by person id, in the order of names.
        labels: Label by compound.
        families: Label by beer family, the most tasted first.
        critical: Critical items by beer family.
        expected: Expected compounds by beer family.
        evidence: The arrays the estimates rest on.
        followed: The estimates.
        days: Today's counts by cell that has glasses.
        cells: Compound verdicts by cell that has glasses.
        false_calls: Verdict by person.
        blanks: Counts by person.
        attendance: Verdict by person.
        attended: Counts by person.
        first_on: Day of the first session by person.
        duplicates: Remark by person.
        seats: Seat verdict by person and beer family.
        panels: Panel verdict by beer family.
    """

    as_of: date
    known_at: datetime | None
    rulebook: Rulebook
    people: Mapping[str, str]
    labels: Mapping[str, str]
    families: Mapping[str, str]
    critical: Mapping[str, tuple[Item, ...]]
    expected: Mapping[str, frozenset[str]]
    evidence: Evidence
    followed: Followed
    days: Mapping[Cell, CellDay]
    cells: Mapping[Cell, CompoundVerdict]
    false_calls: Mapping[str, Verdict]
    blanks: Mapping[str, BlankCounts]
    attendance: Mapping[str, Verdict]
    attended: Mapping[str, Attended]
    first_on: Mapping[str, date]
    duplicates: Mapping[str, Verdict]
    seats: Mapping[tuple[str, str], SeatVerdict]
    panels: Mapping[str, PanelVerdict]


def judge_day(desk: Desk, as_of: date | None = None, known_at: datetime | None = None) -> Judged:
    """Judge everybody at the end of one day, from the answers up to it.

    Args:
        desk: The open store.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.
    """
    as_of = as_of or desk.today()
    asked = (desk.version, as_of, known_at)
    with _judging:
        if asked not in desk.judged:
            desk.judged[asked] = _Judge(desk, as_of, known_at).judge()
            while len(desk.judged) > KEPT:
                desk.judged.popitem(last=False)
        return desk.judged[asked]


class _Judge:
    """One judgement in the making: what it reads, and the order in which it concludes."""

    def __init__(self, desk: Desk, as_of: date, known_at: datetime | None) -> None:
        self.desk, self.as_of, self.known_at = desk, as_of, known_at
        self.book = desk.rulebook

    def judge(self) -> Judged:
        people = {row["person_id"]: row["spelling"] for row in self._rows("people")}
        labels = {row["compound"]: row["label"] for row in self._rows("compounds")}
        found = self._rows("families", until_on=self.as_of)
        families = {row["family"]: row["label"] for row in found}
        critical, expected = self._lists(families)
        evidence = gather(
            self._read("scored_answers", until_on=self.as_of),
            self._read("blanks", until_on=self.as_of),
            tuple(people),
            tuple(families),
        )
        followed = estimate(evidence, self.as_of, self.book)
        days, cells = self._cells(evidence, followed)
        blanks = self._blanks()
        attended, first_on = self._attended()
        false_calls = {
            p: judge_false_calls(self._blanks_of(p, blanks), self.book.false_calls) for p in people
        }
        attendance = {
            p: judge_attendance(seen, self.as_of, self.book.attendance)
            for p, seen in attended.items()
        }
        seats = self._seats(people, families, critical, cells, false_calls, attendance)
        return Judged(
            as_of=self.as_of,
            known_at=self.known_at,
            rulebook=self.book,
            people=people,
            labels=labels,
            families=families,
            critical=critical,
            expected=expected,
            evidence=evidence,
            followed=followed,
            days=days,
            cells=cells,
            false_calls=false_calls,
            blanks={p: self._blanks_of(p, blanks) for p in people},
            attendance=attendance,
            attended=attended,
            first_on=first_on,
            duplicates=self._duplicates(people, evidence, followed),
            seats=seats,
            panels={
                f: judge_panel(critical[f], [seats[p, f] for p in people], self.book.panel)
                for f in families
            },
        )

    def _rows(self, query: str, **params: object) -> list[dict[str, Any]]:
        return self.desk.store.rows(query, self.known_at, **params)

    def _read(self, query: str, **params: object) -> dict[str, Any]:
        return self.desk.store.read(query, self.known_at, **params)

    def _months_back(self, months: int) -> date:
        return months_before(self.as_of, months)

    def _lists(
        self, families: Mapping[str, str]
    ) -> tuple[dict[str, tuple[Item, ...]], dict[str, frozenset[str]]]:
        """Critical items and expected compounds by family; the rulebook's where none are listed."""
        items: dict[tuple[str, str], dict[int, list[str]]] = defaultdict(lambda: defaultdict(list))
        for row in self._rows("family_compounds"):
            items[row["family"], row["role"]][row["item_no"]].append(row["compound"])
        critical = {
            f: tuple(tuple(group) for group in items[f, "critical"].values()) or self.book.critical
            for f in families
        }
        expected = {
            f: frozenset(c for group in items[f, "expected"].values() for c in group)
            for f in families
        }
        return critical, expected

    def _cells(
        self, evidence: Evidence, followed: Followed
    ) -> tuple[dict[Cell, CellDay], dict[Cell, CompoundVerdict]]:
        seen = self._counted(evidence, followed)
        today, ahead_from = {}, day_number(self.as_of)
        verdicts = {}
        for cell, days in seen.items():
            past = [day for day in days if day_number(day.day) < ahead_from]
            now = next(day for day in days if day_number(day.day) == ahead_from)
            ahead = [day for day in days if day_number(day.day) > ahead_from]
            today[cell] = now
            verdicts[cell] = judge_compound(
                past,
                now,
                ahead,
                followed.chance_met_after[evidence_place(evidence, cell)].tolist(),
                self.book.counted,
                self.book.compound,
                self.book.insensitive,
            )
        return today, verdicts

    def _counted(self, evidence: Evidence, followed: Followed) -> dict[Cell, list[CellDay]]:
        """Every cell with glasses: its days touched, the day asked, and the days ahead."""
        asked_on = [self.as_of, *(self.as_of + timedelta(days=n) for n in OUTLOOK_DAYS)]
        rows = self._rows(
            "counted_glasses",
            until_on=self.as_of,
            asked_on=asked_on,
            lowest_level=self.book.counted.lowest_level,
            highest_level=self.book.counted.highest_level,
            strong_level=self.book.insensitive.strong_level,
            months=self.book.counted.months,
        )
        chances = _chances(evidence, followed, self.as_of)
        seen: dict[Cell, list[CellDay]] = defaultdict(list)
        for row in rows:
            cell = (row["person_id"], row["compound"], row["family"])
            chance, insensitive = chances.get((*cell, row["asked_on"]), (None, None))
            if chance is None or insensitive is None:
                continue
            counts = {k: row[k] for k in ("glasses", "hits", "days", "strong_glasses")}
            seen[cell].append(
                CellDay(row["asked_on"], chance, chance_insensitive=insensitive, **counts)
            )
        return seen

    def _blanks(self) -> dict[str, dict[str, Any]]:
        after_on = self._months_back(self.book.false_calls.months)
        rows = self._rows("blank_counts", after_on=after_on, until_on=self.as_of)
        return {row["person_id"]: row for row in rows}

    def _blanks_of(self, person: str, blanks: Mapping[str, dict[str, Any]]) -> BlankCounts:
        row = blanks.get(person, {"blanks": 0, "false_calls": 0, "possible_background": 0})
        calls, number, ceiling = row["false_calls"], row["blanks"], self.book.false_calls.ceiling
        after = chance_false_calls_within(
            calls, [number + more for more in range(BLANKS_AHEAD)], ceiling
        )
        return BlankCounts(
            number, calls, row["possible_background"], float(after[0]), tuple(after.tolist())
        )

    def _attended(self) -> tuple[dict[str, Attended], dict[str, date]]:
        rows = self._rows(
            "attendance",
            after_on=self._months_back(self.book.attendance.months),
            until_on=self.as_of,
        )
        attended = {
            row["person_id"]: Attended(row["offered"], row["attended"], row["last_on"])
            for row in rows
        }
        return attended, {row["person_id"]: row["first_on"] for row in rows}

    def _duplicates(
        self, people: Mapping[str, str], evidence: Evidence, followed: Followed
    ) -> dict[str, Verdict]:
        rows = self._rows(
            "duplicate_pairs",
            after_on=self._months_back(self.book.duplicates.months),
            until_on=self.as_of,
        )
        pairs = defaultdict(list)
        for row in rows:
            if row["compound"] is not None:
                place = evidence_place(evidence, (row["person_id"], row["compound"], row["family"]))
                rate = float(followed.today.rate_mean[place])
                pairs[row["person_id"]].append((bool(row["is_agreed"]), rate))
        return {p: judge_duplicates(_agreement(pairs[p]), self.book.duplicates) for p in people}

    def _seats(
        self,
        people: Mapping[str, str],
        families: Mapping[str, str],
        critical: Mapping[str, tuple[Item, ...]],
        cells: Mapping[Cell, CompoundVerdict],
        false_calls: Mapping[str, Verdict],
        attendance: Mapping[str, Verdict],
    ) -> dict[tuple[str, str], SeatVerdict]:
        longest = months_after(self.as_of, self.book.seat.valid_months)
        own: dict[tuple[str, str], dict[str, CompoundVerdict]] = defaultdict(dict)
        for (person, compound, family), verdict in cells.items():
            own[person, family][compound] = verdict
        never = Verdict("attendance", Standing.TOO_LITTLE, "No session attended yet.")
        return {
            (p, f): judge_seat(
                critical[f],
                own[p, f],
                [false_calls[p], attendance.get(p, never)],
                self.book.seat,
                longest,
            )
            for p in people
            for f in families
        }


def evidence_place(evidence: Evidence, cell: Cell) -> tuple[int, int, int]:
    """Indices of a cell on the axes person, compound, beer family."""
    person, compound, family = cell
    return (
        evidence.people.index(person),
        evidence.compounds.index(compound),
        evidence.families.index(family),
    )


def months_before(day: date, months: int) -> date:
    """The same day of the month so many months earlier, or that month's last day."""
    return months_after(day, -months)


def months_after(day: date, months: int) -> date:
    """The same day of the month so many months later, or that month's last day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    first_of_next = date(year + (month + 1) // 12, (month + 1) % 12 + 1, 1)
    last = (first_of_next - timedelta(days=1)).day
    return date(year, month + 1, min(day.day, last))


def _chances(
    evidence: Evidence, followed: Followed, as_of: date
) -> dict[tuple[str, str, str, date], tuple[float, float]]:
    """Own chances by cell and day: the days touched, today, and the days ahead."""
    people, compounds, families = evidence.people, evidence.compounds, evidence.families
    epoch = date(1970, 1, 1)
    found = {
        (people[p], compounds[k], families[b], epoch + timedelta(days=int(day))): (c, i)
        for p, k, b, day, c, i in zip(
            followed.cell_person.tolist(),
            followed.cell_compound.tolist(),
            followed.cell_family.tolist(),
            followed.days.tolist(),
            followed.chance_met_own.tolist(),
            followed.chance_insensitive_own.tolist(),
            strict=True,
        )
    }
    days = [as_of, *(as_of + timedelta(days=n) for n in OUTLOOK_DAYS)]
    for p, person in enumerate(people):
        for k, compound in enumerate(compounds):
            for b, family in enumerate(families):
                chances = [
                    followed.today.chance_met_own[p, k, b],
                    *followed.chance_met_outlook[p, k, b].tolist(),
                ]
                insensitive = float(followed.today.chance_insensitive_own[p, k, b])
                for day, chance in zip(days, chances, strict=True):
                    found[person, compound, family, day] = (float(chance), insensitive)
    return found


def _agreement(pairs: list[tuple[bool, float]]) -> DuplicateCounts:
    agreed = sum(is_agreed for is_agreed, _ in pairs)
    expected = expected_agreement([rate for _, rate in pairs])
    return DuplicateCounts(
        len(pairs), agreed, float(expected.sum()), chance_of_so_few(agreed, expected)
    )
