"""One person's page about one closed session, on screen as on paper: progress first, no ranking."""

from typing import Final

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.pages import source
from seatworthy.pages.addresses import asked_word, feedback_address, reveal_address
from seatworthy.pages.choices import choose_person
from seatworthy.pages.feedback_tables import glasses_table, progress_table
from seatworthy.pages.figures import whole_day
from seatworthy.pages.frame import headline, opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.paper_sizes import choose_size
from seatworthy.pages.session import no_session
from seatworthy.phrases import multiple
from seatworthy.steps import feedback as feedback_steps
from seatworthy.steps.reveal_views import FeedbackView
from seatworthy.steps.sentences import number_word, the_beers
from seatworthy.steps.views import Choice

_WRONG: Final = (
    "Something looks wrong? Tell the panel leader; a glass that went wrong can be set aside."
)
_BEERS: Final = "Glasses that ask about a beer have no page: they stand on each person's record."


def show() -> None:
    """Draw the page of the session and the person that the address names."""
    desk, session_id, who = source.the_desk(), asked_word("session"), asked_word("who")
    if session_id is None:
        st.html(no_session("Which session shall it be?"))
        return
    with st.spinner("Counting glasses"):
        view = feedback_steps.feedback(desk, session_id, who) if who else None
    if view is None:
        st.html(_whose(session_id, feedback_steps.feedback_people(desk, session_id)))
        return
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        where = [view.name, f"{view.session_label}, {whole_day(view.session_on)}", view.family]
        st.html(opening([word for word in where if word], view.answer, "", ""))
    with choices:
        choose_person(view.people, view.person_id)
        _offer_paper(view)
    st.html(_page(view))


def _page(view: FeedbackView) -> str:
    glasses = number_word(len(view.glasses))
    parts = [tag("h2", f"Your {glasses} glass{'' if len(view.glasses) == 1 else 'es'}")]
    parts.append(glasses_table(view.glasses))
    for head, words in (
        ("How this compares with your last months", view.compared),
        ("One thing to smell next", view.smell_next),
    ):
        if words:
            parts += [tag("h2", head), tag("p", escaped(words))]
    if view.progress:
        beers = f" for {the_beers(view.family)}" if view.family else ""
        parts += [tag("h2", escaped(f"Where you stand{beers}")), progress_table(view)]
        parts.append(tag("p", escaped(_how_to_read(view)), class_="note"))
    back = tag(
        "a", "What came of the session", href=reveal_address(view.session_id), target="_self"
    )
    parts += [tag("p", escaped(_WRONG), class_="note"), tag("p", back, class_="ways")]
    return paper(*parts, class_="proof mine")


def _how_to_read(view: FeedbackView) -> str:
    return (
        f"Chance that you name it right at {multiple(view.reference_level)}. The tick is the best "
        "guess, the bar holds eight chances in ten. A bar wholly right of the dashes is met, once "
        "glasses and days suffice; a bar across them is not known yet, which is no fault."
    )


def _offer_paper(view: FeedbackView) -> None:
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        size = choose_size()
        st.download_button(
            "This page as PDF",
            data=lambda: papers_made.feedback_pdf([view], size),
            file_name=f"{view.session_on.isoformat()}-feedback.pdf",
            mime="application/pdf",
            on_click="ignore",
        )


def _whose(session_id: str, people: tuple[Choice, ...]) -> str:
    if not people:
        sentence = headline("Feedback is written once the session is closed", "")
        link = tag("a", "What came of the session", href=reveal_address(session_id), target="_self")
        return paper(
            sentence, tag("p", escaped(_BEERS), class_="lead"), tag("p", link, class_="lead")
        )
    rows = "".join(
        tag("li", tag("a", escaped(choice.label), href=feedback_address(session_id, choice.key),
                      target="_self"))
        for choice in people
    )  # fmt: skip
    return paper(headline("Whose page shall it be?", ""), tag("ul", rows, class_="people"))
