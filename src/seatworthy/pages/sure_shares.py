"""How common each fault is in a family's beers, as it is used, and the way to state it in words."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped
from seatworthy.pages.shelf_parts import author, choose_author, listing, written
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import weigh_priors
from seatworthy.steps.views import Choice
from seatworthy.steps.weigh_priors import SHARE_WORDS

SHARES: Final = "sure_shares"
_SHOWN: Final = 8
_OWN: Final = "own"


def offer_shares(family: str) -> None:
    """The shares in use, and one of them stated anew."""
    lines = weigh_priors.shares_of(source.the_desk(), family)
    with st.expander("How common each fault is in these beers"):
        rows = [
            (escaped(one.label), escaped(one.words), escaped(one.origin)) for one in lines[:_SHOWN]
        ]
        st.html(paper(listing(("Fault", "In use", "From"), rows)))
        labels = labels_told_apart(Choice(one.what, one.label) for one in lines)
        words = {**{word: word for word in SHARE_WORDS}, _OWN: "another: 1 in ..."}
        with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
            st.selectbox("Fault", list(labels), format_func=labels.get, key="share_what", width=260)
            st.selectbox(
                "One beer in how many",
                list(words),
                format_func=words.get,
                key="share_words",
                width=220,
            )
            if st.session_state.get("share_words") == _OWN:
                st.text_input("1 in", key="share_number", max_chars=6, width=110)
        choose_author()
        st.button("State it", key="share_state", on_click=partial(_state, family))
        show_told(SHARES)


def _state(family: str) -> None:
    chosen = written("share_words")
    words = f"1 in {written('share_number')}" if chosen == _OWN else chosen
    desk = source.the_desk()
    act(
        SHARES,
        lambda: weigh_priors.state_share(desk, family, written("share_what"), words, author()),
    )
