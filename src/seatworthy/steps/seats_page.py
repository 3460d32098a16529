"""Seats: what waits for a signature, who holds a seat until when, and what falls due."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from seatworthy.phrases import STATE_WORDS
from seatworthy.rules.compound import day_text
from seatworthy.rules.seat_states import SeatState
from seatworthy.steps.decision_views import DecisionView, DueLine, ProposalView
from seatworthy.steps.decisions import decisions
from seatworthy.steps.desk import Desk
from seatworthy.steps.due import due
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import first_names
from seatworthy.steps.proposals import Proposing, proposals
from seatworthy.steps.seats import seat_states
from seatworthy.steps.sentences import day_in_sentence, number_word, sentence_start, the_beers
from seatworthy.steps.signers import signers
from seatworthy.steps.views import Choice

DAYS_FRESH = 30  # a seat that lapsed longer ago was seen by now
DAYS_SOON = 14  # what falls due later need not stand on top
_SEAT_DUE = ("notice", "end", "grace")
START = "No seat can be proposed before the first glasses. Plan a session, or bring in results."


@dataclass(frozen=True)
class SeatLine:
    """One seat that was signed.

    Attributes:
        state: State on the day asked, in plain words.
        until: Last day; None for a state without an end.
        is_due: Whether its end is near or past.
        decision_id: The signature that holds.
        meets: Whether the seat rule is met by that day's glasses.
        words: What that day's glasses say of it.
    """

    person_id: str
    name: str
    family: str
    family_label: str
    state: str
    since: date | None
    until: date | None
    is_due: bool
    decision_id: str
    signer: str
    meets: bool
    words: str


@dataclass(frozen=True)
class SeatsView:
    """All seats of the brewery.

    Attributes:
        answer, catch, lead: The sentence on top and what stands under it.
        waiting: Proposals that wait for a signature.
        seats: Signed seats, those that hold first, then the others.
        due: What falls due in the next ninety days.
        decisions: Every signature, the newest first.
        people: Everybody on record.
        families: Beer families on record.
        as_of: The day asked.
    """

    answer: str
    catch: str
    lead: str
    waiting: tuple[ProposalView, ...]
    seats: tuple[SeatLine, ...]
    due: tuple[DueLine, ...]
    decisions: tuple[DecisionView, ...]
    people: tuple[Choice, ...]
    families: tuple[Choice, ...]
    as_of: date


def seats_view(
    desk: Desk, as_of: date | None = None, known_at: datetime | None = None
) -> SeatsView:
    """Everything about seats today, or what was signed by the end of another day.

    Args:
        desk: The open store.
        as_of: The day; None for today. Of a past day nothing is proposed any more.
        known_at: Read the record as it stood then (UTC); None for today's record.
    """
    judged = judge_day(desk, as_of, known_at)
    is_past = judged.as_of != desk.today()
    signed = tuple(one for one in decisions(desk, known_at=known_at) if one.from_on <= judged.as_of)
    seats = _seats(desk, judged, signed)
    if is_past:
        waiting, falling = (), ()
        answer, catch, lead = _sentence_then(seats, judged.as_of), "", ""
    else:
        waiting, falling = proposals(desk), due(desk)
        answer, catch, lead = _sentences(desk, waiting, seats, falling)
    return SeatsView(
        answer=answer,
        catch=catch,
        lead=lead,
        waiting=waiting,
        seats=seats,
        due=falling,
        decisions=signed,
        people=tuple(Choice(key, name) for key, name in judged.people.items()),
        families=tuple(Choice(key, label) for key, label in judged.families.items()),
        as_of=judged.as_of,
    )


def _seats(desk: Desk, judged: Judged, signed: tuple[DecisionView, ...]) -> tuple[SeatLine, ...]:
    by_id = {decision.decision_id: decision for decision in signed}
    states = seat_states(desk, judged.as_of, judged.known_at)
    proposing = Proposing(desk) if judged.as_of == desk.today() else None
    lines = [
        (not state.holds_seat, _line(judged, proposing, by_id[state.decision_id], state))
        for state in states.values()
        if state.decision_id in by_id
    ]
    order = sorted(
        lines, key=lambda line: (line[0], line[1].family_label, line[1].until or date.max, line[1].name)
    )  # fmt: skip
    return tuple(line for _, line in order)


def _line(
    judged: Judged, proposing: Proposing | None, signed: DecisionView, state: SeatState
) -> SeatLine:
    seat = (signed.person_id, signed.family)
    verdict = judged.seats.get(seat)
    meets = verdict is not None and verdict.can_sit
    is_due = state.due_from is not None and judged.as_of >= state.due_from
    words = "meet the seat rule" if meets else "would not grant it"
    if verdict is not None and proposing is not None and not (meets and state.holds_seat):
        words = proposing.why_nothing(seat)
    return SeatLine(
        person_id=signed.person_id,
        name=signed.name,
        family=signed.family,
        family_label=signed.family_label,
        state=STATE_WORDS[str(state.state)],
        since=state.since,
        until=state.until,
        is_due=is_due or state.in_grace,
        decision_id=state.decision_id,
        signer=signed.signer,
        meets=meets,
        words=words,
    )


def _sentence_then(seats: tuple[SeatLine, ...], day: date) -> str:
    held = sum(line.state in _HELD for line in seats)
    many = sentence_start(number_word(held)) if held else "No"
    return f"{many} {'seat was' if held == 1 else 'seats were'} signed and stood on {day_text(day)}"


def _sentences(
    desk: Desk,
    waiting: tuple[ProposalView, ...],
    seats: tuple[SeatLine, ...],
    falling: tuple[DueLine, ...],
) -> tuple[str, str, str]:
    today = desk.today()
    soon = today + timedelta(days=DAYS_SOON)
    next_due = next((line for line in falling if line.on <= soon and line.kind in _SEAT_DUE), None)
    lead = next_due.sentence if next_due else ""
    if waiting:
        wait = "proposal waits" if len(waiting) == 1 else "proposals wait"
        answer = f"{sentence_start(number_word(len(waiting)))} {wait} for a signature"
        return answer, _first(desk, waiting), _only_own(desk, waiting) or lead
    if not seats:
        judged = judge_day(desk)
        start = (
            START if not judged.cells else "Nothing is proposed: nobody meets the seat rule yet."
        )
        lead = "Whoever comes nearest stands first on the board." if judged.cells else ""
        return start.rstrip("."), "", lead
    held = [line for line in seats if line.state in _HELD]
    lapsed = [line for line in seats if line.state == STATE_WORDS["lapsed"]]
    if lapsed and not held:
        have = "one has" if len(lapsed) == 1 else f"{number_word(len(lapsed))} have"
        return (
            "No seat stands today",
            f"{have} lapsed",
            "Each stands below with what brings it back.",
        )
    seat = "seat is" if len(held) == 1 else "seats are"
    answer = f"{sentence_start(number_word(len(held)) if held else 'no')} {seat} signed"
    shaky = next((line for line in held if not line.meets), None)
    if shaky is not None:
        return answer, f"today's glasses would not grant {shaky.name}'s", shaky.words
    late = next((line for line in held if line.is_due and line.until), None)
    gone = next((line for line in lapsed if _is_fresh(line, today)), None)
    if late is None and gone is not None:
        return answer, f"{gone.name}'s for {the_beers(gone.family_label)} has lapsed", gone.words
    if late is None or late.until is None:
        return f"{answer} and nothing waits for a signature", "", lead
    end = day_in_sentence(late.until, today)
    return answer, f"{late.name}'s for {the_beers(late.family_label)} ends on {end}", lead


def _is_fresh(line: SeatLine, today: date) -> bool:
    """Whether a seat lapsed so lately that it may have gone unseen."""
    return line.since is not None and today - line.since <= timedelta(days=DAYS_FRESH)


_HELD = (STATE_WORDS["qualified"], STATE_WORDS["probation"])


def _only_own(desk: Desk, waiting: tuple[ProposalView, ...]) -> str:
    """How seats are signed that only their holder could sign; "" where somebody else can."""
    known = signers(desk)
    if len(known) != 1 or any(one.person_id != known[0].person_id for one in waiting):
        return ""
    return (
        f"{known[0].name} alone may sign: sign with a reason why, or appoint a second signer "
        "under People."
    )


def _first(desk: Desk, waiting: tuple[ProposalView, ...]) -> str:
    """The one to look at first: who asked for a recheck, whose seat would be taken, then the rest."""
    names = first_names(judge_day(desk).people)
    asked = next((one for one in waiting if one.put and one.put.recheck_open), None)
    if asked is not None:
        return f"{names.get(asked.person_id, asked.name)} has asked for a recheck"
    adverse = next((one for one in waiting if one.is_adverse), None)
    one = adverse or waiting[0]
    who = names.get(one.person_id, one.name)
    beers = the_beers(one.family_label)
    if adverse:
        return f"{who}'s seat for {beers} would be taken away"
    return f"the first is {who}'s seat for {beers}"
