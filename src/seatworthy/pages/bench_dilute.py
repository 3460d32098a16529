"""Dilutions: how to get from a stock to a weaker one, and the log of what was made."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.frame import paper, refusal
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import author, cleared, written
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.bench_views import BenchView, StockLine
from seatworthy.steps.bench_writing import CONCENTRATIONS
from seatworthy.steps.dilution_plans import plan_dilution
from seatworthy.steps.dilutions import Made, log_dilution
from seatworthy.steps.views import Choice

_MEANING: Final = (
    "What is too strong for the smallest pipette is diluted first, in one to three steps. Each step that you "
    "make is logged as a stock of its own: its strength, its last day and its lot follow from what it was "
    "made from."
)
_LOGGED: Final = (
    "Write what was really taken. Ventilate, wear gloves, taste nothing here; label the flask with its lot "
    "at once."
)
_NONE: Final = "No stock on the bench can be diluted: put a liquid one there that may be used."
_CLEARED: Final = ("taken", "made", "solvent_percent", "lot", "dead_ul")
_PLACE: Final = "dilution"


def show_dilute(view: BenchView) -> None:
    """Choose a stock; the way to a weaker one, then the log."""
    st.html(paper(tag("h2", "Dilute a stock"), tag("p", escaped(_MEANING), class_="note")))
    usable = {line.stock_id: line for line in view.stocks if line.kind != "unit" and not line.fault}
    show_told(_PLACE)
    if not usable:
        st.html(paper(tag("p", _NONE)))
        return
    labels = labels_told_apart(
        Choice(key, f"{line.label[:1].upper()}{line.label[1:]}") for key, line in usable.items()
    )
    st.selectbox("Stock", list(labels), format_func=labels.get, key="dilute_stock")
    line = usable[written("dilute_stock")]
    _plan(line)
    _log(line)


def _plan(line: StockLine) -> None:
    wanted, unit = st.columns(2)
    if line.kind == "solution":
        wanted.text_input("Wanted strength", max_chars=20, key="dilute_wanted")
        unit.selectbox(
            "Its unit", CONCENTRATIONS, index=None, placeholder="Choose a unit", key="dilute_unit"
        )
    else:
        wanted.text_input("How many times weaker", max_chars=20, key="dilute_times")
    typed, chosen = written("dilute_wanted"), written("dilute_unit")
    if line.kind == "reference":
        typed, chosen = written("dilute_times"), ""
    if not typed or (line.kind == "solution" and not chosen):
        return
    try:
        steps = plan_dilution(source.the_desk(), line.stock_id, typed, chosen)
    except PanelError as fault:
        st.html(refusal(str(fault)))
        return
    rows = [
        tag("dt", f"{number}") + tag("dd", escaped(words)) for number, words in enumerate(steps, 1)
    ]
    st.html(paper(tag("dl", "".join(rows))))


def _log(line: StockLine) -> None:
    st.html(paper(tag("h2", "Log what was made"), tag("p", escaped(_LOGGED), class_="note")))
    with st.form("dilution", border=False):
        taken, unit, made, ethanol = st.columns([1.2, 0.8, 1.2, 1.8])
        taken.text_input("Taken from it", max_chars=20, key=_key("taken"))
        unit.selectbox("Unit", ("µl", "ml"), key=_key("taken_unit"))
        made.text_input("Made up to, ml", max_chars=20, key=_key("made"))
        ethanol.text_input(
            "Ethanol in what it was made up with, %", max_chars=8, key=_key("solvent_percent")
        )
        lot, last, dead = st.columns([1.5, 1.5, 2])
        lot.text_input("Its lot (empty: numbered)", max_chars=60, key=_key("lot"))
        last.date_input(
            "Last day (empty: as its parent)", value=None, max_value=line.expires_on,
            format="YYYY-MM-DD", key=_key("expires_on"),
        )  # fmt: skip
        dead.text_input(
            "What can't be got out of its vial, µl (may stay empty)", max_chars=12,
            key=_key("dead_ul"),
        )  # fmt: skip
        st.checkbox("Narrow vial: only a fine tip reaches", key=_key("is_narrow"))
        st.form_submit_button("Log the dilution", type="primary", on_click=_record)


def _key(field: str) -> str:
    return f"dilution_{field}"


def _record() -> None:
    typed = Made(
        stock_id=written("dilute_stock"),
        taken=written(_key("taken")),
        taken_unit=written(_key("taken_unit")),
        made=written(_key("made")),
        solvent_percent=written(_key("solvent_percent")),
        lot=written(_key("lot")),
        expires_on=st.session_state.get(_key("expires_on")),
        is_narrow=bool(st.session_state.get(_key("is_narrow"))),
        dead_ul=written(_key("dead_ul")),
    )
    if act(_PLACE, partial(log_dilution, source.the_desk(), typed, by=author())):
        cleared(*(_key(field) for field in _CLEARED))
        st.session_state[_key("expires_on")] = None
        st.session_state[_key("is_narrow")] = False
