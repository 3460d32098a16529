"""The end of a session: its sittings are over, it is closed and revealed, or it is called off."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.errors import PanelError
from seatworthy.pages import going, source
from seatworthy.pages.addresses import REVEAL
from seatworthy.pages.frame import paper, refusal
from seatworthy.pages.markup import escaped, plain_markdown, tag
from seatworthy.pages.telling import NO_COPY, act, show_told, warn
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import closing, last_copy, table
from seatworthy.steps.sentences import joined
from seatworthy.steps.session_views import SessionView, SittingView

_OVER, _CALLED_OFF = "over", "called_off"
_ASKED: Final = "asked_to_close"
_LINKS_TELL: Final = (
    "From then on every link shows its owner what was in the glasses. This can't be taken back."
)
_ASKED_OFF: Final = "asked_to_call_off"


def offer_close(view: SessionView, *, has_links: bool = False) -> None:
    """Say that a sitting is over; then close, asked once more if answers are missing or links are out.

    Args:
        view: The session.
        has_links: Whether somebody has a link to their ballot.
    """
    show_told(_OVER)
    with st.container(horizontal=True, gap="small"):
        for sitting in view.sittings:
            _offer_over(sitting)
    if view.hindrances:
        lines = "".join(tag("li", escaped(line)) for line in view.hindrances)
        head = tag("p", "Before it can be closed:", class_="ask")
        st.html(paper(head + tag("ul", lines, class_="hindrances")))
    if view.preparing:
        st.html(paper(tag("p", escaped(view.preparing), class_="note")))
    by = _ask_who(view)
    is_asked = st.session_state.get(_ASKED) == view.session_id
    if st.button("Close and reveal", type="primary", disabled=bool(view.hindrances) or is_asked):
        if view.missing or has_links:
            st.session_state[_ASKED] = view.session_id
            st.rerun()
        _close(view, by, without_missing=False)
    if is_asked and not view.hindrances:
        _ask_again(view, by, has_links=has_links)


def offer_call_off(view: SessionView) -> None:
    """Call the session off, in two steps."""
    with st.expander("Call this session off"):
        words = (
            "Nothing of it will count; what was entered stays on record. Its codes are free again."
        )
        st.html(paper(tag("p", words)))
        show_told(_CALLED_OFF)
        if st.session_state.get(_ASKED_OFF) != view.session_id:
            st.button("Call it off", on_click=_ask_off, args=(view.session_id,))
            return
        with st.container(horizontal=True, gap="small"):
            st.button("Yes, call it off", on_click=_call_off, args=(view.session_id,))
            st.button("No, it goes on", on_click=_ask_off, args=(None,))


def missing_words(view: SessionView) -> str:
    """How many answers are missing, and whose."""
    waiting: dict[str, int] = {}
    for sitting in view.sittings:
        for seat in sitting.seated:
            if seat.waiting:
                waiting[seat.name] = waiting.get(seat.name, 0) + seat.waiting
    whose = joined([f"{name} {count}" for name, count in waiting.items()])
    start = "1 glass has" if view.missing == 1 else f"{view.missing} glasses have"
    stays = (
        "it stays without one and counts" if view.missing == 1 else "they stay without and count"
    )
    return f"{start} no answer: {whose}. Closed now, {stays} for nothing."


def _offer_over(sitting: SittingView) -> None:
    words = "goes on after all" if sitting.is_over else "is over"
    st.button(
        f"{plain_markdown(sitting.label)} {words}",
        key=f"over_{sitting.sitting_id}",
        on_click=_record_over,
        args=(sitting,),
    )


def _record_over(sitting: SittingView) -> None:
    desk = source.the_desk()
    over = partial(table.sitting_over, desk, sitting.sitting_id)
    goes_on = partial(table.sitting_goes_on, desk, sitting.sitting_id)
    if sitting.is_over:
        act(_OVER, goes_on, over)
    else:
        act(_OVER, over, goes_on)


def _ask_who(view: SessionView) -> str | None:
    names = labels_told_apart(view.people)
    return st.selectbox(
        "Who closes it (may stay empty)",
        list(names),
        index=None,
        format_func=names.get,
        placeholder="Choose a person",
        key="closed_by",
        width=320,
    )


def _ask_again(view: SessionView, by: str | None, *, has_links: bool) -> None:
    """One question, whatever there is to ask."""
    glasses = "1 glass" if view.missing == 1 else f"{view.missing} glasses"
    asked = [missing_words(view)] if view.missing else []
    asked += [_LINKS_TELL] if has_links else []
    st.html(paper(tag("p", escaped(" ".join(asked)), class_="ask", role="status")))
    with st.container(horizontal=True, gap="small"):
        if st.button(f"Close with {glasses} unanswered" if view.missing else "Yes, close it now"):
            _close(view, by, without_missing=bool(view.missing))
        st.button("Not yet", on_click=lambda: st.session_state.pop(_ASKED, None))


def _close(view: SessionView, by: str | None, *, without_missing: bool) -> None:
    try:
        closing.close_session(
            source.the_desk(), view.session_id, without_missing=without_missing, by=by
        )
    except PanelError as error:
        st.html(refusal(str(error)))
        return
    with st.spinner("Keeping a copy of the record"):
        not_kept = last_copy.copy_after_close(source.the_desk())
    if not_kept:
        warn(NO_COPY, not_kept)
    going.go_to(REVEAL, session=view.session_id)


def _ask_off(session_id: str | None) -> None:
    st.session_state[_ASKED_OFF] = session_id


def _call_off(session_id: str) -> None:
    act(_CALLED_OFF, partial(closing.call_off, source.the_desk(), session_id))
    st.session_state.pop(_ASKED_OFF, None)
