"""Between which places everybody rests in a planned session, as its pouring sheet says."""

from seatworthy.sessions.asking import STRONG_ABOVE
from seatworthy.sessions.rests import rest_sentences
from seatworthy.sessions.wish import SETS
from seatworthy.steps.plan_shelf import lingers
from seatworthy.steps.session_facts import SessionFacts


def session_rests(facts: SessionFacts) -> tuple[str, ...]:
    """Rests before the strong and lingering glasses and before the sets, a finished sentence each.

    A session whose plan doesn't put strong glasses last has only the rest before its sets.
    """
    marks = {sample.sample_id: sample.mark for sample in facts.samples.values()}
    served = [glass for glass in facts.glasses if glass.position]
    sets = {marks[g.planned_sample_id] for g in served if g.method in SETS}
    late = _late_marks(facts) - sets
    orders: dict[str, list[str]] = {}
    for glass in sorted(served, key=lambda glass: (glass.sitting_id, glass.position or 0)):
        name = facts.names[glass.person_id]
        orders.setdefault(name, []).append(marks[glass.planned_sample_id])
    for sitting in facts.sittings:
        for number, spares in facts.spares_at(sitting.sitting_id).items():
            name = f"Spare {number} of {sitting.label}"
            orders[name] = [marks[g.sample_id] for g in sorted(spares, key=lambda g: g.position)]
    return rest_sentences(orders, late, sets)


def _late_marks(facts: SessionFacts) -> set[str]:
    """Letters whose single glasses come late."""
    rows = facts.desk.store.rows("session_flight", session_id=facts.head.session_id)
    if facts.head.is_release or not rows or not rows[0]["strong_late"]:
        return set()
    care = {row["compound"]: row for row in facts.desk.store.rows("compound_care")}
    return {
        sample.mark
        for sample in facts.samples.values()
        if sample.compound in care
        and ((sample.given_level or 0) > STRONG_ABOVE or lingers(care[sample.compound]))
    }
