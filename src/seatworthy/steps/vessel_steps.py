"""What else was done with each vessel: capped, found tight, chilled, put away, noted."""

from collections.abc import Sequence
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.recipes_kept import Vessel
from seatworthy.steps.sentences import joined
from seatworthy.steps.signing import sign, signed_reason
from seatworthy.steps.vessel_acts import (
    KIND,
    add_remark,
    add_step,
    named_vessels,
    open_vessels,
    sign_preparer,
    told,
)
from seatworthy.steps.vessel_views import STEPS
from seatworthy.steps.vessels import SessionVessels

STEP_WORDS: Final = {"capped": "capped", "tight": "checked and tight", "chilled": "chilled"}


def do_step(desk: Desk, session_id: str, names: Sequence[str], step: str, by: str | None) -> str:
    """State that vessels were capped, found tight ("tight") or chilled.

    Raises:
        PanelError: if one is not known, not dosed yet or put away.
    """
    with desk.store.recording(KIND) as act:
        own = open_vessels(desk, session_id, by)
        vessels = [v for v in named_vessels(own, names) if step not in own.steps_of(v)]
        for vessel in vessels:
            _check_before(own, vessel, step)
            add_step(act, vessel, step, by, is_done=True)
        sign_preparer(act, own.facts, by, bool(vessels))
    return told(own, vessels, STEP_WORDS.get(step, step), by)


def _check_before(own: SessionVessels, vessel: Vessel, step: str) -> None:
    if step not in STEPS:
        message = f"“{step}” is no step of the preparation: choose {joined(list(STEPS), 'or')}."
        raise PanelError(message)
    if own.dose_in(vessel) is None:
        message = f"{vessel.name} isn't dosed yet: record that first. Nothing was recorded."
        raise PanelError(message)
    if own.is_put_away(vessel):
        message = f"{vessel.name} is put away: take that back first. Nothing was recorded."
        raise PanelError(message)


def put_away(desk: Desk, session_id: str, name: str, reason: str, by: str | None) -> str:
    """State that a vessel is not poured (it leaks, it was dosed twice); its dose counts no more.

    Raises:
        PanelError: without a reason and an author, or if the vessel is not known.
    """
    why = signed_reason(reason, by)
    with desk.store.recording(KIND) as act:
        own = open_vessels(desk, session_id, by)
        (vessel,) = named_vessels(own, [name])
        if own.is_put_away(vessel):
            message = f"{name} is put away already. Nothing was recorded."
            raise PanelError(message)
        add_step(act, vessel, "put_away", by, is_done=True)
        add_remark(act, vessel, why)
        sign(act, by)
    return f"{name} is put away and not poured: {why}."


def take_back_step(
    desk: Desk, session_id: str, name: str, step: str, reason: str, by: str | None
) -> str:
    """Take back that a vessel was capped, tight, chilled or put away.

    Raises:
        PanelError: without a reason and an author, or if there is nothing to take back.
    """
    why = signed_reason(reason, by)
    with desk.store.recording(KIND) as act:
        own = open_vessels(desk, session_id, by)
        (vessel,) = named_vessels(own, [name])
        if step not in own.steps_of(vessel):
            message = f"Nothing of the kind is on record of {name}. Nothing was recorded."
            raise PanelError(message)
        add_step(act, vessel, step, by, is_done=False)
        add_remark(act, vessel, why)
        sign(act, by)
    words = "put away" if step == "put_away" else STEP_WORDS[step]
    return f"{name}: “{words}” was taken back: {why}."


def note_down(desk: Desk, session_id: str, name: str, remark: str, by: str | None) -> str:
    """Write something down of a vessel.

    Raises:
        PanelError: if it is empty or too long, or the vessel is not known.
    """
    with desk.store.recording(KIND) as act:
        own = open_vessels(desk, session_id, by)
        (vessel,) = named_vessels(own, [name])
        if not remark.strip():
            message = "Write down first what was noted. Nothing was recorded."
            raise PanelError(message)
        add_remark(act, vessel, remark)
        sign(act, by)
    return f"{name}: noted."
