"""A panellist's own ballot: what it shows, what they answer, and that they are not fit today.

Every function takes a link's secret and gives None, always the same, for one that opens nothing.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from seatworthy.errors import StoreError
from seatworthy.intake.tables import TableRow
from seatworthy.steps.answer_rows import answer_rows
from seatworthy.steps.ballot_forms import NOT_BEFORE, Fault, FormRead, read_form
from seatworthy.steps.ballot_links import digest_of
from seatworthy.steps.ballot_memory import changing
from seatworthy.steps.ballot_presence import forget_nudge, note_opened
from seatworthy.steps.ballot_seats import (
    BallotSeat,
    ballot_seat,
    ballot_view,
    may_take_back,
    seat_state,
)
from seatworthy.steps.ballot_views import (
    EARLY,
    OPEN,
    TALK,
    BallotDone,
    BallotGlass,
    BallotView,
    FormAnswer,
)
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_facts import open_session
from seatworthy.steps.session_parts import Glass
from seatworthy.steps.signing import salted, sign
from seatworthy.steps.talk_rows import talk_rows


def ballot(desk: Desk, secret: str) -> BallotView | None:
    """What a link shows now."""
    seat = ballot_seat(desk, secret)
    if seat is None:
        return None
    note_opened(desk, seat.sitting_id, seat.person_id)
    return ballot_view(desk, seat)


def answer(desk: Desk, secret: str, place: int, form: FormAnswer) -> BallotDone | None:
    """Put what a form says of one glass on record.

    The same form sent twice is one answer. An answer may be changed until the sitting is over; each
    stays on record. A form that was drawn before another answer came in is not stored over it. Once the
    talk of a release sitting is open, what was said before stands, and the form says what is said after.

    Args:
        desk: The open store.
        secret: Of the link.
        place: Of the glass on this ballot, from 1.
        form: As it was sent.
    """
    if ballot_seat(desk, secret) is None:
        return None  # a guess waits for nobody, holds nobody up and leaves nothing behind
    taken = None
    try:
        # Nobody else writes from the look to the write, and until what is kept of it is forgotten.
        with (
            desk.store.alone(),
            changing(desk.store, digest_of(secret)) as give,
            desk.store.recording("ballot", counts=False, is_one_of_many=True) as act,
        ):
            seat = ballot_seat(desk, secret)
            if seat is None:
                return None
            taken = _taken(desk, seat, place, form)
            if taken.rows:
                sign(act, seat.person_id)
                act.add_all(taken.rows)
                give(taken.glasses)
    except StoreError:
        if taken is None:
            raise
        return BallotDone("refused", "no_room", taken.view)
    view = replace(taken.view, glasses=taken.glasses)
    if taken.rows and not view.waiting and not form.is_after:
        forget_nudge(desk, seat.sitting_id, seat.person_id)
    return BallotDone(taken.outcome, taken.fault, view)


@dataclass(frozen=True)
class _Taken:
    """What becomes of a form: outcome and fault, the ballot before it, what to store, the glasses after."""

    view: BallotView
    outcome: str
    fault: str = ""
    rows: tuple[TableRow, ...] = ()
    after: tuple[BallotGlass, ...] | None = None

    @property
    def glasses(self) -> tuple[BallotGlass, ...]:
        return self.view.glasses if self.after is None else self.after


def _taken(desk: Desk, seat: BallotSeat, place: int, form: FormAnswer) -> _Taken:
    view = ballot_view(desk, seat)
    if view.state != (TALK if form.is_after else OPEN):
        return _Taken(view, "closed")
    glass = next((glass for glass in view.glasses if glass.place == place), None)
    if glass is None or glass.state == "spilled":
        return _Taken(view, "refused", "spilled" if glass else "not_here")
    if form.is_after and glass.answer is None:
        return _Taken(view, "refused", NOT_BEFORE)
    try:
        read = read_form(desk, glass, view.names, form)
    except Fault as fault:
        return _Taken(view, "refused", str(fault))
    if form.is_after:
        return _taken_after(view, glass, form, read)
    if read.is_on_record(glass):
        return _Taken(view, "known")
    if (form.seen or 0) != glass.answers:
        return _Taken(view, "meanwhile")
    after = tuple(_answered(g, read) if g is glass else g for g in view.glasses)
    return _Taken(view, "kept", "", tuple(_rows(glass, read)), after)


def _taken_after(view: BallotView, glass: BallotGlass, form: FormAnswer, read: FormRead) -> _Taken:
    """What becomes of a form that says what somebody says after the talk."""
    if read.is_on_record_after(glass):
        return _Taken(view, "known")
    if (form.seen or 0) != glass.afters:
        return _Taken(view, "meanwhile")
    said = replace(read.said, sureness="")
    after = tuple(
        replace(g, after=said, afters=g.afters + 1) if g is glass else g for g in view.glasses
    )
    return _Taken(view, "kept", "", tuple(talk_rows(glass.serving_id, read.answer)), after)


def _answered(glass: BallotGlass, read: FormRead) -> BallotGlass:
    """A glass as it stands once a form is stored, as `ballot_glasses` would read it."""
    return replace(glass, state="answered", answer=read.said, answers=glass.answers + 1)


def _rows(glass: BallotGlass, read: FormRead) -> Iterator[TableRow]:
    yield from answer_rows(glass.serving_id, read.answer, read.picked)
    yield "phone_answer", {"serving_id": glass.serving_id, "sureness": read.sureness}
    if read.remark:
        yield "remark", {"serving_id": glass.serving_id, **salted("remark", read.remark)}


def not_fit(desk: Desk, secret: str) -> BallotView | None:
    """Somebody says that they are not fit to taste today; no reason is asked or kept.

    What they answered at this sitting so far is set aside; nothing more is waited for.
    """
    return _says_of_themselves(desk, secret, is_fit=False)


def fit_after_all(desk: Desk, secret: str) -> BallotView | None:
    """Somebody takes that back; what was set aside with it counts again."""
    return _says_of_themselves(desk, secret, is_fit=True)


def _says_of_themselves(desk: Desk, secret: str, *, is_fit: bool) -> BallotView | None:
    if ballot_seat(desk, secret) is None:
        return None
    with desk.store.recording("fit today") as act:
        seat = ballot_seat(desk, secret)
        if seat is None:
            return None
        may_say = seat_state(desk, seat) in (OPEN, EARLY)
        if may_take_back(desk, seat) if is_fit else may_say:
            sign(act, seat.person_id)
            act.add_all(_fitness_rows(desk, seat, is_fit=is_fit))
    forget_nudge(desk, seat.sitting_id, seat.person_id)
    return ballot(desk, secret)


def _fitness_rows(desk: Desk, seat: BallotSeat, *, is_fit: bool) -> Iterator[TableRow]:
    glasses = open_session(desk, seat.session_id).glasses_of(seat.sitting_id, seat.person_id)
    answered = [glass for glass in glasses if glass.kind is not None]
    state = "expected" if is_fit else "left" if answered else "absent"
    yield (
        "sitting_person",
        {"sitting_id": seat.sitting_id, "person_id": seat.person_id, "state": state},
    )
    for glass in answered:
        if _moves(glass, is_fit=is_fit):
            row = {"serving_id": glass.serving_id, "is_aside": not is_fit}
            yield "set_aside", {**row, **salted("reason", None)}


def _moves(glass: Glass, *, is_fit: bool) -> bool:
    return glass.is_own_aside if is_fit else not glass.is_glass_aside
