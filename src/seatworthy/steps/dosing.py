"""What really went into each vessel: as planned, otherwise, or taken back with a reason."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.dose_columns import OtherDose, dose_columns
from seatworthy.steps.dose_warnings import dose_warnings
from seatworthy.steps.recipes_kept import Vessel
from seatworthy.steps.signing import sign, signed_reason
from seatworthy.steps.vessel_acts import (
    KIND,
    add_remark,
    add_step,
    check_poured,
    moment_of,
    named_vessels,
    open_vessels,
    sign_preparer,
    told,
)
from seatworthy.steps.vessels import Dosed, SessionVessels
from seatworthy.store.recording import Recording

__all__ = ["OtherDose", "dose_as_planned", "dose_otherwise", "take_back_dose"]


def dose_as_planned(
    desk: Desk, session_id: str, names: Sequence[str], by: str | None, at: datetime | None = None
) -> str:
    """State that vessels were dosed as the recipe says; those dosed already stay as they are.

    Args:
        desk: The open store.
        session_id: The session.
        names: Of the vessels ("A1").
        by: Person id of whoever prepared; None for somebody who is not on the list of people.
        at: When, local; None for now.

    Raises:
        PanelError: if a vessel is not known, its lot can't be used, or the time can't be.
    """
    with desk.store.recording(KIND) as act:
        own = open_vessels(desk, session_id, by)
        named = named_vessels(own, tuple(dict.fromkeys(names)))
        vessels = [v for v in named if own.dose_in(v) is None]
        check_poured(own, vessels)
        moment = moment_of(own.facts, at)
        for vessel in vessels:
            _add_dose(desk, act, own, vessel, OtherDose(), moment, by)
        sign_preparer(act, own.facts, by, bool(vessels))
    warned = dose_warnings(desk, session_id, [vessel.name for vessel in vessels])
    return told(own, vessels, "dosed as planned", by) + warned


def dose_otherwise(
    desk: Desk,
    session_id: str,
    name: str,
    dose: OtherDose,
    remark: str,
    by: str | None,
    at: datetime | None = None,
) -> str:
    """State what really went into one vessel, where that was not what the recipe says.

    It takes the place of what was stated of the vessel before; both stay in the history.

    Raises:
        PanelError: as in `dose_as_planned`, and if amounts can't be.
    """
    with desk.store.recording(KIND) as act:
        own = open_vessels(desk, session_id, by)
        (vessel,) = named_vessels(own, [name])
        check_poured(own, [vessel])
        before = own.dose_in(vessel)
        moment = before.dosed_at if before and at is None else moment_of(own.facts, at)
        _add_dose(desk, act, own, vessel, dose, moment, by)
        add_remark(act, vessel, remark)
        sign_preparer(act, own.facts, by, True)
    warned = dose_warnings(desk, session_id, [name])
    return f"{name}: what really went in is on record; the level follows from it.{warned}"


def _add_dose(
    desk: Desk,
    act: Recording,
    own: SessionVessels,
    vessel: Vessel,
    dose: OtherDose,
    moment: datetime,
    by: str | None,
) -> None:
    recipe = own.recipes[vessel.mark]
    before = own.dose_in(vessel)
    columns = dose_columns(desk, own.facts, recipe, dose, before.stock_id if before else None)
    for sample_id in vessel.sample_ids:
        row = {
            "sample_id": sample_id,
            "vessel_no": vessel.number,
            "is_done": True,
            "is_shared": len(vessel.sample_ids) > 1,
            **columns,
            "dosed_at": moment,
            "person_id": by,
        }
        act.add("vessel_dosed", row)


def take_back_dose(desk: Desk, session_id: str, name: str, reason: str, by: str | None) -> str:
    """Take back that a vessel was dosed; what was taken from the stock is there again.

    Raises:
        PanelError: without a reason and an author, or if it was not dosed.
    """
    why = signed_reason(reason, by)
    with desk.store.recording(KIND) as act:
        own = open_vessels(desk, session_id, by)
        (vessel,) = named_vessels(own, [name])
        dose = own.dose_in(vessel)
        if dose is None:
            message = f"{name} isn't dosed, so there is nothing to take back. Nothing was recorded."
            raise PanelError(message)
        for sample_id in vessel.sample_ids:
            act.add("vessel_dosed", _taken_back(dose, sample_id))
        for step in own.steps_of(vessel):
            if step != "put_away":  # a vessel that leaks still does
                add_step(act, vessel, step, by, is_done=False)
        add_remark(act, vessel, why)
        sign(act, by)
    return f"{name}: the dose was taken back: {why}."


def _taken_back(dose: Dosed, sample_id: str) -> dict[str, object]:
    columns = (
        "vessel_no", "is_shared", "stock_id", "pipette_id", "setting_ul", "shots", "amount",
        "volume_ml", "dosed_at", "person_id",
    )  # fmt: skip
    kept = {name: getattr(dose, name) for name in columns}
    return {**kept, "sample_id": sample_id, "is_done": False, "solvent_ul": Decimal(0)}
