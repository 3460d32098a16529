"""The reveal of a closed session: what it changed, which bottle to look at, what was in the jugs."""

from typing import Final

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.pages import source
from seatworthy.pages.addresses import (
    BOARD,
    NEXT,
    asked_word,
    feedback_address,
    plan_address,
    session_address,
)
from seatworthy.pages.figures import whole_day
from seatworthy.pages.frame import headline, opening, paper
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.paper_sizes import choose_size
from seatworthy.pages.session import no_session
from seatworthy.pages.session_jugs import offer_aside
from seatworthy.pages.session_talk import show_said
from seatworthy.pages.session_words import offer_meanings
from seatworthy.pages.telling import NO_COPY, show_told, tell_only_about
from seatworthy.phrases import STANDING_WORDS, multiple
from seatworthy.steps import closing, feedback, supposing, talk_sentences
from seatworthy.steps import sessions as session_steps
from seatworthy.steps.desk import Desk
from seatworthy.steps.reveal_views import (
    ChangeLine,
    Rated,
    RevealView,
    SampleResult,
    StandingChange,
)

_NO_EFFECT: Final = "Without it no standing of today would change."
_EFFECT: Final = "Without it these standings of today would change:"


def show() -> None:
    """Draw the reveal of the session that the address names."""
    desk, session_id = source.the_desk(), asked_word("session")
    with st.spinner("Counting glasses"):
        view = closing.reveal(desk, session_id) if session_id else None
    if view is None:
        st.html(_not_closed(session_id) if session_id else no_session("Which session shall it be?"))
        return
    tell_only_about(view.session_id)
    where = [view.label, whole_day(view.session_on), view.family]
    st.html(opening([word for word in where if word], view.answer, view.catch, view.lead))
    show_told(NO_COPY)
    if view.people:
        _offer_feedback(desk, view)
    talk = talk_sentences.talk(desk, view.session_id)
    if talk is not None:
        show_said(talk)
    top = []
    if view.changes:
        top += [tag("h2", "What changed"), changes_table(view.session_id, view.changes)]
    if view.samples:
        top += [tag("h2", "The jugs"), samples_table(view.samples)]
    st.html(paper(*top, class_="proof"))
    offer_meanings(desk, view.session_id)
    parts = []
    if view.not_counted:
        lines = "".join(tag("li", escaped(line)) for line in view.not_counted)
        parts += [tag("h2", "Not counted"), tag("ul", lines, class_="care")]
    if view.corrections:
        parts += [tag("h2", "Corrected, changed or set aside"), corrections_table(view.corrections)]
    if parts:
        st.html(paper(*parts, class_="proof"))
    with st.expander("A jug was wrong: set it aside, or put it back"):
        _offer_aside(desk, view)
    st.html(paper(_ways(view), class_="proof"))


def changes_table(session_id: str, changes: tuple[StandingChange, ...]) -> str:
    """One row a standing or seat that changed: whose, for what, before, now, and why."""
    words = ("Who", "For what", "Before", "Now", "Why")
    head = tag("thead", tag("tr", "".join(tag("th", word, scope="col") for word in words)))
    rows = "".join(_change(session_id, change) for change in changes)
    return tag("table", head + tag("tbody", rows), class_="listing changes")


def corrections_table(lines: tuple[ChangeLine, ...]) -> str:
    """One row an act: what it was about, the answer before and since, why, who and when."""
    words = ("What", "Before", "Since", "Why", "Signed")
    head = tag("thead", tag("tr", "".join(tag("th", word, scope="col") for word in words)))
    rows = "".join(_correction(line) for line in lines)
    return tag("table", head + tag("tbody", rows), class_="listing changes")


def _correction(line: ChangeLine) -> str:
    moment = f"{line.recorded_at:%H:%M}, {line.recorded_at.day} {line.recorded_at:%b %Y}"
    signed = f"{line.by}, {moment}" if line.by else moment
    cells = [
        tag("th", escaped(line.what) + tag("i", escaped(line.name)), scope="row"),
        tag("td", escaped(line.before), class_="before", data_head="before:"),
        tag("td", escaped(line.after or line.kind), class_="after", data_head="since:"),
        tag("td", escaped(line.reason), class_="why"),
        tag("td", escaped(signed), class_="why"),
    ]
    return tag("tr", "".join(cells))


def samples_table(samples: tuple[SampleResult, ...]) -> str:
    """One row a jug; a suspect one carries the amber and its sentence."""
    words = ("Jug", "What was in it", "Named right", "Not noticed", "No name", "Another name")
    head = tag("thead", tag("tr", "".join(tag("th", word, scope="col") for word in words)))
    has_sittings = len({sample.sitting for sample in samples}) > 1
    rows = "".join(_sample(sample, has_sittings=has_sittings) for sample in samples)
    return tag("table", head + tag("tbody", rows), class_="listing jugs")


