"""Judges everybody for one day: evidence to estimates to verdicts. Pages and commands read this."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from threading import Lock

from seatworthy.errors import PanelError
from seatworthy.evidence import Evidence
from seatworthy.rules.attendance import Attended, judge_attendance
from seatworthy.rules.compound import CellDay, CompoundVerdict, judge_compound
from seatworthy.rules.duplicates import DuplicateCounts, judge_duplicates
from seatworthy.rules.false_calls import BlankCounts, judge_false_calls
from seatworthy.rules.panel import PanelVerdict, judge_panel
from seatworthy.rules.rulebook import Item, Rulebook
from seatworthy.rules.seat import SeatVerdict, judge_seat
from seatworthy.rules.verdict import Standing, Verdict
from seatworthy.stats.ability.followed import Followed
from seatworthy.steps.calendar_months import months_after
from seatworthy.steps.desk import Desk
from seatworthy.steps.estimating import estimate
from seatworthy.steps.seen import Cell, Seen, cell_place

KEPT = 8
NEVER_CAME = Verdict("attendance", Standing.TOO_LITTLE, "No session attended yet.")

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
        evidence: The arrays the estimates rest on.
        followed: The estimates.
        days: Today's counts by cell that has glasses.
        cells: Compound verdicts by cell that has glasses.
        blanks: Counts by person.
        false_calls: Verdict by person.
        attended: Counts by person who ever came.
        attendance: Verdict by person.
        first_on: Day of the first session by person who ever came.
        duplicates: Remark by person.
        duplicate_counts: What the remark rests on, by person.
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
    evidence: Evidence
    followed: Followed
    days: Mapping[Cell, CellDay]
    cells: Mapping[Cell, CompoundVerdict]
    blanks: Mapping[str, BlankCounts]
    false_calls: Mapping[str, Verdict]
    attended: Mapping[str, Attended]
    attendance: Mapping[str, Verdict]
    first_on: Mapping[str, date]
    duplicates: Mapping[str, Verdict]
    duplicate_counts: Mapping[str, DuplicateCounts]
    seats: Mapping[tuple[str, str], SeatVerdict]
    panels: Mapping[str, PanelVerdict]


def judge_day(
    desk: Desk,
    as_of: date | None = None,
    known_at: datetime | None = None,
    supposed_aside: tuple[str, ...] = (),
) -> Judged:
    """Judge everybody at the end of one day, from the answers up to it.

    Args:
        desk: The open store.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.
        supposed_aside: Samples to leave out as if they were set aside; nothing is recorded.

    Raises:
        PanelError: if the day is still to come, or before anybody kept such records.
    """
    as_of = as_of or desk.today()
    desk.check_day(as_of)
    asked = (desk.version, as_of, known_at, supposed_aside)
    with _judging:
        if asked not in desk.judged:
            seen = Seen(desk, as_of, known_at, desk.rulebook, supposed_aside)
            desk.judged[asked] = _judge(seen)
            while len(desk.judged) > KEPT:
                desk.judged.popitem(last=False)
        return desk.judged[asked]


def family_named(judged: Judged, name: str | None) -> str | None:
    """Key of a beer family by its key or label; None for None.

    Raises:
        PanelError: if there is no such family.
    """
    if name is None or name in judged.families:
        return name
    for key, label in judged.families.items():
        if label.casefold() == name.strip().casefold():
            return key
    known = ", ".join(judged.families) or "none yet"
    message = f"There is no beer family “{name}” on record; there are: {known}."
    raise PanelError(message)


def _judge(seen: Seen) -> Judged:
    book, people, families = seen.book, seen.people(), seen.families()
    critical = seen.critical(families)
    evidence = seen.evidence(people, families)
    followed = estimate(evidence, seen.as_of, book, seen.desk.estimated)
    days, cells = _cell_verdicts(seen, evidence, followed)
    blanks = seen.blanks(people)
    attended, first_on = seen.attended()
    false_calls = {p: judge_false_calls(blanks[p], book.false_calls) for p in people}
    attendance = {
        p: judge_attendance(attended[p], seen.as_of, book.attendance)
        if p in attended
        else NEVER_CAME
        for p in people
    }
    pairs = seen.duplicates(people, evidence, followed)
    seats = _seats(seen, critical, cells, false_calls, attendance)
    return Judged(
        as_of=seen.as_of,
        known_at=seen.known_at,
        rulebook=book,
        people=people,
        labels=seen.labels(),
        families=families,
        critical=critical,
        evidence=evidence,
        followed=followed,
        days=days,
        cells=cells,
        blanks=blanks,
        false_calls=false_calls,
        attended=attended,
        attendance=attendance,
        first_on=first_on,
        duplicates={p: judge_duplicates(pairs[p], book.duplicates) for p in people},
        duplicate_counts=pairs,
        seats=seats,
        panels={
            f: judge_panel(critical[f], [seats[p, f] for p in people], book.panel) for f in families
        },
    )


def _cell_verdicts(
    seen: Seen, evidence: Evidence, followed: Followed
) -> tuple[dict[Cell, CellDay], dict[Cell, CompoundVerdict]]:
    """Today's counts and the verdict of every cell that has glasses."""
    book, today, verdicts = seen.book, {}, {}
    for cell, days in seen.cell_days(evidence, followed).items():
        past = [day for day in days if day.day < seen.as_of]
        ahead = [day for day in days if day.day > seen.as_of]
        today[cell] = days[len(past)]
        verdicts[cell] = judge_compound(
            past,
            today[cell],
            ahead,
            followed.chance_met_after[cell_place(evidence, cell)].tolist(),
            book.counted,
            book.compound,
            book.insensitive,
        )
    return today, verdicts


def _seats(
    seen: Seen,
    critical: Mapping[str, tuple[Item, ...]],
    cells: Mapping[Cell, CompoundVerdict],
    false_calls: Mapping[str, Verdict],
    attendance: Mapping[str, Verdict],
) -> dict[tuple[str, str], SeatVerdict]:
    rule = seen.book.seat
    longest = months_after(seen.as_of, rule.valid_months)
    own: dict[tuple[str, str], dict[str, CompoundVerdict]] = defaultdict(dict)
    for (person, compound, family), verdict in cells.items():
        own[person, family][compound] = verdict
    return {
        (p, f): judge_seat(items, own[p, f], [false_calls[p], attendance[p]], rule, longest)
        for p in false_calls
        for f, items in critical.items()
    }
