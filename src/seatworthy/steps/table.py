"""At the table: who came and left, what was spilled or swapped, what was really in the jugs."""

from decimal import Decimal

from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.seating import seat_latecomer
from seatworthy.steps.sentences import joined
from seatworthy.steps.session_facts import SessionFacts, one_glass, open_session, session_with
from seatworthy.steps.session_parts import Glass
from seatworthy.steps.signing import sign

__all__ = [
    "absent", "as_planned", "back", "came_late", "left", "not_recoded", "put_codes_on",
    "seat_latecomer", "short", "sitting_goes_on", "sitting_over", "spilled", "state_level",
    "swapped",
]  # fmt: skip

LOWEST_LEVEL, HIGHEST_LEVEL = Decimal("0.01"), 100
LONGEST_AGE_MINUTES = 14 * 24 * 60
_KIND = "at the table"


def came_late(desk: Desk, sitting_id: str, person_id: str) -> str:
    """Somebody planned for a sitting came late; their glasses stay theirs."""
    return _seat(desk, sitting_id, person_id, "late", "came late; the glasses stand as planned")


def left(desk: Desk, sitting_id: str, person_id: str) -> str:
    """Somebody left early; what they have not answered is not waited for."""
    return _seat(desk, sitting_id, person_id, "left", "left; what is not answered isn't waited for")


def absent(desk: Desk, sitting_id: str, person_id: str) -> str:
    """Somebody planned for a sitting didn't come, or isn't fit today; no reason is kept."""
    return _seat(desk, sitting_id, person_id, "absent", "didn't taste today; no reason is kept")


def back(desk: Desk, sitting_id: str, person_id: str) -> str:
    """Take back what was said of somebody's coming or leaving."""
    return _seat(desk, sitting_id, person_id, "expected", "is expected again")


def _seat(desk: Desk, sitting_id: str, person_id: str, state: str, what: str) -> str:
    with desk.store.recording(_KIND) as act:
        facts = session_with(desk, "sitting", sitting_id)
        _refuse_seat(facts, sitting_id, person_id, state)
        if facts.seat_state(sitting_id, person_id) != state:
            row = {"sitting_id": sitting_id, "person_id": person_id, "state": state}
            act.add("sitting_person", row)
    return f"{_name(facts, person_id)} {what}."


def _refuse_seat(facts: SessionFacts, sitting_id: str, person_id: str, state: str) -> None:
    if person_id not in facts.people_at(sitting_id):
        message = (
            f"{_name(facts, person_id)} has no glasses at this sitting. If they came after all, "
            "record that somebody else came."
        )
        raise PanelError(message)
    if state == "absent" and any(g.kind for g in facts.glasses_of(sitting_id, person_id)):
        message = (
            f"{_name(facts, person_id)} has answers on record here, so they were there. "
            "Record that they left early instead."
        )
        raise PanelError(message)
    if state in ("expected", "late"):
        _refuse_two_seats(facts, sitting_id, person_id)


def _refuse_two_seats(facts: SessionFacts, sitting_id: str, person_id: str) -> None:
    """Nobody drinks the glasses of two sittings of one session."""
    for other in facts.sittings:
        is_here = other.sitting_id == sitting_id
        if is_here or not facts.glasses_of(other.sitting_id, person_id):
            continue
        if facts.seat_state(other.sitting_id, person_id) != "absent":
            message = (
                f"{_name(facts, person_id)} has glasses at {other.label}. If they come to this sitting "
                "instead, record first that they didn't come to that one. Nothing was recorded."
            )
            raise PanelError(message)


def spilled(desk: Desk, serving_id: str) -> str:
    """A glass was lost before it was answered; no answer is waited for."""
    return _glass(desk, serving_id, "spilled", "was spilled; no answer is waited for")


def short(desk: Desk, serving_id: str) -> str:
    """A glass held less than it should; its answer counts unless it is set aside."""
    what = "was short; its answer counts unless you set it aside"
    return _glass(desk, serving_id, "short", what)


