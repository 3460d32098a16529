"""How sure are we?, as brewers see it: in words, and nothing of it is recorded."""

from collections.abc import Callable, Iterable
from typing import Final

import streamlit as st

from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.addresses import asked_word
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import opening, paper, refusal
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.sure_typed import ask_for_words
from seatworthy.steps import brewer_calls, weigh_sittings
from seatworthy.steps.brewer_views import CallInWords
from seatworthy.steps.roles import WEIGHED
from seatworthy.steps.weigh_views import Question

_TITLE: Final = "How sure are we?"
_ASK: Final = "How sure are we? Say who tasted which beer, and what each of them said"
_ASK_LEAD: Final = (
    "You get in words how likely each fault is, whose word counts, and what to pour next. Nothing is "
    "recorded here; the leader keeps a call, and states what the beer really had."
)
_NOTHING_YET: Final = (
    "Nothing can be weighed yet: the leader puts people and beer families on record"
)


def show() -> None:
    """Draw the weighing of a sitting's beer that the address names, or of words typed in."""
    desk, sample = source.the_desk(), asked_word("sample")
    if sample:
        _show(lambda: weigh_sittings.question_of_sample(desk, sample))
        back = tag("a", "Weigh another", href=WEIGHED, target="_self", class_="way")
        st.html(paper(tag("p", back, class_="ways")))
        return
    choices = weigh_sittings.choices_of(desk)
    if not choices.families or not choices.people:
        st.html(opening([_TITLE], _NOTHING_YET, "", _ASK_LEAD))
        return
    top = st.container()
    with st.expander("What was said", expanded=True):
        question = ask_for_words(choices)
    with top:
        if question is None:
            st.html(opening([_TITLE], _ASK, "", _ASK_LEAD) + _waiting())
        else:
            _show(lambda: question)


def _show(asked: Callable[[], Question]) -> None:
    try:
        view = brewer_calls.call_in_words(source.the_desk(), asked())
    except PanelError as error:
        st.html(refusal(str(error)))
        return
    st.html(opening(view.where, view.answer, view.catch, view.lead))
    st.html(paper(*_parts(view), class_="proof"))


def _parts(view: CallInWords) -> list[str]:
    parts = []
    if view.step:
        parts += [tag("h2", "The next step"), tag("p", escaped(view.step))]
    if view.possible:
        parts += [tag("h2", "What is in the glass?"), _pairs(view.possible)]
        said = [(line.head, line.words) for line in view.said]
        parts += [tag("h2", "Whose word counts"), _pairs(said)]
    return parts


def _pairs(pairs: Iterable[tuple[str, str]]) -> str:
    rows = "".join(
        tag("tr", tag("th", escaped(head), scope="row") + tag("td", escaped(words)))
        for head, words in pairs
    )
    return tag("table", tag("tbody", rows), class_="listing in-words")


def _waiting() -> str:
    """Beers of sittings whose talk is open or over; nothing needs to be typed for them."""
    desk = source.the_desk()
    lines = []
    for one in weigh_sittings.beers_to_weigh(desk):
        address = f"{WEIGHED}?sample={one.sample_id}"
        link = tag("a", escaped(one.label), href=address, target="_self", class_="way")
        day = short_day(one.session_on, desk.today())
        lines.append(tag("li", link + escaped(f" {one.session_label}, {day}")))
    if not lines:
        return ""
    head = tag("h2", "From a sitting, not weighed yet")
    return paper(head, tag("ul", "".join(lines), class_="care"), class_="proof")
