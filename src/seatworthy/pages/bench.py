"""The bench: what doses are taken from, how they are pipetted, and what they are poured into."""

from collections.abc import Callable, Sequence
from types import MappingProxyType
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import BENCH, asked_word
from seatworthy.pages.bench_dilute import show_dilute
from seatworthy.pages.bench_keeping import show_keeping
from seatworthy.pages.bench_ladder import show_ladder
from seatworthy.pages.bench_pipettes import show_pipettes
from seatworthy.pages.bench_stocks import show_stocks
from seatworthy.pages.bench_vessels import show_vessels
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import choose_author
from seatworthy.steps import bench as bench_steps
from seatworthy.steps.bench_views import BenchView
from seatworthy.steps.shelf_views import FirstThing

PARTS: Final = MappingProxyType(
    {
        "stocks": "Stocks",
        "dilute": "Dilute",
        "ladder": "Ladder",
        "pipettes": "Pipettes",
        "vessels": "Vessels",
        "keeping": "Keeping",
    }
)
_DRAWN_BY: Final[MappingProxyType[str, Callable[[BenchView], None]]] = MappingProxyType(
    {
        "stocks": show_stocks,
        "dilute": show_dilute,
        "ladder": show_ladder,
        "pipettes": show_pipettes,
        "vessels": show_vessels,
        "keeping": show_keeping,
    }
)
_PART: Final = "bench_part"


def show() -> None:
    """Draw the part of the bench that the address names."""
    view = bench_steps.bench(source.the_desk())
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        st.html(opening(["Bench"], view.answer, view.catch, view.lead))
    with choices:
        choose_author()
    if view.first_things:
        st.html(_first_things(view.first_things))
    _DRAWN_BY[_choose_part()](view)


def _choose_part() -> str:
    asked = asked_word("part")
    st.session_state[_PART] = asked if asked in PARTS else "stocks"
    st.segmented_control(
        "Part of the bench",
        list(PARTS),
        required=True,
        format_func=PARTS.get,
        key=_PART,
        on_change=_go_to_part,
        label_visibility="collapsed",
    )
    return str(st.session_state[_PART])


def _go_to_part() -> None:
    st.query_params["part"] = st.session_state[_PART]


def _first_things(things: Sequence[FirstThing]) -> str:
    """What an empty bench needs first, in order, with what is done already."""
    rows = []
    for number, thing in enumerate(things, start=1):
        address = f"{BENCH}?part={thing.place}"
        link = tag("a", escaped(thing.words), href=address, target="_self", class_="way")
        rows.append(
            tag("dt", "Done" if thing.is_done else f"{number}")
            + tag("dd", escaped(thing.words) if thing.is_done else link)
        )
    return paper(tag("dl", "".join(rows)))
