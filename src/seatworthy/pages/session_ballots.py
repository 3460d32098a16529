"""Ballots on phones: links made, shown one at a time, and printed as cards to hand out."""

from collections.abc import Sequence
from datetime import datetime
from functools import partial
from typing import Final

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.network.settings import base_address, lan_command
from seatworthy.pages import source
from seatworthy.pages.addresses import PHONES, ballot_address, is_for_this_machine_only
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.paper_sizes import chosen_size
from seatworthy.pages.session_link import PLACE, choose_link, show_link
from seatworthy.pages.telling import act, show_told
from seatworthy.paper.ballot_card_words import BallotCard
from seatworthy.steps import ballot_links
from seatworthy.steps.ballot_views import LinkLine
from seatworthy.steps.live_views import LiveView
from seatworthy.steps.session_views import SessionView

_WHAT: Final = (
    "Each person answers on their own phone, under a link of their own. Paper stays possible for "
    "everybody, also beside it."
)
_CAUTION: Final = (
    "Whoever has a link answers as that person: hand each card to its owner, and keep links out of "
    "shared chats."
)
_HERE_ONLY: Final = (
    "Phones can't reach this computer now, so no phone opens a link that is made or shown now. Stop "
    "it, and start it again with: {command}."
)
_CARDS_THEN: Final = "Print the cards after that; the address must be the same on the day."
_SAME_ADDRESS: Final = "The cards hold the address {address}. It must be the same on the day, or they are printed again."
_AFTER: Final = (
    "A link shows its owner what was in their own glasses, until it ends. Whoever lost theirs gets a "
    "new one for the days that are left."
)


def offer_ballots(view: SessionView, lines: Sequence[LinkLine], live: LiveView | None) -> None:
    """Make the links of a session, show them one by one, print them.

    Args:
        view: The session, not closed yet.
        lines: Every seat with its link.
        live: Who has opened theirs; None if nobody has a glass.
    """
    if not lines:
        return
    st.html(paper(tag("h3", "Ballots on phones"), tag("p", escaped(_WHAT))))
    made = [line for line in lines if line.handed_out_at]
    if not made:
        st.button("Make the links", key="make_links", on_click=_make_all, args=(view.session_id,))
        show_told(PLACE)
        return
    show_told(PLACE)
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        chosen = choose_link(view, made)
        _offer_cards(view, [line for line in made if line.secret])
    _say_who_reaches_it()
    if chosen is not None:
        show_link(view, chosen, live)


def offer_links_after(view: SessionView, lines: Sequence[LinkLine], live: LiveView | None) -> None:
    """Links of a closed session, as long as one of them opens somebody's own page.

    Args:
        view: The session, closed.
        lines: Every seat with its link.
        live: Who has opened theirs.
    """
    today = source.the_desk().today()
    if not any(line.expires_on and line.expires_on >= today for line in lines):
        return
    with st.expander("Links: show one again, or make a new one"):
        here_only = _here_only() if is_for_this_machine_only() else ""
        st.html(paper(tag("p", escaped(_AFTER)), here_only))
        show_told(PLACE)
        with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
            chosen = choose_link(view, lines)
        if chosen is not None:
            show_link(view, chosen, live)


def _make_all(session_id: str) -> None:
    act(PLACE, partial(ballot_links.hand_out, source.the_desk(), session_id))


def _say_who_reaches_it() -> None:
    way = tag("a", "Can your phone reach me?", href=PHONES, target="_self")
    if is_for_this_machine_only():
        words = _here_only(_CARDS_THEN)
    else:
        words = tag("p", escaped(_SAME_ADDRESS.format(address=base_address())), class_="note")
    caution = tag("p", escaped(_CAUTION), class_="note")
    st.html(paper(words, caution, tag("p", way, class_="ways")))


def _here_only(and_then: str = "") -> str:
    before, after = escaped(_HERE_ONLY).split("{command}")
    command = " ".join(tag("span", escaped(word)) for word in lan_command().split())
    words = f"{before}{tag('code', command)}{after} {escaped(and_then)}".strip()
    return tag("p", words, class_="here-only")


def _offer_cards(view: SessionView, lines: Sequence[LinkLine]) -> None:
    """Cards of all links that are known; nothing if none is."""
    if not lines:
        return
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
