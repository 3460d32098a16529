"""The pipettes: what each can be set to, and how far it may be off."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import author, cleared, listing, written
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import bench_equipment
from seatworthy.steps.bench_equipment import TypedPipette
from seatworthy.steps.bench_views import BenchView, PipetteLine
from seatworthy.steps.views import Choice

_MEANING: Final = (
    "How far a pipette may be off is taken from the limits after ISO 8655-2 for its highest setting, which "
    "hold at every setting, or from its own calibration if you write both figures. Without any pipette "
    "the amounts are stated all the same, and how sure a level is stays open."
)
_FIELDS: Final = ("label", "smallest", "largest", "step", "bias", "spread")
_PLACE: Final = "pipette"


def show_pipettes(view: BenchView) -> None:
    """Those in use, and the ways to state another, change one or put it away."""
    lines = [line for line in view.pipettes if line.is_in_use]
    rows = [tuple(map(escaped, (line.label, line.settings, line.tip, line.accuracy)))
            for line in lines]  # fmt: skip
    heads = ("Pipette", "Can be set to", "Tip", "How far it may be off")
    none = tag("p", "No pipette stands on the bench.")
    note = tag("p", escaped(_MEANING), class_="note")
    st.html(paper(tag("h2", "Pipettes"), note, listing(heads, rows) if rows else none))
    st.html(paper(tag("h2", "Another pipette" if rows else "The first pipette")))
    _form("new", None)
    show_told(_PLACE)
    if view.pipettes:
        with st.expander("Change a pipette, or put it out of use"):
            _change(view)


def _form(name: str, line: PipetteLine | None) -> None:
    def stated(field: str) -> str:
        return str(getattr(line, field)) if line else ""

    with st.form(f"pipette_{name}", border=False):
        label, smallest, largest, step = st.columns([2, 1, 1, 1])
        label.text_input("Its name", stated("label"), max_chars=60, key=_key(name, "label"))
        smallest.text_input(
            "Lowest setting, µl", stated("smallest"), max_chars=12, key=_key(name, "smallest")
        )
        largest.text_input(
            "Highest setting, µl", stated("largest"), max_chars=12, key=_key(name, "largest")
        )
        step.text_input("Step, µl", stated("step"), max_chars=12, key=_key(name, "step"))
        bias, spread, fine = st.columns([1.5, 1.5, 2], vertical_alignment="bottom")
        bias.text_input(
            "Own calibration: systematic error, µl", stated("bias"),
            max_chars=12, key=_key(name, "bias"),
        )  # fmt: skip
        spread.text_input(
            "Own calibration: random error, µl", stated("spread"),
            max_chars=12, key=_key(name, "spread"),
        )  # fmt: skip
        fine.checkbox(
            "Its tip reaches the bottom of a narrow vial",
            bool(line and line.is_fine), key=_key(name, "fine"),
        )  # fmt: skip
        if line is None:
            st.form_submit_button("Put it on the bench", type="primary", on_click=_add)
        else:
            st.form_submit_button("Record the change", on_click=_record, args=(line.pipette_id,))


def _key(name: str, field: str) -> str:
    return f"pipette_{name}_{field}"


def _typed(name: str) -> TypedPipette:
    fields = {field: written(_key(name, field)) for field in _FIELDS}
    return TypedPipette(**fields, is_fine=st.session_state[_key(name, "fine")])


def _add() -> None:
    step = partial(bench_equipment.add_pipette, source.the_desk(), _typed("new"), by=author())
    if act(_PLACE, step):
        cleared(*(_key("new", field) for field in _FIELDS))
        st.session_state[_key("new", "fine")] = False


def _record(pipette_id: str) -> None:
    step = partial(
        bench_equipment.change_pipette, source.the_desk(), pipette_id, _typed(pipette_id),
        by=author(),
    )  # fmt: skip
    act("change_pipette", step)


def _change(view: BenchView) -> None:
    labels = labels_told_apart(
        Choice(line.pipette_id, line.label + ("" if line.is_in_use else ", out of use"))
        for line in view.pipettes
    )
    st.selectbox("Pipette", list(labels), format_func=labels.get, key="changed_pipette")
    chosen = written("changed_pipette")
    line = next(line for line in view.pipettes if line.pipette_id == chosen)
    if line.is_in_use:
        _form(chosen, line)
        st.button("Put it out of use", key="stop_pipette", on_click=_use, args=(chosen, False))
    else:
        st.button("Put it back in use", key="start_pipette", on_click=_use, args=(chosen, True))
    show_told("change_pipette")


def _use(pipette_id: str, is_in_use: bool) -> None:
    desk, by = source.the_desk(), author()
    back = partial(bench_equipment.put_back_in_use, desk, "pipette", pipette_id, by=by)
    away = partial(bench_equipment.put_out_of_use, desk, "pipette", pipette_id, by=by)
    act("change_pipette", *((back, away) if is_in_use else (away, back)))
