"""What the rules propose for one seat. They propose; a leader signs."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from seatworthy.rules.calendar_months import months_after
from seatworthy.rules.compound import day_text
from seatworthy.rules.rechecking import (
    Recheck,
    is_passed,
    recheck_asked,
    recheck_open,
    recheck_passed,
)
from seatworthy.rules.rulebook import Rulebook
from seatworthy.rules.seat import SeatVerdict
from seatworthy.rules.seat_states import SeatState, State
from seatworthy.rules.verdict import Standing, Verdict, counted


class Kind(StrEnum):
    """What a proposal does to a seat; "own" is a leader's, the rules never propose it."""

    GRANT = "grant"
    RENEW = "renew"
    RETURN = "return"
    PAUSE = "pause"
    SUSPEND = "suspend"
    OWN = "own"


@dataclass(frozen=True)
class Proposal:
    """What the rules propose for one seat on one day.

    Attributes:
        state: The state proposed.
        until_on: Last day of the seat proposed; None for a state without an end.
        sentence: Why, with its numbers.
        change: What would change it, "" where nothing is missing.
    """

    state: State
    from_on: date
    until_on: date | None
    sentence: str
    kind: Kind
    change: str = ""


@dataclass(frozen=True, slots=True)
class ServedProbation:
    """What somebody has served of a probation: sessions attended and whole weeks since its grant."""

    sessions: int
    weeks: int


@dataclass(frozen=True)
class Standings:
    """Everything about one person and one beer family that a proposal rests on.

    Attributes:
        state: The seat today.
        seat: What the seat rule says today; what it says at the start of a panel where that rule
            applies and the full one is not met.
        attendance: On coming to sessions; None where the rulebook does not ask.
        others: What else a seat asks for: calls in blanks, further rules.
        probation: What was served of the last probation; None if a full seat came after it, or if
            there was none.
        recheck: What was poured of a recheck; None where none is needed.
        seats_at_start: Seats of the family that stand, where `seat` is that of the start of a
            panel; else None.
    """

    state: SeatState
    seat: SeatVerdict
    attendance: Verdict | None
    others: tuple[Verdict, ...]
    probation: ServedProbation | None
    recheck: Recheck | None
    seats_at_start: int | None = None


def propose(found: Standings, book: Rulebook, today: date) -> Proposal | None:
    """What the rules propose for one seat, None for nothing.

    Too little evidence takes nothing away, nor does a run of misses: a seat stands until its date.
    """
    if found.state.holds_seat:
        return (
            _suspension(found, book, today)
            or _pause(found, book, today)
            or _on_with_it(found, book, today)
        )
    if found.state.state in (State.WITHDRAWN, State.CANDIDATE) or not found.seat.can_sit:
        return None
    if found.state.state is State.TRAINEE:
        return _granted(found, book, today, Kind.GRANT)
    if not is_passed(found.recheck, book):
        return None
    return _granted(found, book, today, Kind.RETURN)


def why_nothing(found: Standings, book: Rulebook, today: date) -> str:
    """What is said of a seat for which nothing is proposed: how it stands and what it waits for."""
    state = found.state
    if state.state is State.WITHDRAWN:
        return "Withdrawn; nothing is proposed."
    if found.seat.can_sit and not is_passed(found.recheck, book):
        return f"{found.seat.verdict.sentence} {recheck_open(found.recheck, book)}"
    if state.holds_seat and state.until is not None:
        stands = f"The seat stands until {day_text(state.until)}."
        if found.seat.can_sit:
            return f"{found.seat.verdict.sentence} {stands}"
        taken = "takes nothing away" if _is_unsure(found.seat) else "does not end it by itself"
        what = "Too little evidence" if _is_unsure(found.seat) else "What is not met"
        return f"{what} {taken}. {stands} {found.seat.verdict.full}"
    return found.seat.verdict.full


def not_met_items(seat: SeatVerdict) -> int:
    """How many critical compounds are not met, a group counting once."""
    return list(seat.items.values()).count(Standing.NOT_MET)


def _is_unsure(seat: SeatVerdict) -> bool:
    return seat.verdict.standing is Standing.TOO_LITTLE


def _is_not_met(verdict: Verdict | None) -> bool:
    return verdict is not None and verdict.standing is Standing.NOT_MET


def _suspension(found: Standings, book: Rulebook, today: date) -> Proposal | None:
    """Only what is surely not met suspends: too many critical compounds, or another rule."""
    parts: list[Verdict] = []
    if not_met_items(found.seat) > book.seat.critical_not_met:
        parts.append(found.seat.critical)
    parts += [verdict for verdict in found.others if _is_not_met(verdict)]
    if not parts:
        return None
    sentence = " ".join(part.sentence for part in parts)
    change = _text(*(part.change for part in parts), recheck_asked(book))
    return Proposal(State.SUSPENDED, today, None, sentence, Kind.SUSPEND, change)


