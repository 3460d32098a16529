"""The shelf: the brewery, its beers, what is critical for them, and its working thresholds."""

from collections.abc import Callable
from types import MappingProxyType
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import PEOPLE, PLAN, SHELF, asked_word
from seatworthy.pages.choices import choose_family
from seatworthy.pages.frame import opening
from seatworthy.pages.page_parts import choose_part, first_things
from seatworthy.pages.shelf_background import show_background
from seatworthy.pages.shelf_beers import show_beers
from seatworthy.pages.shelf_compounds import show_compounds
from seatworthy.pages.shelf_history import show_history
from seatworthy.pages.shelf_lists import show_lists
from seatworthy.pages.shelf_panel import show_panel
from seatworthy.pages.shelf_parts import choose_author
from seatworthy.pages.shelf_thresholds import show_thresholds
from seatworthy.pages.shelf_words import show_words
from seatworthy.steps import shelf as shelf_steps
from seatworthy.steps.shelf_views import ShelfView
from seatworthy.steps.views import Choice

PARTS: Final = MappingProxyType(
    {
        "beers": "Brewery and beers",
        "lists": "Critical compounds",
        "thresholds": "Working thresholds",
        "panel": "What the panel needs",
        "background": "Background",
        "words": "Words",
        "compounds": "Compounds",
        "history": "History",
    }
)
_DRAWN_BY: Final[MappingProxyType[str, Callable[[ShelfView], None]]] = MappingProxyType(
    {
        "beers": show_beers,
        "lists": show_lists,
        "thresholds": show_thresholds,
        "panel": show_panel,
        "background": show_background,
        "words": show_words,
        "compounds": show_compounds,
        "history": show_history,
    }
)


def show() -> None:
    """Draw the part of the shelf that the address names, for the family that it names."""
    view = shelf_steps.shelf(source.the_desk(), asked_word("family"))
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        where = ["Shelf", *filter(None, [view.brewery, view.time_zone.replace("_", " ")])]
        st.html(opening(where, view.answer, view.catch, view.lead))
    with choices:
        families = [Choice(family.key, family.label) for family in view.families]
        choose_family(families, view.family)
        choose_author()
    if view.first_things:
        st.html(first_things(view.first_things, _address_of))
    _DRAWN_BY[choose_part("Part of the shelf", PARTS)](view)


def _address_of(place: str) -> str:
    """People and plans have pages of their own; the rest are parts of the shelf."""
    return {"people": PEOPLE, "plan": PLAN}.get(place, f"{SHELF}?part={place}")