def _change(session_id: str, change: StandingChange) -> str:
    address = feedback_address(session_id, change.person_id)
    who = tag("a", escaped(change.name), href=address, target="_self")
    what = escaped(change.label) + (tag("i", escaped(change.family)) if change.family else "")
    cells = [
        tag("th", who, scope="row"),
        tag("td", what, class_="what"),
        tag("td", _standing(change.before), class_="before", data_head="before:"),
        tag("td", _standing(change.after), class_="after", data_head="now:"),
        tag("td", escaped(change.sentence), class_="why"),
    ]
    return tag("tr", "".join(cells))


def _standing(standing: str) -> str:
    return mark(standing) + tag("span", escaped(STANDING_WORDS.get(standing, standing)))


def _sample(sample: SampleResult, *, has_sittings: bool) -> str:
    level = "" if sample.level is None else f", {multiple(float(sample.level))}"
    notes = [sample.sitting] if has_sittings else []
    notes += [f"asked about {sample.asks}"] if sample.asks else []
    notes += [_rated(sample.rated)] if sample.rated and sample.answers else []
    notes += ["set aside"] if sample.is_aside else []
    notes += [f"not for qualification: {sample.unfit}"] if sample.unfit else []
    what = escaped(f"{sample.label}{level}") + tag("i", escaped(", ".join(notes)))
    if sample.is_suspect:
        what += tag("p", escaped(sample.sentence), class_="suspicion")
    right = f"{tag('b', str(sample.named_right))} of {sample.answers}"
    cells = [
        tag("th", escaped(sample.mark), scope="row", class_="letter"),
        tag("td", what, class_="what"),
        tag("td", right if sample.answers else "", class_="count", data_head="named right:"),
        tag("td", str(sample.missed or ""), class_="count", data_head="not noticed:"),
        tag("td", str(sample.unnamed or ""), class_="count", data_head="noticed, no name:"),
        tag("td", str(sample.other_names or ""), class_="count", data_head="another name:"),
    ]
    if sample.asks and not (sample.unnamed or sample.missed and sample.other_names):
        cells[3:] = [tag("td", _yes_or_no(sample), colspan="3", class_="count")]
    if sample.rated is not None and not sample.answers:
        words = escaped(_rated(sample.rated))
        cells[2:] = [tag("td", words, colspan="4", class_="count", data_head="rated:")]
    return tag("tr", "".join(cells), class_="is-suspect" if sample.is_suspect else None)


def _yes_or_no(sample: SampleResult) -> str:
    """How many were wrong about whether it was there; nothing if nobody was."""
    if sample.missed:
        return f"{sample.missed} said no"
    return f"{sample.other_names} said yes" if sample.other_names else ""


def _rated(rated: Rated) -> str:
    """Neither right nor wrong: how many rated it, and what."""
    size = "1 rating" if rated.ratings == 1 else f"{rated.ratings} ratings"
    return f"{size}: {rated.words}"


def _ways(view: RevealView) -> str:
    people = "".join(
        tag("a", escaped(choice.label), href=feedback_address(view.session_id, choice.key),
            target="_self")
        for choice in view.people
    )  # fmt: skip
    ways = [
        tag("a", "To the board", href=BOARD, target="_self"),
        tag("a", "The session", href=session_address(view.session_id), target="_self"),
        tag("a", "What to pour next", href=NEXT, target="_self"),
        tag("a", "Plan it again", href=plan_address(view.session_id), target="_self"),
    ]
    label = tag("span", "Feedback for")
    links = tag("p", label + people, class_="ways") if people else ""
    links += tag("p", "".join(ways), class_="ways")
    return tag("h2", "Where to go from here") + links


def _offer_feedback(desk: Desk, view: RevealView) -> None:
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        size = choose_size()
        st.download_button(
            "Everybody's feedback, a page each",
            data=lambda: all_feedback(desk, view, size),
            file_name=f"{view.session_on.isoformat()}-feedback.pdf",
            mime="application/pdf",
            on_click="ignore",
            type="primary",
        )


def all_feedback(desk: Desk, view: RevealView, size: str) -> bytes:
    """Everybody's page in one PDF, in the order of the list."""
    pages = [feedback.feedback(desk, view.session_id, choice.key) for choice in view.people]
    return papers_made.feedback_pdf([page for page in pages if page is not None], size)


def _offer_aside(desk: Desk, view: RevealView) -> None:
    session = session_steps.session(desk, view.session_id)
    samples = [
        (sample.sample_id, f"{sample.mark} ({sample.label}), {sample.sitting}", sample.is_aside)
        for sample in view.samples
    ]
    people = session.people if session else view.people
    offer_aside(samples, people, lambda sample: effect_of_aside(desk, view.session_id, sample))


def effect_of_aside(desk: Desk, session_id: str, sample_id: str) -> str:
    """Which of today's standings would change if a jug were set aside."""
    changes = supposing.if_set_aside(desk, sample_id)
    if not changes:
        return paper(tag("p", escaped(_NO_EFFECT)))
    return paper(tag("p", escaped(_EFFECT)), changes_table(session_id, changes))


def _not_closed(session_id: str) -> str:
    link = tag("a", "To the session", href=session_address(session_id), target="_self")
    sentence = headline("What was in the glasses is shown once the session is closed", "")
    return paper(sentence, tag("p", link, class_="lead"))
