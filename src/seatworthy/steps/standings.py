"""Everything a proposal rests on, gathered for every seat on one day."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from functools import cached_property
from itertools import pairwise

from seatworthy.rules.proposing import ServedProbation, Standings
from seatworthy.rules.rechecking import Recheck, latest_glasses
from seatworthy.rules.seat import SeatVerdict
from seatworthy.rules.seat_states import HOLDS_SEAT, SeatState, Signed, State, last_signed
from seatworthy.rules.verdict import Verdict
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged
from seatworthy.steps.judging_people import RuleAnswer
from seatworthy.steps.seats import Seat, seat_states, signatures

GlassDays = Mapping[date, tuple[int, int]]  # counted glasses and those named right, by day


class StandingsOfDay:
    """How every seat stands on the day judged; each part is read when it is first asked for.

    Args:
        desk: The open store.
        judged: The day.
    """

    def __init__(self, desk: Desk, judged: Judged) -> None:
        self._desk, self._judged = desk, judged
        self.book, self.as_of = judged.rulebook, judged.as_of

    @cached_property
    def states(self) -> Mapping[Seat, SeatState]:
        """State of every seat."""
        return seat_states(self._desk, self.as_of, self._judged.known_at, self.signed)

    @cached_property
    def signed(self) -> Mapping[Seat, list[Signed]]:
        """Signatures by seat."""
        return signatures(self._desk, self._judged.known_at)

    @cached_property
    def sessions(self) -> Mapping[str, Mapping[str, date]]:
        """Day by session that somebody came to, by person, in the order of days."""
        found: dict[str, dict[str, date]] = defaultdict(dict)
        known_at = self._judged.known_at
        for row in self._desk.store.rows("session_days", known_at, until_on=self.as_of):
            found[row["person_id"]][row["session_id"]] = row["session_on"]
        return found

    @cached_property
    def glass_days(self) -> Mapping[Seat, GlassDays]:
        """Counted glasses and those named right, by seat and day."""
        counting = self.book.counted
        rows = self._desk.store.rows(
            "counted_days",
            self._judged.known_at,
            until_on=self.as_of,
            lowest_level=counting.lowest_level,
            highest_level=counting.highest_level,
        )
        found: dict[Seat, dict[date, tuple[int, int]]] = defaultdict(dict)
        for row in rows:
            days = found[row["person_id"], row["family"]]
            days[row["session_on"]] = (row["glasses"], row["hits"])
        return found

    @cached_property
    def seats_standing(self) -> Counter[str]:
        """How many signed seats stand, by beer family."""
        return Counter(family for (_, family), state in self.states.items() if state.holds_seat)

    def of(self, seat: Seat) -> Standings:
        """How one seat stands."""
        persons = self._judged.persons[seat[0]]
        verdict, seats = self._verdict(seat)
        return Standings(
            state=self.states[seat],
            seat=verdict,
            attendance=_asked(persons.attendance),
            others=tuple(
                one.verdict
                for one in (*persons.all_of_them, *self._judged.also[seat])
                if one.asked_for and one is not persons.attendance
            ),
            probation=self._probation(seat),
            recheck=self._recheck(seat),
            seats_at_start=seats,
        )

    def rechecked_after(self, seat: Seat, day: date) -> Recheck:
        """What was poured of a recheck after a day."""
        return latest_glasses(self.glass_days.get(seat, {}), day, self.book)

    def _verdict(self, seat: Seat) -> tuple[SeatVerdict, int | None]:
        """The seat verdict, that of the start of a panel where it applies and the full one fails.

        Returns:
            The verdict, and how many seats of the family stand if it is that of the start.
        """
        verdict, rule = self._judged.seats[seat], self.book.start_up
        if verdict.can_sit or rule is None or verdict.start_up is None:
            return verdict, None
        seats = self.seats_standing[seat[1]]
        is_start = seats < rule.until_seats and verdict.start_up.can_sit
        return (verdict.start_up, seats) if is_start else (verdict, None)

    def _begun(self, seat: Seat) -> Sequence[Signed]:
        return [one for one in self.signed.get(seat, ()) if one.from_on <= self.as_of]

    def _probation(self, seat: Seat) -> ServedProbation | None:
        """Sessions and weeks since the probation was granted; None if a full seat came last."""
        start = probation_start(self._begun(seat))
        if start is None:
            return None
        days = self.sessions.get(seat[0], {}).values()
        weeks = (self.as_of - start).days // 7
        return ServedProbation(sum(day > start for day in days), weeks)

    def _recheck(self, seat: Seat) -> Recheck | None:
        """Since a pause or a suspension, or the return from a long absence; None if none is due."""
        state = self.states[seat]
        if self.book.recheck is None:
            return None
        if state.state in (State.PAUSED, State.SUSPENDED):
            return self.rechecked_after(seat, state.since) if state.since else None
        if state.holds_seat or state.state is State.LAPSED:
            returned = self._return_from_absence(seat)
            return self.rechecked_after(seat, returned - timedelta(days=1)) if returned else None
        return None

    def _return_from_absence(self, seat: Seat) -> date | None:
        """Day of the last return from too long an absence since the seat was signed."""
        rule, last = self.book.attendance, last_signed(self.signed.get(seat, ()), self.as_of)
        if rule is None or last is None:
            return None
        days = sorted(set(self.sessions.get(seat[0], {}).values()))
        returns = [
            day
            for before, day in pairwise(days)
            if (day - before).days > rule.longest_absence_days and day > last.from_on
        ]
        return returns[-1] if returns else None


def probation_start(signed: Sequence[Signed]) -> date | None:
    """First day of the probation served last; None where a full seat came after, or none at all.

    A probation that is signed again, or interrupted by a pause, goes on.
    """
    start: date | None = None
    for one in signed:
        if one.state is State.PROBATION:
            start = start or one.from_on
        elif one.state in HOLDS_SEAT or one.state in (State.TRAINEE, State.WITHDRAWN):
            start = None
    return start


def _asked(answer: RuleAnswer | None) -> Verdict | None:
    return answer.verdict if answer is not None and answer.asked_for else None
