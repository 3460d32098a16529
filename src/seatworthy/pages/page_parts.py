"""A page in parts: which one is shown stands in its address, and what a new brewery does first in them."""

from collections.abc import Callable, Mapping, Sequence

import streamlit as st

from seatworthy.pages.addresses import asked_word
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.steps.shelf_views import FirstThing


def choose_part(words: str, parts: Mapping[str, str]) -> str:
    """Offer the parts of a page; the one that the address names, else the first.

    Args:
        words: Names the choice for those who can't see it ("Part of the shelf").
        parts: Label of each part by its key.
    """
    key = words.casefold().replace(" ", "_")
    asked = asked_word("part")
    st.session_state[key] = asked if asked in parts else next(iter(parts))
    st.segmented_control(
        words,
        list(parts),
        required=True,
        format_func=parts.get,
        key=key,
        on_change=_go_to_part,
        args=(key,),
        label_visibility="collapsed",
    )
    return str(st.session_state[key])


def _go_to_part(key: str) -> None:
    st.query_params["part"] = st.session_state[key]


def first_things(things: Sequence[FirstThing], address_of: Callable[[str], str]) -> str:
    """What is done first, in order, with what is done already.

    Args:
        things: In order.
        address_of: Where the place of a thing stands.
    """
    rows = []
    for number, thing in enumerate(things, start=1):
        address = address_of(thing.place)
        state = "Done" if thing.is_done else f"{number}"
        link = tag("a", escaped(thing.words), href=address, target="_self", class_="way")
        rows.append(tag("dt", state) + tag("dd", escaped(thing.words) if thing.is_done else link))
    return paper(tag("dl", "".join(rows)))
