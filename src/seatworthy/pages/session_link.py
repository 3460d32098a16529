"""One person's link at a time: shown as a picture to scan, and made anew for whoever lost it."""

from collections.abc import Sequence
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import ballot_address
from seatworthy.pages.doubting import ask_again, is_doubted, record_unless_doubted
from seatworthy.pages.figures import long_day
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.qr_code import qr_picture
from seatworthy.pages.session_table import pick
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import ballot_links
from seatworthy.steps.ballot_views import LinkLine
from seatworthy.steps.live_views import LiveView
from seatworthy.steps.session_views import SessionView

PLACE: Final = "ballot_links"
_BESIDE: Final = "links_missing"  # where somebody who came besides gets theirs
_MADE: Final = "link_made"
_PICTURE_PX: Final = 340  # 37 or 41 modules: the code is 45 mm wide on a 13-inch screen
_NOT_KNOWN: Final = (
    "This link still works if it was handed out. The program was started again since and keeps no "
    "copy to show; a new one ends the earlier one."
)


def choose_link(view: SessionView, lines: Sequence[LinkLine]) -> LinkLine | None:
    """Choose whose link is on the screen; nobody's to begin with, so that none is scanned by another.

    Args:
        view: The session.
        lines: The seats to choose from.
    """
    names, key = labels(lines), f"whose_link_{view.session_id}"
    if st.session_state.get(key) not in names:
        st.session_state[key] = None
    chosen = st.selectbox(
        "Whose link is on the screen?", list(names), format_func=names.get, key=key,
        placeholder="Nobody's; choose a person", width=300,
    )  # fmt: skip
    following = _following(list(names), chosen)
    words = "First person" if chosen is None else "Next person" if following else "Hide it"
    st.button(words, key="next_link", on_click=_show, args=(view.session_id, following))
    return next((line for line in lines if line.key == chosen), None)


def show_link(view: SessionView, line: LinkLine, live: LiveView | None) -> None:
    """One link, large, and the way to a new one.

    Args:
        view: The session.
        line: Whose.
        live: Who has opened theirs; None if nobody has a glass.
    """
    if line.secret:
        _draw(view, line)
    elif line.handed_out_at:
        st.html(paper(tag("p", escaped(_NOT_KNOWN), class_="note")))
    is_opened = live is not None and live.is_opened(line.sitting_id, line.person_id)
    make, asked = partial(_make_anew, view.session_id, line, is_opened), _asked_at(line)
    words = "New link" if line.secret else "Make a new one" if line.handed_out_at else "Make a link"
    st.button(words, key=f"new_link_{line.key}", on_click=make, disabled=is_doubted(asked))
    ask_again(asked, "End it and make a new one", make)


def offer_missing_link(view: SessionView, lines: Sequence[LinkLine]) -> None:
    """A link for whoever came besides, where the others have theirs; nothing where nobody does."""
    without = [line for line in lines if not line.handed_out_at]
    if 0 < len(without) < len(lines):
        make = partial(_make_besides, view.session_id)
        pick("No link yet: make one for", labels(without), _BESIDE, make)
    show_told(_BESIDE)
    for line in lines:
        if line.secret and line.key == st.session_state.get(_MADE):
            _draw(view, line)
            st.button("Hide it", key="hide_link", on_click=_hide_made)


def labels(lines: Sequence[LinkLine]) -> dict[str, str]:
    """Names by key of the seat, with the sitting where somebody has two seats."""
    names = [line.name for line in lines]
    return {
        line.key: line.name if names.count(line.name) == 1 else f"{line.name}, {line.sitting}"
        for line in lines
    }


def _following(keys: Sequence[str], chosen: str | None) -> str | None:
    """Who comes next; nobody after the last."""
    place = 0 if chosen is None else keys.index(chosen) + 1
    return keys[place] if place < len(keys) else None


def _show(session_id: str, key: str | None) -> None:
    st.session_state[f"whose_link_{session_id}"] = key


def _asked_at(line: LinkLine) -> str:
    return f"{PLACE}_{line.key}"


def _make_anew(session_id: str, line: LinkLine, is_opened: bool) -> None:
    """Make it at once, unless somebody may be answering by the one that it ends."""
    doubt = f"{line.name} has opened theirs. A new one ends it; what was answered stays."
    step = partial(ballot_links.hand_out, source.the_desk(), session_id, key=line.key)
    doubts = [doubt] if is_opened else []
    record_unless_doubted(_asked_at(line), line.key, doubts, lambda: act(PLACE, step))


def _make_besides(session_id: str, key: str) -> None:
    st.session_state.pop(_MADE, None)
    if act(_BESIDE, partial(ballot_links.hand_out, source.the_desk(), session_id, key=key)):
        st.session_state[_MADE] = key


def _hide_made() -> None:
    st.session_state.pop(_MADE, None)


def _draw(view: SessionView, line: LinkLine) -> None:
    with st.container(width=_PICTURE_PX):
        st.html(paper(_picture(line, view)))


def _picture(line: LinkLine, view: SessionView) -> str:
    picture = qr_picture(ballot_address(line.secret), f"Link of {line.name}, to scan")
    until = "" if line.expires_on is None else f"until {long_day(line.expires_on, view.session_on)}"
    sitting = line.sitting if len(view.sittings) > 1 else ""
    below = ", ".join(words for words in (sitting, until) if words)
    name = tag("figcaption", tag("b", escaped(line.name)) + tag("i", escaped(below)))
    return tag("figure", picture + name, class_="link")
