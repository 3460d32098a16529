"""How sure are we? What a beer has, by what each taster said of it."""

from collections.abc import Callable
from functools import partial
from typing import Final

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.addresses import SHELF, SURE, asked_word, sure_address
from seatworthy.pages.figures import short_day, whole_day
from seatworthy.pages.frame import opening, paper, refusal
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.paper_sizes import choose_size
from seatworthy.pages.sure_kept import offer_outcome, show_kept
from seatworthy.pages.sure_shares import offer_shares
from seatworthy.pages.sure_shown import other_steps, show_weighed, small_print, top_of
from seatworthy.pages.sure_typed import ask_for_words
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import weigh, weigh_papers, weigh_sittings, weighings_kept, weighings_list
from seatworthy.steps.desk import Desk
from seatworthy.steps.weigh_views import Choices, Question, WeighedView

KEEP: Final = "sure_keep"
_ASK: Final = "How sure are we? Say who tasted which beer, and what each of them said"
_ASK_LEAD: Final = (
    "You get the chance of each fault with its reasons, whose word counts and whose silence doesn't, and "
    "what to pour next. Nobody is judged by it, and it never releases beer."
)
_NO_FAMILY: Final = "Nothing can be weighed yet: no beer family is on the shelf"
_NOBODY: Final = "Nothing can be weighed yet: nobody is on the panel"
_NO_CALL: Final = "That weighed call is not on record. Choose one of the list, or weigh another."


def show() -> None:
    """Draw the weighing that the address names: a kept one, a sitting's, or one typed in."""
    choices = weigh_sittings.choices_of(source.the_desk())
    if not choices.families or not choices.people:
        _show_empty(choices)
        return
    call, sample = asked_word("call"), asked_word("sample")
    if call:
        _show_kept(call, choices)
    elif sample:
        _show_sitting(sample)
    else:
        _show_typed(choices)
    desk = source.the_desk()
    show_kept(weighings_list.kept_weighings(desk), desk.today())


def _show_empty(choices: Choices) -> None:
    sentence = _NOBODY if choices.families else _NO_FAMILY
    way = ("people", "Put people on the list") if choices.families else (SHELF, "Go to the shelf")
    link = tag("a", way[1], href=way[0], target="_self", class_="way")
    st.html(opening(["How sure are we?"], sentence, "", _ASK_LEAD))
    st.html(paper(tag("p", link, class_="ways")))


def _show_typed(choices: Choices) -> None:
    top = st.container()
    with st.expander("What was said", expanded=True):
        question = ask_for_words(choices)
    if question is None:
        top.html(opening(["How sure are we?"], _ASK, "", _ASK_LEAD) + _waiting())
        return
    with top:
        view = _weighed(lambda: weigh.weigh_call(source.the_desk(), question, in_words=_in_words()))
        if view is not None:
            _show(view, partial(_keep, question))
    offer_shares(question.family)


def _waiting() -> str:
    """Beers of sittings that wait to be weighed; nothing needs to be typed for them."""
    desk = source.the_desk()
    lines = [
        tag(
            "li", link + escaped(f" {one.session_label}, {short_day(one.session_on, desk.today())}")
        )
        for one in weigh_sittings.beers_to_weigh(desk)
        for link in [_to_weigh(one.sample_id, one.label)]
    ]
    if not lines:
        return ""
    head = tag("h2", "From a sitting, not weighed yet")
    return paper(head, tag("ul", "".join(lines), class_="care"), class_="proof")


def _to_weigh(sample_id: str, label: str) -> str:
    return tag("a", escaped(label), href=sure_address(sample_id), target="_self", class_="way")


def _show_sitting(sample_id: str) -> None:
    desk = source.the_desk()

    def weighed() -> WeighedView:
        question = weigh_sittings.question_of_sample(desk, sample_id)
        return weigh.weigh_call(desk, question, in_words=_in_words())

    view = _weighed(weighed)
    if view is not None:
        _show(view, partial(_keep, view.question))
        offer_shares(view.question.family)


def _show_kept(weighing_id: str, choices: Choices) -> None:
    desk = source.the_desk()
    with st.spinner("Reading the record as it stood"):
        kept = weighings_kept.kept_weighing(desk, weighing_id, in_words=_in_words())
    if kept is None:
        st.html(refusal(_NO_CALL))
        return
    lines = [f"Weighed on {whole_day(kept.weighed_on)}, kept under {kept.digest[:12]}."]
    lines += [line for line in (kept.outcome, kept.differs) if line]
    back = tag("a", "Weigh another", href=SURE, target="_self")
    st.html(paper(tag("p", escaped(" ".join(lines)) + f" {back}", class_="told")))
    _show(kept.view, None)
    offer_outcome(weighing_id, choices)


def _weighed(made: Callable[[], WeighedView]) -> WeighedView | None:
    try:
        return made()
    except PanelError as error:
        st.html(refusal(str(error)))
        return None


def _show(view: WeighedView, keep: Callable[[], None] | None) -> None:
    st.html(top_of(view))
    if not view.refusal:
        with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
            if keep is not None:
                st.button("Keep this weighing", type="primary", key="sure_keep", on_click=keep)
            size, desk = (
                choose_size(),
                source.the_desk(),
            )  # what is printed is made outside the page
            st.download_button(
                "Print this weighing",
                data=lambda: printed(desk, view, size),
                file_name="weighed-call.pdf",
                mime="application/pdf",
                on_click="ignore",
            )
            st.toggle("Without people's scores", key="sure_in_words")
    show_told(KEEP)
    show_weighed(view)
    if not view.refusal:
        with st.expander("Other steps, and what is assumed"):
            st.html(paper(other_steps(view), small_print(view)))


def printed(desk: Desk, view: WeighedView, size: str) -> bytes:
    """The weighing on paper."""
    return papers_made.weighing_pdf(weigh_papers.weighing_paper(desk, view), size)


def _in_words() -> bool:
    return bool(st.session_state.get("sure_in_words"))


def _keep(question: Question) -> None:
    desk, found = source.the_desk(), []

    def step() -> str:
        found.append(weighings_kept.keep_weighing(desk, question))
        return "Kept. State what the beer really had once it is known."

    if act(KEEP, step):
        st.query_params.clear()
        st.query_params["call"] = found[0]
