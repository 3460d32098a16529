"""Who may sign decisions: appointed with a PIN of their own."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import cleared, written
from seatworthy.pages.signature import choose_signer, signature
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.shelf_views import PanelListView
from seatworthy.steps.signers import appoint_signer, change_pin, dismiss_signer, signers
from seatworthy.steps.views import Choice

_PLACE: Final = "signers"
_LEAD: Final = (
    "A signer grants, renews, pauses and ends seats and adopts rulebooks. Each has a PIN of 4 to 12 "
    "digits or letters that only they know; it is kept as a digest. The first signer is appointed "
    "freely, every further one by a signer."
)


def show_signers(view: PanelListView) -> None:
    """Draw who may sign, and the way to appoint, change and dismiss."""
    known = signers(source.the_desk())
    head = tag("h2", "Who may sign")
    names = ", ".join(one.name for one in known) or "Nobody yet."
    st.html(
        paper(
            head, tag("p", escaped(names)), tag("p", escaped(_LEAD), class_="note"), class_="proof"
        )
    )
    taken = {one.person_id for one in known}
    free = [Choice(p.person_id, p.name) for p in view.people if p.person_id not in taken]
    if free:
        _appoint(free, is_first=not known)
    if known:
        with st.expander("Change a PIN, or take the right to sign away"):
            _change()
    show_told(_PLACE)


def _appoint(free: list[Choice], *, is_first: bool) -> None:
    names = labels_told_apart(free)
    with st.form("appoint_form", border=False):
        with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
            st.selectbox("Appoint", list(names), format_func=names.get, key="new_signer", width=260)
            _pin("Their PIN", "new_signer_pin")
            _pin("Once more", "new_signer_again")
        if not is_first:
            choose_signer("appoint")
        st.form_submit_button("Let them sign", on_click=_record, args=(is_first,))


def _pin(label: str, key: str) -> None:
    st.text_input(label, type="password", key=key, max_chars=12, width=160)


def _record(is_first: bool) -> None:
    person, pin = written("new_signer"), written("new_signer_pin")
    by, by_pin = (None, None) if is_first else signature("appoint")
    step = partial(_appointed, person, pin, written("new_signer_again"), by, by_pin)
    act(_PLACE, step)
    cleared("new_signer_pin", "new_signer_again")


def _appointed(person: str, pin: str, again: str, by: str | None, by_pin: str | None) -> str:
    if pin != again:
        message = "The two PINs differ; type them again. Nothing was recorded."
        raise PanelError(message)
    return appoint_signer(source.the_desk(), person, pin, by, by_pin)


def _change() -> None:
    names = labels_told_apart(Choice(one.person_id, one.name) for one in signers(source.the_desk()))
    with st.form("change_form", border=False):
        choose_signer("own")
        _pin("New PIN", "changed_pin")
        st.form_submit_button("Change the PIN", on_click=_changed)
    with st.form("dismiss_form", border=False):
        st.selectbox(
            "Who shall not sign any more", list(names), format_func=names.get, key="gone_signer",
            width=260,
        )  # fmt: skip
        choose_signer("dismiss")
        st.form_submit_button("Take it away", on_click=_dismissed)


def _changed() -> None:
    signer, pin = signature("own")
    act(_PLACE, partial(change_pin, source.the_desk(), signer, pin, written("changed_pin")))
    cleared("changed_pin")


def _dismissed() -> None:
    signer, pin = signature("dismiss")
    gone = written("gone_signer")
    act(_PLACE, partial(dismiss_signer, source.the_desk(), gone, signer, pin))
