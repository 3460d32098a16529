"""What falls due: seats, mets that end, absences that become too long, rulebooks to come."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta

from seatworthy.rules.proposing import why_nothing
from seatworthy.rules.seat_states import SeatState, honoured_until
from seatworthy.steps.decision_views import DueLine
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import first_names, short_label
from seatworthy.steps.seats import Seat
from seatworthy.steps.sentences import day_in_sentence, in_sentence, joined, the_beers
from seatworthy.steps.standings import StandingsOfDay


def due(desk: Desk, as_of: date | None = None, days: int = 90) -> tuple[DueLine, ...]:
    """What falls due from one day on, by date.

    Args:
        desk: The open store.
        as_of: The day; None for today. It is the first that counts.
        days: So many days after it count too.

    Raises:
        PanelError: if the day is still to come, or before anybody kept such records.
    """
    judged = judge_day(desk, as_of)
    due_lines = _Due(desk, judged)
    last = judged.as_of + timedelta(days=days)
    lines = [line for line in due_lines.all() if judged.as_of <= line.on <= last]
    return tuple(sorted(lines, key=lambda line: (line.on, line.name, line.family, line.kind)))


class _Due:
    """Everything that falls due some day, in no order."""

    def __init__(self, desk: Desk, judged: Judged) -> None:
        self._desk, self._judged = desk, judged
        self._today, self._book = judged.as_of, judged.rulebook
        self._standings = StandingsOfDay(desk, judged)
        self._first_names = first_names(judged.people)

    def all(self) -> Iterator[DueLine]:
        for seat in self._judged.seats:
            state = self._standings.states[seat]
            if state.holds_seat and state.until is not None:
                yield from self._seat(seat, state, state.until)
        yield from self._mets()
        yield from self._absences()
        yield from self._rulebooks()

    def _seat(self, seat: Seat, state: SeatState, until: date) -> Iterator[DueLine]:
        whose = f"{self._first_names[seat[0]]}'s seat for {self._beers(seat[1])}"
        if state.due_from is not None and state.due_from < until:
            sentence = f"{whose} is to be looked at: it ends on {self._day(until)}."
            yield self._line(state.due_from, "notice", seat, f"{sentence} {self._outlook(seat)}")
        yield self._line(until, "end", seat, f"{whose} ends. {self._outlook(seat)}")
        grace = honoured_until(until, self._book.seat)
        if grace > until:
            sentence = (
                f"{whose} ended on {self._day(until)} and is honoured up to this day, not longer."
            )
            yield self._line(grace, "grace", seat, sentence)

    def _outlook(self, seat: Seat) -> str:
        """How the seat rule stands today; a seat is signed anew on it or runs out."""
        found = self._standings.of(seat)
        if found.seat.can_sit:
            return f"Today: {found.seat.verdict.sentence}"
        return why_nothing(found, self._book, self._today)

    def _mets(self) -> Iterator[DueLine]:
        ending: dict[tuple[date, str, str], list[str]] = defaultdict(list)
        for (person, compound, family), verdict in self._judged.cells.items():
            critical = {k for item in self._judged.critical[family] for k in item}
            if verdict.until is not None and compound in critical and self._has(person, family):
                label = short_label(self._judged.labels.get(compound, compound))
                ending[verdict.until, person, family].append(label)
        for (on, person, family), labels in ending.items():
            labels.sort()
            what = joined([in_sentence(label) for label in labels])
            sentence = (
                f"{self._first_names[person]} meets {what} in {self._beers(family)} until then, "
                "nothing more being poured."
            )
            yield self._line(on, "compounds", (person, family), sentence, tuple(labels))

    def _has(self, person: str, family: str) -> bool:
        """Whether somebody holds a seat or meets the rule of one."""
        seat = (person, family)
        return self._judged.seats[seat].can_sit or self._standings.states[seat].holds_seat

    def _absences(self) -> Iterator[DueLine]:
        rule = self._book.attendance
        if rule is None:
            return
        for person in sorted(self._with_a_seat()):
            attended = self._judged.attended.get(person)
            if attended is not None:
                last = attended.last_on
                on = last + timedelta(days=rule.longest_absence_days)
                sentence = (
                    f"{self._first_names[person]} was last seen on {self._day(last)}; after "
                    f"{rule.longest_absence_days} days a short recheck is asked for."
                )
                yield self._line(on, "absence", (person, ""), sentence)

    def _with_a_seat(self) -> set[str]:
        """Those who hold a seat, and those who meet the rule of one."""
        return {person for person, family in self._judged.seats if self._has(person, family)}

    def _rulebooks(self) -> Iterator[DueLine]:
        for adopted in self._desk.rulebooks(self._judged.known_at):
            book = adopted.rulebook
            if book.counts_from > self._today:
                sentence = f"The rulebook “{book.name}”, version {book.version}, comes into force."
                yield self._line(book.counts_from, "rulebook", ("", ""), sentence)

    def _line(
        self, on: date, kind: str, seat: Seat, sentence: str, compounds: tuple[str, ...] = ()
    ) -> DueLine:
        person, family = seat
        return DueLine(
            on=on,
            kind=kind,
            person_id=person,
            name=self._judged.people.get(person, ""),
            family=family,
            family_label=self._judged.families.get(family, ""),
            compounds=compounds,
            sentence=sentence,
        )

    def _beers(self, family: str) -> str:
        return the_beers(self._judged.families[family])

    def _day(self, day: date) -> str:
        return day_in_sentence(day, self._today)
