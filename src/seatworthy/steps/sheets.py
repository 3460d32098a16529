"""The sheets of a session: what each person's ballot holds, and what of it is on record."""

from seatworthy.sessions.wish import NAMING
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.session_facts import SessionFacts, session_facts
from seatworthy.steps.session_parts import Glass
from seatworthy.steps.sheet_views import SheetRow, SheetTab, SheetView


def sheet_key(sitting_id: str, person_id: str) -> str:
    """Key of one person's sheet at one sitting, as it stands in an address."""
    return f"{sitting_id}-{person_id}"


def sheet(desk: Desk, session_id: str, key: str | None = None) -> SheetView | None:
    """One sheet of a session.

    Args:
        desk: The open store.
        session_id: The session.
        key: Of the sheet; None, or one that is not known, for the first that waits for answers.

    Returns:
        None if there is no such session, or it has no sheets.
    """
    every = sheets(desk, session_id)
    known = [view for view in every if view.key == key]
    waiting = [view for view in every if any(row.state == "waiting" for row in view.rows)]
    return next(iter([*known, *waiting, *every]), None)


def sheets(desk: Desk, session_id: str) -> tuple[SheetView, ...]:
    """Every sheet of a session, in the order of sittings and names; empty if there are none."""
    facts = session_facts(desk, session_id)
    if facts is None:
        return ()
    seats = [(s.sitting_id, p) for s in facts.sittings for p in facts.people_at(s.sitting_id)]
    seats = [seat for seat in seats if facts.glasses_of(*seat)]
    by_key = {sheet_key(*seat): seat for seat in seats}
    rows = desk.store.rows("session_by_phone", session_id=session_id)
    by_phone = frozenset(row["serving_id"] for row in rows)
    words = tuple((row["words"], short_label(row["label"])) for row in desk.store.rows("wordings"))
    return tuple(_view(facts, key, by_key, words, by_phone) for key in by_key)


def _waiting(facts: SessionFacts, seat: tuple[str, str]) -> int:
    return sum(facts.is_waiting(glass) for glass in facts.glasses_of(*seat))


def _view(
    facts: SessionFacts,
    key: str,
    seats: dict[str, tuple[str, str]],
    words: tuple[tuple[str, str], ...],
    by_phone: frozenset[str],
) -> SheetView:
    sitting_id, person_id = seats[key]
    sittings = {s.sitting_id: s.label for s in facts.sittings}
    tabs = tuple(_tab(facts, k, seat, sittings[seat[0]]) for k, seat in seats.items())
    left = sum(_waiting(facts, seat) for seat in seats.values())
    answer, catch = _sentence(facts, person_id, left)
    return SheetView(
        session_id=facts.head.session_id,
        session_on=facts.head.session_on,
        session_label=facts.head.label,
        key=key,
        person_id=person_id,
        name=facts.names[person_id],
        sitting=sittings[sitting_id],
        is_open=facts.is_open,
        rows=tuple(
            _row(facts, glass, is_by_phone=glass.serving_id in by_phone)
            for glass in facts.glasses_of(sitting_id, person_id)
        ),
        sheets=tabs,
        words=words,
        answer=answer,
        catch=catch,
        is_release=facts.head.is_release,
    )


def _tab(facts: SessionFacts, key: str, seat: tuple[str, str], sitting: str) -> SheetTab:
    glasses = facts.glasses_of(*seat)
    expected = [glass for glass in glasses if glass.kind or facts.is_waiting(glass)]
    return SheetTab(
        key=key,
        person_id=seat[1],
        name=facts.names[seat[1]],
        sitting=sitting,
        glasses=len(expected),
        answered=sum(glass.kind is not None for glass in glasses),
    )


def _row(facts: SessionFacts, glass: Glass, *, is_by_phone: bool) -> SheetRow:
    return SheetRow(
        serving_id=glass.serving_id,
        position=glass.position or 0,
        code=next(iter(glass.codes), ""),
        state=_row_state(facts, glass),
        said=facts.said(glass),
        read_as=facts.read_as(glass),
        is_aside=glass.is_aside,
        name=glass.label,
        codes=glass.codes if glass.parts else (),
        method=glass.method,
        asks=facts.asked_label(glass.planned_sample_id)
        or facts.asked_beer(glass.planned_sample_id),
        is_by_phone=is_by_phone,
    )


def _row_state(facts: SessionFacts, glass: Glass) -> str:
    if glass.kind is not None:
        return "answered"
    if glass.event == "spilled":
        return "spilled"
    return "waiting" if facts.is_waiting(glass) else "gone"


def _sentence(facts: SessionFacts, person_id: str, left: int) -> tuple[str, str]:
    if not facts.is_open:
        how = "closed" if facts.head.how == "closed" else "not open"
        name = facts.names[person_id]
        return f"{name}'s sheet, as it is on record; the session is {how}", ""
    if not left and facts.head.is_release:
        return "Every answer is in", "open the talk on the session's page, or close it without one."
    if not left:
        return "Every answer is in", "close the session when the last sitting is over."
    wait = "waits" if left == 1 else "wait"
    if all(glass.parts for glass in facts.glasses):
        sets = "set" if left == 1 else "sets"
        return "Type the code that was picked in each set", f"{left} {sets} still {wait}."
    glasses = "glass" if left == 1 else "glasses"
    is_named = any(glass.method == NAMING for glass in facts.glasses)
    if facts.head.is_release:
        return "Type what was said of each glass", f"{left} {glasses} still {wait}."
    what = "Type what each glass was called" if is_named else "Type what was ticked for each glass"
    return what, f"{left} {glasses} still {wait}."
