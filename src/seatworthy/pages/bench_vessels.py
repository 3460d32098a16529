"""The kinds of vessels that beer is dosed in and poured from."""

from functools import partial
from types import MappingProxyType
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import author, cleared, listing, written
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import bench_equipment
from seatworthy.steps.bench_equipment import TypedContainer
from seatworthy.steps.bench_views import BenchView, ContainerLine
from seatworthy.steps.views import Choice

_MEANING: Final = (
    "A level is counted from the beer that is in the vessel together with the dose. A keg is dosed once for "
    "all sittings, a bottle or pitcher for each. Where there is no room above the beer, as much beer is "
    "taken out first."
)
_KINDS: Final = MappingProxyType({"bottle": "Bottle", "pitcher": "Pitcher", "keg": "Keg"})
_FIELDS: Final = ("label", "content", "fill_off", "headspace", "dead")
_PLACE: Final = "vessel"


def show_vessels(view: BenchView) -> None:
    """Those in use, and the ways to state another, change one or put it away."""
    rows = [_row(line) for line in view.containers if line.is_in_use]
    heads = (
        "Vessel",
        "In it, with the dose",
        "Filled within",
        "Room above the beer",
        "Can't be poured",
    )
    none = tag("p", "No kind of vessel stands on the bench.")
    note = tag("p", escaped(_MEANING), class_="note")
    st.html(paper(tag("h2", "Vessels"), note, listing(heads, rows) if rows else none))
    st.html(paper(tag("h2", "Another kind of vessel" if rows else "The first kind of vessel")))
    _form("new", None)
    show_told(_PLACE)
    if view.containers:
        with st.expander("Change a kind of vessel, or put it out of use"):
            _change(view)


def _row(line: ContainerLine) -> tuple[str, ...]:
    name = escaped(line.label) + tag("i", escaped(_KINDS[line.kind].lower()))
    figures = (line.content, line.fill_off, line.headspace, line.dead)
    return name, *(f"{escaped(figure)} ml" if figure else "" for figure in figures)


def _form(name: str, line: ContainerLine | None) -> None:
    def typed(place: object, words: str, field: str, length: int = 12) -> None:
        stated = str(getattr(line, field)) if line else ""
        place.text_input(words, stated, max_chars=length, key=_key(name, field))  # type: ignore[attr-defined]

    with st.form(f"vessel_{name}", border=False):
        label, kind = st.columns(2)
        typed(label, "Its name", "label", 60)
        kind.segmented_control(
            "Kind", list(_KINDS), default=line.kind if line else None, format_func=_KINDS.get,
            key=_key(name, "kind"),
        )  # fmt: skip
        content, fill_off, headspace, dead = st.columns(4)
        typed(content, "In it with the dose, ml", "content")
        typed(fill_off, "Filled within, ml (may stay empty)", "fill_off")
        typed(headspace, "Room above the beer, ml", "headspace")
        typed(dead, "Can't be poured out, ml", "dead")
        if line is None:
            st.form_submit_button("Put it on the bench", type="primary", on_click=_add)
        else:
            st.form_submit_button("Record the change", on_click=_record, args=(line.container_id,))


def _key(name: str, field: str) -> str:
    return f"vessel_{name}_{field}"


def _typed(name: str) -> TypedContainer:
    fields = {field: written(_key(name, field)) for field in _FIELDS}
    return TypedContainer(kind=written(_key(name, "kind")), **fields)


def _add() -> None:
    step = partial(bench_equipment.add_container, source.the_desk(), _typed("new"), by=author())
    if act(_PLACE, step):
        cleared(*(_key("new", field) for field in _FIELDS))


def _record(container_id: str) -> None:
    step = partial(
        bench_equipment.change_container, source.the_desk(), container_id, _typed(container_id),
        by=author(),
    )  # fmt: skip
    act("change_vessel", step)


def _change(view: BenchView) -> None:
    labels = labels_told_apart(
        Choice(line.container_id, line.label + ("" if line.is_in_use else ", out of use"))
        for line in view.containers
    )
    st.selectbox("Vessel", list(labels), format_func=labels.get, key="changed_vessel")
    chosen = written("changed_vessel")
    line = next(line for line in view.containers if line.container_id == chosen)
    if line.is_in_use:
        _form(chosen, line)
        st.button("Put it out of use", key="stop_vessel", on_click=_use, args=(chosen, False))
    else:
        st.button("Put it back in use", key="start_vessel", on_click=_use, args=(chosen, True))
    show_told("change_vessel")


def _use(container_id: str, is_in_use: bool) -> None:
    desk, by = source.the_desk(), author()
    back = partial(bench_equipment.put_back_in_use, desk, "container", container_id, by=by)
    away = partial(bench_equipment.put_out_of_use, desk, "container", container_id, by=by)
    act("change_vessel", *((back, away) if is_in_use else (away, back)))
