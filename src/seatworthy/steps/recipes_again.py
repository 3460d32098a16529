"""Doses of a planned session worked out again, as long as nothing was dosed."""

from decimal import Decimal

from seatworthy.errors import PanelError, PlanRefused
from seatworthy.steps.bench_facts import containers
from seatworthy.steps.desk import Desk
from seatworthy.steps.dose_ethanol import ethanol_fault_of
from seatworthy.steps.recipe_rows import keeps_rows, recipe_rows
from seatworthy.steps.recipes import container_on_bench, keeping_hours, of_session, worked_out
from seatworthy.steps.sentences import number_word
from seatworthy.steps.session_facts import open_session
from seatworthy.steps.signing import sign
from seatworthy.steps.vessel_acts import add_step
from seatworthy.steps.vessels import SessionVessels
from seatworthy.steps.views import Choice


def vessel_choices(desk: Desk) -> tuple[Choice, ...]:
    """Kinds of vessel on the bench."""
    return tuple(Choice(c.container_id, c.label) for c in containers(desk))


def work_out_again(desk: Desk, session_id: str, container_id: str, by: str | None) -> str:
    """Work the doses of a session out from the bench as it stands now, and keep them.

    Args:
        desk: The open store.
        session_id: The session.
        container_id: Kind of vessel that is dosed.
        by: Who wants it.

    Raises:
        PlanRefused: with every reason why a dose can't be made.
        PanelError: if the session is not open, or a vessel was dosed already.
    """
    with desk.store.recording("prepared") as act:
        facts = open_session(desk, session_id)
        own = SessionVessels(facts)
        if own.dosed:
            message = (
                "A vessel of this session is dosed already. Take its dose back first, or write what "
                "was done otherwise. Nothing was recorded."
            )
            raise PanelError(message)
        asked = of_session(facts)
        worked = worked_out(desk, asked, container_id)
        faults = [*worked.faults, *filter(None, [ethanol_fault_of(facts, worked)])]
        if faults:
            raise PlanRefused(faults)
        container = container_on_bench(desk, container_id)
        pour_ml = facts.head.volume_ml or Decimal(0)
        for vessel in own.every.values():  # a new vessel bears the name of an old one
            for step in own.steps_of(vessel):
                add_step(act, vessel, step, by, is_done=False)
        sittings = [sitting.sitting_id for sitting in facts.sittings]
        act.add_all(recipe_rows(session_id, container, worked, pour_ml, sittings))
        hours = keeping_hours(desk, asked, container.kind)
        for sitting in facts.sittings:
            act.add_all(keeps_rows(sitting.sitting_id, hours))
        sign(act, by)
    count = sum(sum(recipe.vessels) for recipe in worked.recipes)
    told = (
        f"The doses of {number_word(count)} {'vessel' if count == 1 else 'vessels'} are worked out."
    )
    return " ".join([told, *worked.notes])
