"""The bench: what doses are taken from, how they are pipetted, and what they are poured into."""

from collections.abc import Callable
from types import MappingProxyType
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import BENCH
from seatworthy.pages.bench_dilute import show_dilute
from seatworthy.pages.bench_keeping import show_keeping
from seatworthy.pages.bench_ladder import show_ladder
from seatworthy.pages.bench_pipettes import show_pipettes
from seatworthy.pages.bench_stocks import show_stocks
from seatworthy.pages.bench_vessels import show_vessels
from seatworthy.pages.frame import opening
from seatworthy.pages.page_parts import choose_part, first_things
from seatworthy.pages.shelf_parts import choose_author
from seatworthy.steps import bench as bench_steps
from seatworthy.steps.bench_views import BenchView

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


def show() -> None:
    """Draw the part of the bench that the address names."""
    view = bench_steps.bench(source.the_desk())
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        st.html(opening(["Bench"], view.answer, view.catch, view.lead))
    with choices:
        choose_author()
    if view.first_things:
        st.html(first_things(view.first_things, _address_of))
    _DRAWN_BY[choose_part("Part of the bench", PARTS)](view)


def _address_of(part: str) -> str:
    return f"{BENCH}?part={part}"
