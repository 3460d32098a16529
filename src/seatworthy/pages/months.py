"""The panel over time, for the monthly meeting: better or worse, what slips, who came, what is covered."""

from datetime import date
from typing import Final

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.pages import source
from seatworthy.pages.addresses import JUGS, MONTHS, asked_day, asked_word
from seatworthy.pages.asking_again import show_nothing_yet
from seatworthy.pages.choices import choose_day, choose_family, choose_record
from seatworthy.pages.figures import whole_day
from seatworthy.pages.frame import opening, other_day, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.months_runs import SLIPPED, runs, slips
from seatworthy.pages.months_tables import attendance_table, cover_table, months_table
from seatworthy.pages.paper_sizes import choose_size
from seatworthy.phrases import HOW_TO_READ_COVER, HOW_TO_READ_MONTHS, HOW_TO_READ_RUNS
from seatworthy.steps.month_views import MonthsView
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.views import Choice

_NOBODY: Final = "No critical compound is listed for this beer family; list them on the shelf."


def show() -> None:
    """Draw the page for the beer family and the day that its address names."""
    on = asked_day()
    view = source.months_view(asked_word("family"), on)
    if view.start_here:
        show_nothing_yet(view.start_here, on)
        return
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        st.html(opening(_where(view), view.answer, view.catch, view.lead))
        if on is not None:
            st.html(other_day(whole_day(view.as_of), source.record_words(on), MONTHS))
    with choices:
        _offer(view, on)
    st.html(paper(_compounds(view), _months(view), class_="proof"))
    st.html(paper(_cover(view), _attendance(view, on), class_="proof"))


def _where(view: MonthsView) -> list[str]:
    return ["Over the months", whole_day(view.as_of), "the twelve months up to this one"]


def _offer(view: MonthsView, on: date | None) -> None:
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        choose_family([Choice(key, label) for key, label in view.families], view.family)
        choose_day(on)
    choose_record(on)
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        size = choose_size()
        st.download_button(
            "Print for the meeting",
            data=lambda: papers_made.months_pdf(view, size),
            file_name=f"panel-over-the-months-{view.family}-{view.as_of.isoformat()}.pdf",
            mime="application/pdf",
            on_click="ignore",
        )


def _compounds(view: MonthsView) -> str:
    if not view.compounds:
        return ""
    way = ""
    if any(one.finding in SLIPPED for one in view.compounds):
        link = tag("a", "To the jugs to doubt", href=JUGS, target="_self")
        way = tag("p", link, class_="ways")
    note = tag("p", escaped(HOW_TO_READ_RUNS), class_="note")
    return tag("h2", "Compound by compound", class_="apart") + slips(view) + way + runs(view) + note


def _months(view: MonthsView) -> str:
    note = tag("p", escaped(HOW_TO_READ_MONTHS), class_="note")
    return tag("h2", "The whole panel, month by month", class_="apart") + months_table(view) + note


def _cover(view: MonthsView) -> str:
    head = tag(
        "h2", escaped(f"Cover by shift, for {in_sentence(view.family_label)}"), class_="apart"
    )
    if not view.cover:
        return head + tag("p", escaped(_NOBODY), class_="note")
    return head + cover_table(view) + tag("p", escaped(HOW_TO_READ_COVER), class_="note")


def _attendance(view: MonthsView, on: date | None) -> str:
    return tag("h2", "Who came", class_="apart") + attendance_table(view, on)
