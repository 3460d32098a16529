"""What is proposed about somebody's seat, for the person concerned to read and answer."""

from collections.abc import Sequence
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import SEATS, asked_word
from seatworthy.pages.figures import whole_day
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.reason_tree import reason_tree
from seatworthy.pages.shelf_parts import cleared, written
from seatworthy.pages.telling import act, show_told
from seatworthy.phrases import DECISION_CARE, NO_SUCH_PROPOSAL
from seatworthy.steps.decision_views import ReplyView
from seatworthy.steps.judging import judge_day
from seatworthy.steps.proposals import reply
from seatworthy.steps.reasons import reasons
from seatworthy.steps.word_views import WordView, word_view

_PLACE: Final = "word"
_SAYINGS: Final = {
    "seen": "I have read this",
    "remark": "I have a remark",
    "recheck": "I ask for a recheck",
    "withdrawn": "I take my wish for a recheck back",
}
_REPLIED: Final = {
    "seen": "Read", "remark": "Remark", "recheck": "Asks for a recheck",
    "withdrawn": "Took the wish for a recheck back",
}  # fmt: skip


def show() -> None:
    """Draw the proposal that the address names."""
    desk = source.the_desk()
    view = word_view(desk, asked_word("proposal") or "")
    if view is None:
        way = tag("a", "To the seats", href=SEATS, target="_self", class_="way")
        st.html(paper(tag("h1", escaped(NO_SUCH_PROPOSAL), class_="answer"), tag("p", way)))
        return
    where = [view.name, view.family_label, f"put before you on {whole_day(view.put_on)}"]
    st.html(opening(where, view.answer, "", view.lead))
    tree = reasons(desk, judge_day(desk), view.person_id, view.family)
    head = tag("h2", "What it rests on, today")
    st.html(paper(head, reason_tree(tree), class_="proof"))
    if view.replies:
        st.html(paper(tag("h2", "What you said"), said_table(view.replies), class_="proof"))
    if view.is_open:
        _answer(view)
    st.html(paper(tag("p", escaped(DECISION_CARE), class_="note")))


def said_table(replies: Sequence[ReplyView]) -> str:
    """What the person concerned said, oldest first."""
    lines = [
        tag("dt", escaped(f"{_REPLIED[one.kind]}, {whole_day(one.replied_at.date())}"))
        + tag("dd", escaped(one.words) if one.words else "without words")
        for one in replies
    ]
    return tag("dl", "".join(lines), class_="said")


def _answer(view: WordView) -> None:
    st.html(paper(tag("h2", "Your word"), class_="proof"))
    kinds = [kind for kind in _SAYINGS if kind != "withdrawn" or view.recheck_open]
    st.radio("What you say", kinds, format_func=_SAYINGS.get, key=f"{_PLACE}_kind")
    st.text_area("In your own words (a remark needs some)", key=f"{_PLACE}_words", height=100)
    st.button("Put it on record", key="record_word", type="primary",
              on_click=_record, args=(view.proposal_id, view.person_id))  # fmt: skip
    show_told(_PLACE)


def _record(proposal_id: str, person_id: str) -> None:
    kind, words = written(f"{_PLACE}_kind"), written(f"{_PLACE}_words")
    if act(_PLACE, partial(reply, source.the_desk(), proposal_id, kind, words, person_id)):
        cleared(f"{_PLACE}_words")
