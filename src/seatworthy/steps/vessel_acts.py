"""What every act of preparing shares: which vessels, when, by whom, and what is told of it."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.intake.words import Unreadable, read_text
from seatworthy.steps.recipes_kept import Vessel
from seatworthy.steps.sentences import joined
from seatworthy.steps.session_facts import SessionFacts
from seatworthy.steps.signing import salted, sign
from seatworthy.steps.vessels import SessionVessels
from seatworthy.store.file import Recording

KIND: Final = "prepared"
# A vessel dosed longer ago than this is a slip of the date; ours, no source.
_LONGEST: Final = timedelta(days=14)


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


def moment_of(facts: SessionFacts, at: datetime | None) -> datetime:
    """When it was, in UTC; not to come and not long before the session."""
    zone, now = facts.desk.time_zone, datetime.now(UTC).replace(tzinfo=None)
    if at is None:
        return now
    moment = at.replace(tzinfo=zone).astimezone(UTC).replace(tzinfo=None)
    first = datetime.combine(facts.head.session_on, datetime.min.time()) - _LONGEST
    if moment > now + timedelta(minutes=1):
        message = f"{at:%H:%M} on {at:%d %B} is still to come. Nothing was recorded."
        raise PanelError(message)
    if at < first:
        days = _LONGEST.days
        message = f"{at:%d %B} is more than {days} days before the session. Nothing was recorded."
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
