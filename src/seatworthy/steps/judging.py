"""Judges everybody for one day: evidence to estimates to verdicts. Pages and commands read this."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from threading import Lock

from seatworthy.errors import PanelError
from seatworthy.evidence import Evidence
from seatworthy.rules.attendance import Attended
from seatworthy.rules.calendar_months import months_after
from seatworthy.rules.compound import CellDay, CompoundVerdict
from seatworthy.rules.duplicates import DuplicateCounts
from seatworthy.rules.false_calls import BlankCounts
from seatworthy.rules.panel import PanelVerdict, judge_panel
from seatworthy.rules.rulebook import Item, Rulebook
from seatworthy.rules.seat import SeatVerdict, judge_seat
from seatworthy.rules.verdict import Verdict
from seatworthy.stats.ability.followed import Followed
from seatworthy.steps.cell_days import Cell
from seatworthy.steps.desk import Desk, InForce
from seatworthy.steps.estimating import estimate
from seatworthy.steps.judging_cells import judge_cells
from seatworthy.steps.judging_people import (
    PersonAnswers,
    RuleAnswer,
    judge_also_rules,
    judge_people,
)
from seatworthy.steps.known_beers import judge_beers
from seatworthy.steps.seen import Seen

KEPT = 8

_judging = Lock()  # pages ask from several threads


@dataclass(frozen=True)
class Judged:
    """Everybody's standing at the end of one day.

    Attributes:
        as_of: The day judged.
        known_at: Moment up to which the record was read (UTC); None for all of it.
        rulebook: The rulebook by which it was judged.
        rulebook_digest: Digest of its text.
        people: Name by person id, in the order of names.
        labels: Label by compound.
        families: Label by beer family, the most tasted first.
        critical: Critical items by beer family.
        evidence: The arrays the estimates rest on.
        followed: The estimates.
        days: Today's counts by cell that has glasses.
        cells: Compound verdicts by cell that has glasses.
        blanks: Counts by person.
        attended: Counts by person who ever came.
        first_on: Day of the first session by person who ever came.
        duplicate_counts: Hidden pairs of named glasses, by person.
        persons: What the rules about a person say, by person.
        also: What the further rules say, and that on knowing a beer, by person and beer family.
        seats: Seat verdict by person and beer family.
        panels: Panel verdict by beer family.
    """

    as_of: date
    known_at: datetime | None
    rulebook: Rulebook
    rulebook_digest: str
    people: Mapping[str, str]
    labels: Mapping[str, str]
    families: Mapping[str, str]
    critical: Mapping[str, tuple[Item, ...]]
    evidence: Evidence
    followed: Followed
    days: Mapping[Cell, CellDay]
    cells: Mapping[Cell, CompoundVerdict]
    blanks: Mapping[str, BlankCounts]
    attended: Mapping[str, Attended]
    first_on: Mapping[str, date]
    duplicate_counts: Mapping[str, DuplicateCounts]
    persons: Mapping[str, PersonAnswers]
    also: Mapping[tuple[str, str], tuple[RuleAnswer, ...]]
    seats: Mapping[tuple[str, str], SeatVerdict]
    panels: Mapping[str, PanelVerdict]

    def answers(self, person: str, family: str) -> tuple[RuleAnswer, ...]:
        """What every rule says of one panellist's seat, the critical compounds first."""
        critical = RuleAnswer(CRITICAL, self.seats[person, family].critical, asked_for=True)
        return (critical, *self.persons[person].all_of_them, *self.also[person, family])


CRITICAL = "Critical compounds"


def judge_day(
    desk: Desk,
    as_of: date | None = None,
    known_at: datetime | None = None,
    supposed_aside: tuple[str, ...] = (),
    supposed_book: InForce | None = None,
) -> Judged:
    """Judge everybody at the end of one day, from the answers up to it.

    Args:
        desk: The open store.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.
        supposed_aside: Samples to leave out as if they were set aside; nothing is recorded.
        supposed_book: Judge by this rulebook instead of the one in force on that day.

    Raises:
        PanelError: if the day is still to come, or before anybody kept such records.
    """
    as_of = as_of or desk.today()
    desk.check_day(as_of)
    book = supposed_book or desk.rulebook_on(as_of, known_at)
    asked = (desk.evidence_version, as_of, known_at, supposed_aside, book.digest)
    with _judging:
        if asked not in desk.judged:
            seen = Seen(desk, as_of, known_at, book.rulebook, supposed_aside)
            desk.judged[asked] = _judge(seen, book.digest)
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


def _judge(seen: Seen, digest: str) -> Judged:
    book, people, families = seen.book, seen.people(), seen.families()
    critical = seen.critical(families)
    evidence = seen.evidence(people, families)
    followed = estimate(evidence, seen.as_of, book, seen.desk.estimated)
    judged_cells = judge_cells(seen, evidence, followed)
    cells = judged_cells.verdicts
    blanks, (attended, first_on) = seen.blanks(people), seen.attended()
    pairs = seen.duplicates(people, evidence, followed)
    persons = judge_people(seen, people, blanks, attended, pairs)
    labels = seen.labels()
    further = judge_also_rules(seen, critical, people, judged_cells, labels)
    beers = judge_beers(seen, people, critical)
    also = {seat: (*answers, *beers[seat]) for seat, answers in further.items()}
    seats = _seats(seen, critical, cells, persons, also)
    return Judged(
        as_of=seen.as_of,
        known_at=seen.known_at,
        rulebook=book,
        rulebook_digest=digest,
        people=people,
        labels=labels,
        families=families,
        critical=critical,
        evidence=evidence,
        followed=followed,
        days=judged_cells.days,
        cells=cells,
        blanks=blanks,
        attended=attended,
        first_on=first_on,
        duplicate_counts=pairs,
        persons=persons,
        also=also,
        seats=seats,
        panels={
            f: judge_panel(
                critical[f], [s for p in people if (s := seats[p, f]).can_sit], book.panel
            )
            for f in families
        },
    )


def _seats(
    seen: Seen,
    critical: Mapping[str, Sequence[Item]],
    cells: Mapping[Cell, CompoundVerdict],
    persons: Mapping[str, PersonAnswers],
    also: Mapping[tuple[str, str], tuple[RuleAnswer, ...]],
) -> dict[tuple[str, str], SeatVerdict]:
    rule = seen.book.seat
    longest = months_after(seen.as_of, rule.valid_months)
    own: dict[tuple[str, str], dict[str, CompoundVerdict]] = defaultdict(dict)
    for (person, compound, family), verdict in cells.items():
        own[person, family][compound] = verdict
    return {
        (p, f): judge_seat(
            items, own[p, f], _asked_for(persons[p], also[p, f]), rule, longest, seen.book.start_up
        )
        for p in persons
        for f, items in critical.items()
    }


def _asked_for(person: PersonAnswers, also: Sequence[RuleAnswer]) -> list[Verdict]:
    return [one.verdict for one in (*person.all_of_them, *also) if one.asked_for]