def as_planned(desk: Desk, serving_id: str) -> str:
    """Take back that a glass was spilled or short."""
    return _glass(desk, serving_id, "as_planned", "stands as planned again")


def _glass(desk: Desk, serving_id: str, kind: str, what: str) -> str:
    with desk.store.recording(_KIND) as act:
        facts = session_with(desk, "glass", serving_id)
        glass = one_glass(facts, serving_id)
        if kind == "spilled" and glass.kind is not None:
            message = (
                f"{glass.title} is answered already. If that answer must not count, set the glass "
                "aside with a reason, on the page of the answers."
            )
            raise PanelError(message)
        if glass.event != kind and (glass.event or kind != "as_planned"):
            act.add("glass_event", {"serving_id": serving_id, "kind": kind})
    return f"{glass.title} of {_name(facts, glass.person_id)} {what}."


def swapped(desk: Desk, serving_id: str, other_serving_id: str) -> str:
    """The contents of two glasses of one sitting were exchanged; the record follows the glasses.

    Doing the same again puts both back.
    """
    with desk.store.recording(_KIND) as act:
        facts = session_with(desk, "glass", serving_id)
        glasses = {glass.serving_id: glass for glass in facts.glasses}
        one, other = glasses[serving_id], glasses.get(other_serving_id)
        if other is None or other.sitting_id != one.sitting_id or other is one:
            message = "Choose two different glasses of one sitting. Nothing was recorded."
            raise PanelError(message)
        _refuse_sets(one, other)
        act.add("poured_instead", {"serving_id": one.serving_id, "sample_id": other.sample_id})
        act.add("poured_instead", {"serving_id": other.serving_id, "sample_id": one.sample_id})
    return f"{one.blind_code} and {other.blind_code} were swapped; the record follows the glasses."


def _refuse_sets(*glasses: Glass) -> None:
    for glass in glasses:
        if glass.parts:
            message = (
                f"{glass.title} is a set: which of its glasses is the odd one is fixed by the plan. If "
                "its glasses were exchanged, set it aside with a reason. Nothing was recorded."
            )
            raise PanelError(message)


def state_level(
    desk: Desk, sample_id: str, actual_level: Decimal | None, age_minutes: int | None
) -> str:
    """State what one vessel really held at one sitting, and how old it was when it was poured.

    Args:
        desk: The open store.
        sample_id: The sample; each sitting has its own, also when one keg serves both.
        actual_level: Multiple of the working threshold, total; None leaves what was known.
        age_minutes: Minutes from dosing to serving; None leaves what was known.
    """
    with desk.store.recording(_KIND) as act:
        sample = session_with(desk, "sample", sample_id).samples[sample_id]
        if sample.is_poured_as_it_is and actual_level is not None:
            message = (
                f"{sample.mark} is a beer poured as it is: nobody added anything, so it has no level. "
                "Nothing was recorded."
            )
            raise PanelError(message)
        level = sample.actual_level if actual_level is None else actual_level
        age = sample.age_minutes if age_minutes is None else age_minutes
        _check_level(sample.compound, level, age)
        if (level, age) != (sample.actual_level, sample.age_minutes):
            row = {"sample_id": sample_id, "actual_level": level, "age_minutes": age}
            act.add("sample_state", row)
    told = [f"{level.normalize():f}×"] if level is not None else []
    told += [f"{age} minutes old"] if age is not None else []
    return f"{sample.mark} at this sitting: {joined(told) or 'as planned'}."


