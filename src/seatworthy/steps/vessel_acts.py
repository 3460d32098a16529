"""What every act of preparing shares: which vessels, when, by whom, and what is told of it."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Final

from seatworthy.errors import PanelError, PlanRefused
from seatworthy.intake.words import Unreadable, read_text
from seatworthy.sessions.times import start_of
from seatworthy.steps.desk import Desk
from seatworthy.steps.recipes_kept import Vessel
from seatworthy.steps.sentences import joined
from seatworthy.steps.session_facts import SessionFacts, open_session
from seatworthy.steps.signing import salted, sign
from seatworthy.steps.vessels import SessionVessels
from seatworthy.store.recording import Recording

KIND: Final = "prepared"
# A vessel dosed longer ago than this is a slip of the date; ours, no source.
_LONGEST: Final = timedelta(days=14)


def open_vessels(desk: Desk, session_id: str, by: str | None) -> SessionVessels:
    """The vessels of a session that is not closed, for somebody to record something of them.

    Raises:
        PanelError: if there is no such session, it is not open, or nobody goes by that id.
    """
    facts = open_session(desk, session_id)
    if by is not None and by not in facts.names:
        message = "Nobody on the list of people goes by that id. Nothing was recorded."
        raise PanelError(message)
    return SessionVessels(facts)


def named_vessels(own: SessionVessels, names: Sequence[str]) -> list[Vessel]:
    """The vessels of these names, in that order.

    Raises:
        PanelError: if one is not known.
    """
    unknown = [name for name in names if name not in own.every]
    if unknown:
        message = (
            f"No vessel of this session is called {joined(unknown, 'or')}. The doses may have been "
            "worked out again: open the page again. Nothing was recorded."
        )
        raise PanelError(message)
    return [own.every[name] for name in names]


def check_poured(own: SessionVessels, vessels: Sequence[Vessel]) -> None:
    """Refuse vessels that were put away.

    Raises:
        PanelError: if one was.
    """
    away = [vessel.name for vessel in vessels if own.is_put_away(vessel)]
    if away:
        verb = "is" if len(away) == 1 else "are"
        message = f"{joined(away)} {verb} put away: take that back first. Nothing was recorded."
        raise PanelError(message)


def moment_of(facts: SessionFacts, at: datetime | None) -> datetime:
    """When it was, in UTC; not to come and not long before the session."""
    zone, now = facts.desk.time_zone, datetime.now(UTC).replace(tzinfo=None)
    try:
        moment = now if at is None else start_of(at, zone).utc
    except PlanRefused as refused:  # an hour that the clocks jump over
        message = f"{' '.join(refused.faults)} Nothing was recorded."
        raise PanelError(message) from refused
    local = at or facts.local(now) or now
    first = datetime.combine(facts.head.session_on, datetime.min.time()) - _LONGEST
    if moment > now + timedelta(minutes=1):
        message = f"{local:%H:%M} on {local.day} {local:%B} is still to come. Nothing was recorded."
        raise PanelError(message)
    if local < first:
        days = _LONGEST.days
        message = f"{local.day} {local:%B} is more than {days} days before the session. Nothing was recorded."
        raise PanelError(message)
    return moment


def add_remark(act: Recording, vessel: Vessel, remark: str) -> None:
    """Keep what was noted of a vessel; nothing if nothing was.

    Raises:
        PanelError: if it can't be kept.
    """
    try:
        text = read_text(remark)
    except Unreadable as fault:
        message = f"What was noted {fault} Nothing was recorded."
        raise PanelError(message) from fault
    if text:
        for sample_id in vessel.sample_ids:
            row = {"sample_id": sample_id, "vessel_no": vessel.number, **salted("remark", text)}
            act.add("vessel_remark", row)


def add_step(act: Recording, vessel: Vessel, step: str, by: str | None, *, is_done: bool) -> None:
    """State that something was done with a vessel, or take that back."""
    for sample_id in vessel.sample_ids:
        row = {
            "sample_id": sample_id,
            "vessel_no": vessel.number,
            "step": step,
            "is_done": is_done,
            "done_at": act.recorded_at,
            "person_id": by,
        }
        act.add("vessel_step", row)


def sign_preparer(act: Recording, facts: SessionFacts, by: str | None, is_any: bool) -> None:
    """Whoever prepares and tastes is a preparer, so that their own answers wait for other codes."""
    if by is None or not is_any:
        return
    sign(act, by)
    if by in facts.people() and by not in facts.preparers:
        row = {"session_id": facts.head.session_id, "person_id": by, "is_preparer": True}
        act.add("preparer", row)


def told(own: SessionVessels, vessels: Sequence[Vessel], what: str, by: str | None) -> str:
    """The sentence that is told of an act."""
    if not vessels:
        return "That is on record already."
    names = joined([vessel.name for vessel in vessels])
    tastes = by is not None and by in own.facts.people() and by not in own.facts.preparers
    also = (
        f" {own.facts.names[by or '']} prepares and tastes: such answers count only if somebody else "
        "puts the codes on."
        if tastes
        else ""
    )
    return f"{names}: {what}.{also}"
