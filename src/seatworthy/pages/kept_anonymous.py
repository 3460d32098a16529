"""Making somebody anonymous: what goes and what stays, asked twice; and the copies that still name them."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import SEATS, SESSIONS
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, plain_markdown, tag
from seatworthy.pages.shelf_parts import written
from seatworthy.pages.signature import choose_signer, signature
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import anonymous_copies, anonymous_people
from seatworthy.steps.anonymous_people import GOES, KNOW, STAYS, Going
from seatworthy.steps.history_phrases import counted
from seatworthy.steps.kept_views import KeptView

_ASKED: Final = "anonymous_asked"
_PLACE, _COPIES = "anonymous", "anonymous_copies"
_IN_COPIES: Final = (
    "These files near the store were made before and still hold the name of somebody who was made "
    "anonymous. Copies elsewhere, on sticks, other machines or in the mail, are yours to see to."
)


def show_anonymous(view: KeptView) -> None:
    """Offer to take the name away, unless it is gone."""
    if not view.is_anonymous:
        st.html(paper(tag("h2", "Take the name away for good"), class_="proof"))
        first = anonymous_people.what_is_first(source.the_desk(), view.person_id)
        if first:
            lines = "".join(tag("li", escaped(sentence)) for sentence in first)
            way = tag("a", "To the sessions", href=SESSIONS, target="_self")
            seats = tag("a", "To the seats", href=SEATS, target="_self")
            ways = tag("p", way + seats, class_="ways")
            st.html(paper(tag("p", "First:"), tag("ul", lines, class_="hindrances"), ways))
        elif st.session_state.get(_ASKED) == view.person_id:
            _ask(anonymous_people.what_goes(source.the_desk(), view.person_id))
        else:
            st.button(
                f"Make {plain_markdown(view.name)} anonymous …", key="ask_anonymous",
                on_click=_set_asked, args=(view.person_id,),
            )  # fmt: skip
    show_told(_PLACE)


def _ask(going: Going) -> None:
    """Say what goes and what stays, and ask the second time."""
    verb = "goes" if going.texts == 1 else "go"
    texts = f"In all {counted(going.texts, 'text')} {verb}." if going.texts else ""
    st.html(
        paper(
            _told("What goes", [*GOES, *([texts] if texts else [])]),
            _told("What stays", [*STAYS, *going.sealed]),
            _told("Know before", KNOW),
        )
    )
    with st.form("anonymous_form", border=False):
        st.checkbox("I have read what goes for good", key="anonymous_read")
        if going.needs_pin:
            choose_signer(_PLACE)
        with st.container(horizontal=True):
            st.form_submit_button(
                "Take the name away", on_click=_take_away, args=(going.person_id, going.needs_pin)
            )
            st.form_submit_button("Leave it", on_click=_set_asked, args=(None,))


def _told(head: str, sentences: list[str] | tuple[str, ...]) -> str:
    lines = "".join(tag("li", escaped(sentence)) for sentence in sentences)
    return tag("h3", head) + tag("ul", lines, class_="care")


def _set_asked(person_id: str | None) -> None:
    st.session_state[_ASKED] = person_id


def _take_away(person_id: str, needs_pin: bool) -> None:
    by, pin = signature(_PLACE) if needs_pin else (None, "")
    step = partial(_taken, person_id, by, pin, is_read=bool(st.session_state["anonymous_read"]))
    if act(_PLACE, step):
        st.session_state[_ASKED] = None
        st.cache_resource.clear()


def _taken(person_id: str, by: str | None, pin: str, *, is_read: bool) -> str:
    desk = source.the_desk()
    if not is_read:
        return anonymous_people.refuse_unread()
    return anonymous_people.make_anonymous(desk, person_id, by, pin)


def show_copies() -> None:
    """List the copies that still hold such a name, with the ways; nothing where there is none."""
    copies = anonymous_copies.copies_with_names(source.the_desk())
    if not copies:
        show_told(_COPIES)
        return
    lines = "".join(
        tag("li", escaped(copy.path.name + ("" if copy.is_read else ": it cannot be read")))
        for copy in copies
    )
    head = tag("h2", "Copies that still hold a name")
    st.html(paper(head, tag("p", _IN_COPIES), tag("ul", lines, class_="hindrances")))
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        st.button("Take the names out of them", on_click=_clean)
        names = [copy.path.name for copy in copies]
        st.selectbox(
            "Or delete one", names, index=None, placeholder="None", key="copy_to_delete", width=320
        )
        st.button("Delete it", on_click=_delete)
    show_told(_COPIES)


def _clean() -> None:
    act(_COPIES, partial(anonymous_copies.clean_copies, source.the_desk()))


def _delete() -> None:
    if name := written("copy_to_delete"):
        act(_COPIES, partial(anonymous_copies.delete_copy, source.the_desk(), name))
