"""A late arrival who was not planned for: a spare order becomes theirs, or a fresh one is made."""

from secrets import randbelow

from seatworthy.errors import PanelError
from seatworthy.sessions.codes import draw_codes
from seatworthy.sessions.draw import Draw
from seatworthy.sessions.orders import serving_orders
from seatworthy.steps.desk import Desk
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.resting_codes import resting_codes
from seatworthy.steps.sentences import joined
from seatworthy.steps.session_facts import SessionFacts, session_with
from seatworthy.steps.session_parts import SpareGlass
from seatworthy.store.ids import coded_serving_name
from seatworthy.store.recording import Recording

_SEEDS = 2**31


def seat_latecomer(desk: Desk, sitting_id: str, person_id: str) -> str:
    """Give somebody who was not planned for a whole order of glasses at one sitting.

    The first spare order that nobody took becomes theirs, with the codes that are printed; where
    none is left, a fresh order with fresh codes is made. What they are not to be served is left out.

    Args:
        desk: The open store.
        sitting_id: The sitting.
        person_id: Who came.

    Returns:
        A sentence that names the codes if they are not on paper yet.

    Raises:
        PanelError: if they have glasses in this session already, or may not be served this beer.
    """
    with desk.store.recording("at the table") as act:
        facts = session_with(desk, "sitting", sitting_id)
        _refuse_when_over(facts, sitting_id, person_id)
        refused = _refused(facts, person_id)
        spares = facts.spares_at(sitting_id)
        number = min(spares, default=None)
        whole = spares[number] if number is not None else _fresh_order(facts, sitting_id)
        order = [g for g in whole if facts.samples[g.sample_id].compound not in refused]
        if not whole:
            message = (
                f"This session is poured in sets, and sets are poured for those who were planned. Plan "
                f"a session of their own for {facts.names[person_id]}."
            )
            raise PanelError(message)
        if not order:
            message = f"{facts.names[person_id]} is not to be served any of these glasses."
            raise PanelError(message)
        _record(act, facts, sitting_id, person_id, order)
        if number is not None:
            row = {"sitting_id": sitting_id, "spare_no": number, "person_id": person_id}
            act.add("spare_taken", row)
    return _told(facts, person_id, number, order, left_out=len(whole) - len(order))


def _refuse_when_over(facts: SessionFacts, sitting_id: str, person_id: str) -> None:
    sitting = next(s for s in facts.sittings if s.sitting_id == sitting_id)
    if sitting.is_over or facts.glasses_of(sitting_id, person_id):
        what = (
            "is over" if sitting.is_over else "holds their glasses already; take the absence back"
        )
        message = f"{sitting.label} {what}. Nothing was recorded."
        raise PanelError(message)


def _refused(facts: SessionFacts, person_id: str) -> frozenset[str]:
    """What somebody is not to be served, having checked that they may be seated at all."""
    name = facts.names.get(person_id)
    if name is None:
        message = "Nobody on the list of people has this id. Add them under People first."
        raise PanelError(message)
    here = [g for g in facts.glasses if g.person_id == person_id]
    if any(facts.seat_state(g.sitting_id, person_id) != "absent" for g in here):
        message = (
            f"{name} has glasses in this session already. If they come to another sitting instead, "
            "record first that they didn't come to theirs."
        )
        raise PanelError(message)
    person = next(p for p in people_of_panel(facts.desk) if p.person_id == person_id)
    for sample in facts.samples.values():
        if sample.beer in person.refused_beers:
            message = f"{name} is not to be served {sample.beer_label}. Nothing was recorded."
            raise PanelError(message)
    return person.refused_compounds


def _fresh_order(facts: SessionFacts, sitting_id: str) -> list[SpareGlass]:
    """An order with codes that stand on no glass yet; what is poured in sets alone is not in it."""
    draw = Draw(randbelow(_SEEDS))
    samples = []
    for sample in facts.samples_at(sitting_id):
        if _is_in_sets_alone(facts, sample.sample_id):
            continue
        own = [
            g.person_id
            for g in facts.glasses
            if g.planned_sample_id == sample.sample_id and not g.parts
        ]
        samples += [sample] * max((own.count(person) for person in set(own)), default=1)
    marks = [sample.mark for sample in samples]
    (row,) = serving_orders(1, marks, draw)
    codes = draw_codes(len(row), resting_codes(facts.desk, facts.head.session_on), draw)
    return [
        SpareGlass(
            sitting_id=sitting_id,
            spare_no=0,
            position=position,
            sample_id=samples[place].sample_id,
            blind_code=code,
            duplicate_mark=marks[place] if marks.count(marks[place]) > 1 else None,
            taken_by=None,
        )
        for position, (place, code) in enumerate(zip(row, codes, strict=True), start=1)
    ]


def _is_in_sets_alone(facts: SessionFacts, sample_id: str) -> bool:
    sets = [bool(g.parts) for g in facts.glasses if sample_id in g.poured_from]
    return bool(sets) and all(sets)


def _record(
    act: Recording,
    facts: SessionFacts,
    sitting_id: str,
    person_id: str,
    order: list[SpareGlass],
) -> None:
    for position, glass in enumerate(order, start=1):
        method = facts.methods[glass.sample_id]
        act.add(
            "serving",
            {
                "serving_id": coded_serving_name(sitting_id, person_id, method, glass.blind_code),
                "sample_id": glass.sample_id,
                "person_id": person_id,
                "method": method,
                "position": position,
                "blind_code": glass.blind_code,
                "duplicate_mark": glass.duplicate_mark,
            },
        )
    row = {"sitting_id": sitting_id, "person_id": person_id, "state": "late"}
    act.add("sitting_person", row)


def _told(
    facts: SessionFacts,
    person_id: str,
    number: int | None,
    order: list[SpareGlass],
    *,
    left_out: int,
) -> str:
    name = facts.names[person_id]
    codes = joined([glass.blind_code for glass in order])
    rest = f" {left_out} of its glasses are left out for {name}." if left_out else ""
    if any(glass.parts for glass in facts.glasses if glass.sitting_id == order[0].sitting_id):
        rest += " It holds no sets: those are poured for the people who were planned."
    if number is not None:
        return f"{name} takes spare order {number}: glasses {codes}.{rest}"
    marks = joined([
        f"{glass.blind_code} from {facts.samples[glass.sample_id].mark}" for glass in order
    ])  # fmt: skip
    return f"{name} gets a fresh order, not yet on paper: {marks}.{rest}"
