"""Ballots on phones: links made, shown as pictures to scan, and printed as cards to hand out."""

from collections.abc import Sequence
from datetime import datetime
from functools import partial
from typing import Final

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.pages import source
from seatworthy.pages.addresses import PHONES, ballot_address, is_for_this_machine_only
from seatworthy.pages.figures import long_day
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.paper_sizes import chosen_size
from seatworthy.pages.qr_code import qr_picture
from seatworthy.pages.session_table import pick
from seatworthy.pages.telling import act, show_told
from seatworthy.paper.ballot_card_words import BallotCard
from seatworthy.steps import ballot_links
from seatworthy.steps.ballot_views import LinkLine
from seatworthy.steps.session_views import SessionView

_PLACE: Final = "ballot_links"
_BESIDE: Final = "links_missing"  # where somebody who came besides gets theirs
_MADE: Final = "link_made"
_PICTURE_PX: Final = 232  # 41 modules of at least 5 px: the code is 35 mm wide on a 13-inch screen
_WHAT: Final = (
    "Each person answers on their own phone, under a link of their own. Paper stays possible for "
    "everybody, also beside it."
)
_CAUTION: Final = (
    "Whoever has a link answers as that person: hand each card to its owner, and keep links out of "
    "shared chats."
)
_HERE_ONLY: Final = (
    "Phones can't reach this computer now: it listens to itself alone. Stop it and start it again "
    "with: seatworthy open --lan. Until then a link opens in this computer's own browser."
)
_NOT_KNOWN: Final = (
    "Links handed out before the program was started again still work, and it keeps no copy of them "
    "to show. Make a new one for whoever lost theirs; the earlier one opens nothing any more."
)


def offer_ballots(view: SessionView, lines: Sequence[LinkLine]) -> None:
    """Make the links of a session, show them, print them.

    Args:
        view: The session, not closed yet.
        lines: Every seat with its link.
    """
    if not lines:
        return
    st.html(paper(tag("h3", "Ballots on phones"), tag("p", escaped(_WHAT))))
    if not any(line.handed_out_at for line in lines):
        st.button("Make the links", key="make_links", on_click=_make_all, args=(view.session_id,))
        show_told(_PLACE)
        return
    show_told(_PLACE)
    _say_who_reaches_it()
    shown = [line for line in lines if line.secret]
    if shown:
        _offer_cards(view, shown)
        if st.checkbox("Show the links on this screen", key=_shown_key(view.session_id)):
            _show_pictures(view, shown)
    hidden = [line for line in lines if line.handed_out_at and not line.secret]
    if hidden:
        st.html(paper(tag("p", escaped(_NOT_KNOWN), class_="note")))
        _offer_another(view, hidden)


def _offer_another(view: SessionView, lines: Sequence[LinkLine]) -> None:
    """A new link in two steps, since it ends one that somebody may be answering by."""
    names = _labels(lines)
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        key = st.selectbox(
            "Whose link is lost?", list(names), index=None, format_func=names.get, key="lost_link",
            placeholder="Choose a person", width=320,
        )  # fmt: skip
        st.button(
            "Make a new one", key="another_link", disabled=key is None,
            on_click=_make_one, args=(view.session_id, _PLACE, key),
        )  # fmt: skip


def offer_missing_link(view: SessionView, lines: Sequence[LinkLine]) -> None:
    """A link for whoever came besides, where the others have theirs; nothing where nobody does."""
    without = [line for line in lines if not line.handed_out_at]
    if 0 < len(without) < len(lines):
        make = partial(_make_one, view.session_id, _BESIDE)
        pick("No link yet: make one for", _labels(without), _BESIDE, make)
    show_told(_BESIDE)
    for line in lines:
        if line.secret and line.key == st.session_state.get(_MADE):
            with st.container(width=_PICTURE_PX):
                st.html(paper(_picture(line, view)))


def _shown_key(session_id: str) -> str:
    return f"show_links_{session_id}"


def _make_all(session_id: str) -> None:
    if act(_PLACE, partial(ballot_links.hand_out, source.the_desk(), session_id)):
        st.session_state[_shown_key(session_id)] = True


def _make_one(session_id: str, place: str, key: str) -> None:
    st.session_state.pop(_MADE, None)
    if not act(place, partial(ballot_links.hand_out, source.the_desk(), session_id, key=key)):
        return
    if place == _BESIDE:
        st.session_state[_MADE] = key
    else:
        st.session_state[_shown_key(session_id)] = True


def _say_who_reaches_it() -> None:
    way = tag("a", "Can your phone reach me?", href=PHONES, target="_self")
    ways = tag("p", way, class_="ways")
    if is_for_this_machine_only():
        st.html(paper(tag("p", escaped(_HERE_ONLY), class_="here-only"), ways))
    else:
        st.html(paper(ways))


def _offer_cards(view: SessionView, lines: Sequence[LinkLine]) -> None:
    size, desk = chosen_size(), source.the_desk()

    def made() -> bytes:
        now = datetime.now(desk.time_zone).replace(tzinfo=None)
        return papers_made.ballot_cards_pdf(cards(view, lines), size, now)

    st.download_button(
        "Cards with the links as PDF",
        data=made,
        file_name=f"{view.session_on.isoformat()}-links.pdf",
        mime="application/pdf",
        on_click="ignore",
    )
    st.html(paper(tag("p", escaped(_CAUTION), class_="note")))


def cards(view: SessionView, lines: Sequence[LinkLine]) -> tuple[BallotCard, ...]:
    """What stands on each person's card."""
    starts = {sitting.sitting_id: sitting.starts_at for sitting in view.sittings}
    return tuple(
        BallotCard(
            name=line.name,
            address=ballot_address(line.secret),
            session_on=view.session_on,
            starts_at=starts.get(line.sitting_id),
            expires_on=line.expires_on or view.session_on,
            language=line.language,
        )
        for line in lines
    )


def _show_pictures(view: SessionView, lines: Sequence[LinkLine]) -> None:
    with st.container(horizontal=True, gap="small"):
        for line in lines:
            with st.container(width=_PICTURE_PX, gap="small"):
                st.html(paper(_picture(line, view)))
                st.button(
                    "New link", key=f"new_link_{line.key}", on_click=_make_one,
                    args=(view.session_id, _PLACE, line.key),
                )  # fmt: skip


def _picture(line: LinkLine, view: SessionView) -> str:
    picture = qr_picture(ballot_address(line.secret), f"Link of {line.name}, to scan")
    until = "" if line.expires_on is None else f"until {long_day(line.expires_on, view.session_on)}"
    sitting = line.sitting if len(view.sittings) > 1 else ""
    below = ", ".join(words for words in (sitting, until) if words)
    name = tag("figcaption", tag("b", escaped(line.name)) + tag("i", escaped(below)))
    return tag("figure", picture + name, class_="link")


def _labels(lines: Sequence[LinkLine]) -> dict[str, str]:
    names = [line.name for line in lines]
    return {
        line.key: line.name if names.count(line.name) == 1 else f"{line.name}, {line.sitting}"
        for line in lines
    }
