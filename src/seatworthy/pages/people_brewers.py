"""What brewers see: their own passphrase, whether scores are shown to them, and a look at it."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.network.settings import network_settings
from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import cleared, written
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import brewer_passphrase, brewer_sight
from seatworthy.steps.roles import AROUND_A_TABLE, FIT, WEIGHED

_PLACE: Final = "brewers"
_PAGES: Final = (
    (FIT, "Fit today"),
    (AROUND_A_TABLE, "Around the table"),
    (WEIGHED, "How sure are we?"),
)
_SCORES: Final = "brewers_see_scores"
_LEAD: Final = (
    "With the passphrase for brewers a browser in the network opens three pages and nothing else: who can "
    "be asked about which compound today, what those at the table cover, and how sure we are of a call. "
    "They say it in words: no counts, no reasons, no history, and nobody without a seat."
)
_HERE: Final = (
    "That holds over the network alone. Whoever sits at the leader's computer, or at a browser in which the "
    "leader's passphrase was typed, sees everything: sign it out, or lock the screen."
)
_WITHOUT_LAN: Final = (
    "These pages are open on this machine alone, without any passphrase, so a brewer who sits here sees "
    "everything. Open them with --lan to give brewers pages of their own."
)


def show_brewers() -> None:
    """Draw what brewers see, and what the leader may change of it."""
    desk = source.the_desk()
    ways = " ".join(tag("a", escaped(w), href=a, target="_self", class_="way") for a, w in _PAGES)
    notes = (_LEAD, _HERE if network_settings().is_lan else _WITHOUT_LAN)
    lines = "".join(tag("p", escaped(note), class_="note") for note in notes)
    st.html(
        paper(
            tag("h2", "What brewers see"),
            lines,
            tag("p", f"Look at it: {ways}", class_="ways"),
            class_="proof",
        )
    )
    st.session_state[_SCORES] = brewer_sight.sees_scores(desk)
    st.toggle("Brewers see scores too", key=_SCORES, on_change=_state)
    is_set = brewer_passphrase.has_brewers_passphrase(desk)
    with st.form("brewers_form", border=False):
        with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
            label = "Another passphrase for brewers" if is_set else "A passphrase for brewers"
            _typed(label, "brewers_passphrase")
            _typed("The same again", "brewers_again")
        st.form_submit_button("Set it", on_click=_set)
    if is_set:
        st.button("Take their passphrase away", key="brewers_out", on_click=_take_away)
    show_told(_PLACE)


def _typed(label: str, key: str) -> None:
    st.text_input(label, type="password", key=key, max_chars=200, width=280)


def _state() -> None:
    desk, wanted = source.the_desk(), bool(st.session_state[_SCORES])
    back = partial(brewer_sight.state_sight, desk, not wanted)
    act(_PLACE, partial(brewer_sight.state_sight, desk, wanted), undo=back)


def _set() -> None:
    typed = written("brewers_passphrase"), written("brewers_again")
    act(_PLACE, partial(brewer_passphrase.set_brewers_passphrase, source.the_desk(), *typed))
    cleared("brewers_passphrase", "brewers_again")


def _take_away() -> None:
    act(_PLACE, partial(brewer_passphrase.take_brewers_passphrase_away, source.the_desk()))
