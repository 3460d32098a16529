"""An ascending series for a threshold: one compound in forced-choice sets, added as rows of the plan."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Final

import streamlit as st

from seatworthy.errors import PlanRefused
from seatworthy.pages.frame import paper, refusal
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.plan_draft import BLANK
from seatworthy.sessions.series import ascending
from seatworthy.sessions.wish import WantedSample

_METHODS: Final = MappingProxyType(
    {
        "3afc": "three glasses, one has it",
        "triangle": "three glasses, one differs",
        "2afc": "two glasses, one has it",
    }
)
_FAULT: Final = "plan_series_fault"
_NOTE: Final = (
    "Each step is one set of glasses in which one differs; everybody tastes the weakest set first. "
    "The other glasses of a set come from the blank, which the series brings along if there is none."
)


def offer_series(labels: Mapping[str, str], add: Callable[[tuple[WantedSample, ...]], str]) -> None:
    """A form that adds the steps of a series as rows.

    Args:
        labels: Compounds that may be planned, by key, a blank among them.
        add: Adds rows; returns what stands in the way, "" for nothing.
    """
    compounds = [key for key in labels if key != BLANK]
    with st.expander("Add an ascending series, for a threshold"), st.form("series", border=False):
        st.html(paper(tag("p", escaped(_NOTE), class_="note")))
        with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
            st.selectbox(
                "Compound of the series", compounds, index=None, format_func=labels.get,
                placeholder="First letters", key="series_compound", width=240,
            )  # fmt: skip
            for words, name in (("Weakest, ×", "lowest"), ("Each step times", "ratio")):
                st.number_input(
                    words, value=None, min_value=0.0, max_value=100.0, format="%g",
                    key=f"series_{name}", width=130,
                )  # fmt: skip
            st.number_input(
                "Steps", value=None, min_value=2, max_value=12, key="series_steps", width=100
            )
            st.selectbox(
                "Tasted as",
                list(_METHODS),
                format_func=_METHODS.get,
                key="series_method",
                width=250,
            )
        st.form_submit_button("Add the series", on_click=_add_series, args=(add,))
    fault = st.session_state.pop(_FAULT, None)
    if fault:
        st.html(refusal(fault))


def _add_series(add: Callable[[tuple[WantedSample, ...]], str]) -> None:
    state = st.session_state
    names = ("compound", "lowest", "ratio", "steps")
    compound, lowest, ratio, steps = (state[f"series_{name}"] for name in names)
    if None in (compound, lowest, ratio, steps):
        state[_FAULT] = (
            "A series needs its compound, its weakest level, how many times stronger each step is, and "
            "the number of steps. Nothing was added."
        )
        return
    try:
        found = ascending(
            compound, _decimal(lowest), _decimal(ratio), int(steps), state["series_method"]
        )
    except PlanRefused as refused:
        state[_FAULT] = " ".join(refused.faults)
        return
    state[_FAULT] = add(found)


def _decimal(number: float) -> Decimal:
    return Decimal(f"{number:.10g}")
