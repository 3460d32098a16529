"""The shelf: the brewery, its beers, what is critical for them, and its working thresholds."""

from collections.abc import Callable, Sequence
from types import MappingProxyType
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import PEOPLE, PLAN, SHELF, asked_word
from seatworthy.pages.choices import choose_family
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
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
from seatworthy.steps.shelf_views import FirstThing, ShelfView
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
_PART: Final = "shelf_part"


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
        st.html(_first_things(view.first_things))
    _DRAWN_BY[_choose_part()](view)


def _choose_part() -> str:
    asked = asked_word("part")
    st.session_state[_PART] = asked if asked in PARTS else "beers"
    st.segmented_control(
        "Part of the shelf",
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
    """What a new brewery does first, in order, with what is done already."""
    addresses = {"people": PEOPLE, "plan": PLAN}
    rows = []
    for number, thing in enumerate(things, start=1):
        address = addresses.get(thing.place, f"{SHELF}?part={thing.place}")
        state = "Done" if thing.is_done else f"{number}"
        link = tag("a", escaped(thing.words), href=address, target="_self", class_="way")
        rows.append(tag("dt", state) + tag("dd", escaped(thing.words) if thing.is_done else link))
    return paper(tag("dl", "".join(rows)))
