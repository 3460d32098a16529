"""What became of one stock: opened, its last day corrected, what was found to be left, used up."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import author, cleared, written
from seatworthy.pages.telling import Step, act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import bench_states
from seatworthy.steps.bench_views import BenchView, StockLine
from seatworthy.steps.views import Choice

_MEANING: Final = (
    "A last day that turns out to lie earlier marks answers given since and erases none; what was made from "
    "this stock goes along with it."
)
_PLACE: Final = "stock_state"


def show_states(view: BenchView) -> None:
    """Choose a stock, then say what became of it."""
    with st.expander("Opened, last day, what is left, used up"):
        labels = labels_told_apart(
            Choice(line.stock_id, line.label[:1].upper() + line.label[1:]) for line in view.stocks
        )
        st.selectbox("Stock", list(labels), format_func=labels.get, key="state_stock")
        chosen = written("state_stock")
        line = next(line for line in view.stocks if line.stock_id == chosen)
        days, amounts = st.columns(2, gap="large")
        with days:
            _days(line, view)
        with amounts:
            _amounts(line)
        st.html(paper(tag("p", escaped(_MEANING), class_="note")))
    show_told(_PLACE)


def _days(line: StockLine, view: BenchView) -> None:
    field, button = st.columns([1.4, 1], vertical_alignment="bottom")
    field.date_input(
        "Opened on (empty: closed)", value=line.opened_on, max_value=view.today,
        format="YYYY-MM-DD", key=_key("opened", line),
    )  # fmt: skip
    button.button("Record the opening", key="record_opened", on_click=_open, args=(line,))
    field, button = st.columns([1.4, 1], vertical_alignment="bottom")
    field.date_input(
        "Last day of use (empty: unknown)", value=line.expires_on, format="YYYY-MM-DD",
        key=_key("expires", line),
    )  # fmt: skip
    button.button("Record the last day", key="record_expires", on_click=_expire, args=(line,))


def _amounts(line: StockLine) -> None:
    field, unit, button = st.columns([1, 0.7, 1.1], vertical_alignment="bottom")
    field.text_input("Found to be left", max_chars=20, key=_key("left", line))
    if line.kind != "unit":
        unit.selectbox("Unit", ("µl", "ml"), index=1, key=_key("left_unit", line))
    button.button("Record what is left", key="record_left", on_click=_find, args=(line,))
    if line.is_used_up:
        st.button("It is not used up", key="not_used_up", on_click=_use_up, args=(line, False))
    else:
        st.button("It is used up", key="used_up", on_click=_use_up, args=(line, True))


def _key(field: str, line: StockLine) -> str:
    """Of a widget that starts with what stands now, so another state is another widget."""
    stands = {"opened": line.opened_on, "expires": line.expires_on}.get(field, "")
    return f"state_{field}_{line.stock_id}_{stands}"


def _open(line: StockLine) -> None:
    on = st.session_state[_key("opened", line)]
    _act(partial(bench_states.open_stock, source.the_desk(), line.stock_id, on, by=author()))


def _expire(line: StockLine) -> None:
    on = st.session_state[_key("expires", line)]
    _act(partial(bench_states.set_expiry, source.the_desk(), line.stock_id, on, by=author()))


def _find(line: StockLine) -> None:
    amount, unit = written(_key("left", line)), written(_key("left_unit", line)) or "ml"
    step = partial(
        bench_states.found_left, source.the_desk(), line.stock_id, amount, unit, by=author()
    )
    if _act(step):
        cleared(_key("left", line))


def _use_up(line: StockLine, is_used_up: bool) -> None:
    desk, by = source.the_desk(), author()
    gone = partial(bench_states.use_up, desk, line.stock_id, by=by)
    back = partial(bench_states.take_back_used_up, desk, line.stock_id, by=by)
    act(_PLACE, *((gone, back) if is_used_up else (back, gone)))


def _act(step: Step) -> bool:
    return act(_PLACE, step)