def _check_level(compound: str | None, level: Decimal | None, age: int | None) -> None:
    if compound is None and level is not None:
        message = "Nothing was added to this one, so it has no level: leave it empty. Nothing was recorded."
        raise PanelError(message)
    if level is not None and not (level.is_finite() and LOWEST_LEVEL <= level <= HIGHEST_LEVEL):
        message = (
            f"A level lies from {LOWEST_LEVEL} to {HIGHEST_LEVEL} times threshold, got {level}."
        )
        raise PanelError(message)
    if age is not None and not 0 <= age <= LONGEST_AGE_MINUTES:
        message = f"The age is in minutes, from 0 to {LONGEST_AGE_MINUTES}, got {age}."
        raise PanelError(message)


def sitting_over(desk: Desk, sitting_id: str, by: str | None = None) -> str:
    """State that everybody of a sitting has tasted."""
    return _over(desk, sitting_id, by, is_over=True)


def sitting_goes_on(desk: Desk, sitting_id: str, by: str | None = None) -> str:
    """Take back that a sitting is over."""
    return _over(desk, sitting_id, by, is_over=False)


def _over(desk: Desk, sitting_id: str, by: str | None, *, is_over: bool) -> str:
    with desk.store.recording(_KIND) as act:
        facts = session_with(desk, "sitting", sitting_id)
        sitting = next(s for s in facts.sittings if s.sitting_id == sitting_id)
        if is_over and facts.head.session_on > desk.today():
            message = f"{sitting.label} is still to come; it can't be over yet."
            raise PanelError(message)
        if sitting.is_over != is_over:
            sign(act, by)
            act.add("sitting_over", {"sitting_id": sitting_id, "is_over": is_over})
    return f"{sitting.label} {'is over' if is_over else 'goes on'}."


def put_codes_on(desk: Desk, session_id: str, person_id: str | None, by: str | None = None) -> str:
    """State that somebody else than the preparer put the codes on, from the sealed pouring sheet.

    Args:
        desk: The open store.
        session_id: The session.
        person_id: Who; None for somebody who is not on the list of people.
        by: Who says so.
    """
    return _recoded(desk, session_id, person_id, by, is_recoded=True)


def not_recoded(desk: Desk, session_id: str, by: str | None = None) -> str:
    """Take back that somebody else put the codes on."""
    return _recoded(desk, session_id, None, by, is_recoded=False)


def _recoded(
    desk: Desk, session_id: str, person_id: str | None, by: str | None, *, is_recoded: bool
) -> str:
    with desk.store.recording("codes put on") as act:
        facts = open_session(desk, session_id)
        _refuse_recoder(facts, person_id)
        if (facts.head.is_recoded, facts.head.recoded_by) != (is_recoded, person_id):
            sign(act, by)
            row = {"session_id": session_id, "is_recoded": is_recoded, "person_id": person_id}
            act.add("recoding", row)
    return _about_codes(facts, person_id, is_recoded=is_recoded)


def _refuse_recoder(facts: SessionFacts, person_id: str | None) -> None:
    if person_id is not None and person_id not in facts.names:
        message = "Nobody on the list of people goes by that id. Nothing was recorded."
        raise PanelError(message)
    if person_id in facts.preparers:
        message = (
            f"{_name(facts, person_id or '')} prepared the glasses, so somebody else must put the "
            "codes on. Nothing was recorded."
        )
        raise PanelError(message)


def _about_codes(facts: SessionFacts, person_id: str | None, *, is_recoded: bool) -> str:
    names = joined([_name(facts, person) for person in facts.preparers])
    who = _name(facts, person_id) if person_id else "Somebody else"
    if not names:
        return f"{who} put the codes on." if is_recoded else "Nobody else put the codes on."
    if is_recoded:
        tastes = (
            f" {who} has seen which of the own glasses share a letter; somebody who doesn't taste is "
            "better."
            if person_id in facts.people()
            else ""
        )
        return f"{who} put the codes on, so what {names} answers counts.{tastes}"
    return f"Nobody else put the codes on, so what {names} answers is kept and doesn't count."


def _name(facts: SessionFacts, person_id: str) -> str:
    return facts.names.get(person_id, "Somebody who is not on record")