def _pause(found: Standings, book: Rulebook, today: date) -> Proposal | None:
    """A long absence, or coming too rarely, pauses a seat and never suspends it."""
    if found.attendance is None or not _is_not_met(found.attendance):
        return None
    sentence = f"{found.attendance.sentence} A pause is no fault."
    change = _text(found.attendance.change, recheck_asked(book))
    return Proposal(State.PAUSED, today, None, sentence, Kind.PAUSE, change)


def _on_with_it(found: Standings, book: Rulebook, today: date) -> Proposal | None:
    """A full seat after probation, or a seat renewed because it is due."""
    if not found.seat.can_sit or not is_passed(found.recheck, book):
        return None
    if found.state.state is State.PROBATION and _is_served(found.probation, book):
        return _granted(found, book, today, Kind.GRANT)
    due_from, ends, until = found.state.due_from, found.state.until, found.seat.until
    is_due = due_from is not None and today >= due_from
    if not is_due or ends is None or until is None or until <= ends:
        return None
    parts = (_when_it_ends(found.state, today), found.seat.verdict.sentence, _start(found, book))
    return Proposal(found.state.state, today, until, _text(*parts), Kind.RENEW)


def _granted(found: Standings, book: Rulebook, today: date, kind: Kind) -> Proposal:
    is_full = _has_no_probation(book) or _needs_no_probation(found, book)
    state = State.QUALIFIED if is_full else State.PROBATION
    parts = (
        _start(found, book),
        _probation_text(found, book, state),
        recheck_passed(found.recheck, book),
        _ends_early(found, book, today),
    )
    sentence = _text(found.seat.verdict.sentence, *parts)
    return Proposal(state, today, found.seat.until, sentence, kind)


def _ends_early(found: Standings, book: Rulebook, today: date) -> str:
    """Why a seat would end before its whole time, "" where it would not."""
    until = found.seat.until
    if until is None or until >= months_after(today, book.seat.valid_months):
        return ""
    return (
        f"It ends before {counted(book.seat.valid_months, 'month')} are over: after "
        f"{day_text(until)} too few critical compounds would still be met, nothing more being poured."
    )


def _text(*parts: str) -> str:
    return " ".join(part for part in parts if part)


def _start(found: Standings, book: Rulebook) -> str:
    if book.start_up is None or found.seats_at_start is None:
        return ""
    exist = f"{counted(found.seats_at_start, 'seat')} {_exist(found.seats_at_start)}"
    return (
        f"That is the rule for the start of a panel, until {book.start_up.until_seats} seats of this "
        f"family exist; {exist} today."
    )


def _exist(number: int) -> str:
    return "exists" if number == 1 else "exist"


def _has_no_probation(book: Rulebook) -> bool:
    rule = book.probation
    return rule is None or (rule.sessions == 0 and rule.weeks == 0)


def _needs_no_probation(found: Standings, book: Rulebook) -> bool:
    return found.state.state is not State.TRAINEE and _is_served(found.probation, book)


def _is_served(served: ServedProbation | None, book: Rulebook) -> bool:
    rule = book.probation
    if served is None or rule is None:
        return True
    return served.sessions >= rule.sessions and served.weeks >= rule.weeks


def _probation_text(found: Standings, book: Rulebook, state: State) -> str:
    rule, served = book.probation, found.probation
    if rule is None:
        return ""
    if state is State.PROBATION:
        return f"A first seat is on probation, for {_length(rule.sessions, rule.weeks)}."
    if found.state.state is State.PROBATION and served is not None:
        done, asked = (served.sessions, served.weeks), (rule.sessions, rule.weeks)
        return (
            f"Probation is served: {_length(*done)} since its grant, {_length(*asked)} asked for."
        )
    return ""


def _length(sessions: int, weeks: int) -> str:
    """How long a probation is: "4 sessions and 6 weeks"; what it doesn't ask for is left out."""
    parts = [counted(n, what) for n, what in ((sessions, "session"), (weeks, "week")) if n]
    return " and ".join(parts)


def _when_it_ends(state: SeatState, today: date) -> str:
    if state.until is None:
        return ""
    verb = "ended" if state.in_grace else "ends"
    days = abs((state.until - today).days)
    when = f"{counted(days, 'day')} {'ago' if state.in_grace else 'from now'}" if days else "today"
    return f"The seat {verb} on {day_text(state.until)}, {when}."
