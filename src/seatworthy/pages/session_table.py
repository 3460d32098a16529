"""At the table: what happened, told with one choice and one click on a person or a code."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, plain_markdown, tag
from seatworthy.pages.session_seats import sitting_head, sitting_table
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import asides, table
from seatworthy.steps.session_views import SeatedView, SessionView, SittingView
from seatworthy.steps.views import Choice

_WHAT: Final = {
    "late": "Came late",
    "absent": "Didn't come",
    "left": "Left early",
    "spilled": "Glass spilled",
    "short": "Glass short",
    "swapped": "Two glasses swapped",
    "other": "Somebody else came",
    "cold": "Had a cold",
    "back": "As planned after all",
}
_ASKS: Final = {
    "late": "Who? Their glasses stay theirs.",
    "absent": "Who? No reason is asked or kept. Somebody who came and isn't fit belongs here too.",
    "left": "Who? What they have not answered isn't waited for.",
    "spilled": "Which glass? No answer is waited for.",
    "short": "Which glass? Its answer counts unless you set it aside.",
    "swapped": "Which two? The record follows the glasses.",
    "other": "Who? They get a spare order, or fresh codes if none is left.",
    "cold": (
        "Whose own glasses of the last 7 days shall not count? No reason is kept. It can be put "
        "back until the session is closed."
    ),
    "back": "Who or which glass?",
}
_PEOPLE: Final = ("late", "absent", "left")
_GLASSES: Final = ("spilled", "short")
PLACE: Final = "table"
_FIRST_GLASS: Final = "first_glass_of_two"

Record = Callable[[str], None]


def show_table(view: SessionView, *, is_told_above: bool = False) -> None:
    """Who is there, and everything that may happen to them and their glasses.

    Args:
        view: The session.
        is_told_above: Whether another table shows who sits where already; this one is folded then.
    """
    for sitting in view.sittings:
        if sitting.is_over:
            _recall_over(sitting)
    what = _choose_what()
    show_told(PLACE)
    if what is not None:
        st.html(paper(tag("p", escaped(_ASKS[what]), class_="ask")))
        if what == "cold":
            _offer_cold(view)
        for sitting in view.sittings:
            if what != "cold":
                _offer(what, view, sitting)
    if is_told_above:
        with st.expander("Every glass with what happened to it, spare orders, letters"):
            _show_seats(view)
    else:
        _show_seats(view)


def _show_seats(view: SessionView) -> None:
    with_letters = st.checkbox("Show letters (this is the key)", key="show_letters")
    seats = [
        sitting_head(sitting) + sitting_table(sitting, with_letters=with_letters)
        for sitting in view.sittings
    ]
    st.html(paper(*seats))


def pick(label: str, options: dict[str, str], key: str, record: Record) -> None:
    """Offer buttons of which one click records.

    Args:
        label: What the row of buttons is about; plain text.
        options: Words by id; plain text.
        key: Of the widget.
        record: Called with the id that was clicked.
    """
    if not options:
        return
    words = {option: plain_markdown(text) for option, text in options.items()}
    st.pills(
        plain_markdown(label),
        list(words),
        format_func=words.get,
        key=key,
        on_change=_take,
        args=(key, record),
    )


def _take(key: str, record: Record) -> None:
    chosen = st.session_state[key]
    st.session_state[key] = None
    if chosen is not None:
        record(chosen)


def _choose_what() -> str | None:
    return st.segmented_control(
        "What happened?",
        list(_WHAT),
        format_func=_WHAT.get,
        key="what_happened",
        on_change=lambda: st.session_state.pop(_FIRST_GLASS, None),
    )


def _recall_over(sitting: SittingView) -> None:
    words = f"{sitting.label} is over; what you say here still counts for it."
    st.html(paper(tag("p", escaped(words), class_="note")))


def _offer(what: str, view: SessionView, sitting: SittingView) -> None:
    key = f"{what}_{sitting.sitting_id}"
    if what in _PEOPLE:
        here = [seat for seat in sitting.seated if seat.state != what]
        pick(sitting.label, _names(here), key, partial(_record_person, what, sitting.sitting_id))
    elif what == "other":
        may_come = labels_told_apart(view.may_come)
        pick(sitting.label, may_come, key, partial(_record_other, sitting.sitting_id))
    elif what == "back":
        _offer_back(sitting, key)
    else:
        _offer_glasses(what, sitting)


def _offer_glasses(what: str, sitting: SittingView) -> None:
    record = _record_swapped if what == "swapped" else partial(_record_glass, what)
    st.html(paper(tag("p", escaped(sitting.label), class_="ask")))
    first = st.session_state.get(_FIRST_GLASS) if what == "swapped" else None
    for seat in sitting.seated:
        if seat.state == "absent":
            continue
        codes = {
            glass.serving_id: f"{glass.code}: the first"
            if glass.serving_id == first
            else glass.code
            for glass in seat.glasses
            if what == "swapped" or glass.event != what
        }
        key = f"{what}_{sitting.sitting_id}_{seat.person_id}"
        pick(seat.name, codes, key, record)


def _offer_back(sitting: SittingView, key: str) -> None:
    moved = [seat for seat in sitting.seated if seat.state != "expected"]
    record = partial(_record_person, "back", sitting.sitting_id)
    pick(sitting.label, _names(moved), key, record)
    changed = {
        glass.serving_id: f"{glass.code} ({glass.event})"
        for seat in sitting.seated
        for glass in seat.glasses
        if glass.event in _GLASSES
    }
    pick(f"{sitting.label}: glasses", changed, f"{key}_glasses", partial(_record_glass, "back"))
    if not moved and not changed:
        words = f"{sitting.label}: everything stands as planned."
        st.html(paper(tag("p", escaped(words), class_="note")))


def _offer_cold(view: SessionView) -> None:
    seats = {seat.person_id: seat for sitting in view.sittings for seat in sitting.seated}
    aside = {person for person, seat in seats.items() if seat.own_aside}
    names = _names(seats.values())
    options = {
        person: f"{name}: put back" if person in aside else name for person, name in names.items()
    }
    pick("Own glasses", options, "cold", partial(_record_cold, aside))


def _names(seats: Iterable[SeatedView]) -> dict[str, str]:
    return labels_told_apart(Choice(seat.person_id, seat.name) for seat in seats)


def _record_person(what: str, sitting_id: str, person_id: str) -> None:
    steps = {"late": table.came_late, "absent": table.absent, "left": table.left}
    desk = source.the_desk()
    back = partial(table.back, desk, sitting_id, person_id)
    if what == "back":
        act(PLACE, back)
    else:
        act(PLACE, partial(steps[what], desk, sitting_id, person_id), back)


def _record_glass(what: str, serving_id: str) -> None:
    steps = {"spilled": table.spilled, "short": table.short}
    desk = source.the_desk()
    as_planned = partial(table.as_planned, desk, serving_id)
    if what == "back":
        act(PLACE, as_planned)
    else:
        act(PLACE, partial(steps[what], desk, serving_id), as_planned)


def _record_swapped(serving_id: str) -> None:
    first = st.session_state.pop(_FIRST_GLASS, None)
    if first is None:
        st.session_state[_FIRST_GLASS] = serving_id
    elif first != serving_id:
        swap = partial(table.swapped, source.the_desk(), first, serving_id)
        act(PLACE, swap, swap)


def _record_other(sitting_id: str, person_id: str) -> None:
    desk = source.the_desk()
    act(
        PLACE,
        partial(table.seat_latecomer, desk, sitting_id, person_id),
        partial(table.absent, desk, sitting_id, person_id),
    )


def _record_cold(aside: set[str], person_id: str) -> None:
    desk = source.the_desk()
    back = partial(asides.put_own_back, desk, person_id)
    if person_id in aside:
        act(PLACE, back)
    else:
        act(PLACE, partial(asides.set_own_aside, desk, person_id), back)
