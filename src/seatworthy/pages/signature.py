"""Who signs, and the PIN that only they know."""

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import SIGNERS
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import written
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.signers import signers
from seatworthy.steps.views import Choice


def choose_signer(place: str) -> bool:
    """Ask who signs and for their PIN; say where signers are appointed if there is none.

    Args:
        place: What sets these fields apart from others on the page.

    Returns:
        Whether there is anybody who may sign.
    """
    known = signers(source.the_desk())
    if not known:
        way = tag("a", "Appoint one", href=SIGNERS, target="_self", class_="way")
        words = escaped("Nobody may sign yet: a signer has a PIN of their own.")
        st.html(paper(tag("p", f"{words} {way}", class_="note")))
        return False
    names = labels_told_apart(Choice(one.person_id, one.name) for one in known)
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        st.selectbox(
            "Signed by", list(names), format_func=names.get, key=f"{place}_signer", width=260
        )
        st.text_input("PIN", type="password", key=_pin_key(place), max_chars=12, width=160)
    return True


def signature(place: str) -> tuple[str, str]:
    """Who signed and the PIN, which is forgotten at once; only from a callback."""
    signer, pin = written(f"{place}_signer"), written(_pin_key(place))
    st.session_state[f"{place}_pins"] = st.session_state.get(f"{place}_pins", 0) + 1
    return signer, pin


def _pin_key(place: str) -> str:
    """A field of its own for each signature, so that none is ever shown with an old PIN in it."""
    return f"{place}_pin_{st.session_state.get(f'{place}_pins', 0)}"
