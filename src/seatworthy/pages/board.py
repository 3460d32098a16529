"""The board: who can sit today for one beer family, for which compounds, until when."""

from datetime import date

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import asked_day, asked_word, board_address
from seatworthy.pages.asking_again import show_nothing_yet
from seatworthy.pages.audit_files import offer_panel_day
from seatworthy.pages.board_lists import board_lists
from seatworthy.pages.board_table import board_table
from seatworthy.pages.choices import choose_day, choose_family, choose_record
from seatworthy.pages.figures import long_day, whole_day
from seatworthy.pages.frame import copies_note, opening, other_day, paper, tell_alarms
from seatworthy.pages.marks import key_to_marks
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.people_kept import reminder_line
from seatworthy.pages.takeaway import board_csv, board_xlsx
from seatworthy.phrases import how_to_read_a_cell
from seatworthy.steps.spreadsheet import XLSX
from seatworthy.steps.views import BoardView


def show() -> None:
    """Draw the page for the family and day that its address names."""
    on = asked_day()
    view = source.board_view(asked_word("family"), on)
    if view.start_here:
        show_nothing_yet(view.start_here, on)
        return
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        _open(view, on)
    told = st.empty()
    with choices:
        _offer(view, on)
    key = key_to_marks(with_ear=True)
    how = how_to_read_a_cell(*view.counted_levels, view.counted_months)
    note = tag("p", escaped(how), class_="note desk-only")
    st.html(paper(board_table(view, on), key, note, board_lists(view, on), class_="proof"))
    offer_panel_day(view.family.key, on)
    if on is None and (line := reminder_line()):
        st.html(line)
    if on is None and (reminder := source.copy_reminder()):
        st.html(copies_note(reminder))
    tell_alarms(told, source.alarm_sentences(on))  # takes longest, so the board is drawn by then


def _open(view: BoardView, on: date | None) -> None:
    since = long_day(view.in_force_since, view.as_of)
    how = "in force since" if view.in_force_since <= view.as_of else "adopted later, on"
    rulebook = f"Rulebook: {view.rulebook}, {how} {since}"
    where = [whole_day(view.as_of), view.family.label, rulebook]
    st.html(opening(where, view.answer, view.catch, view.lead))
    if on is not None:
        back = board_address(family=view.family.key)
        st.html(other_day(whole_day(view.as_of), source.record_words(on), back))


def _offer(view: BoardView, on: date | None) -> None:
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        choose_family(view.families, view.family.key)
        choose_day(on)
    choose_record(on)
    name = f"board-{view.family.key}-{view.as_of.isoformat()}"
    with st.container(horizontal=True, gap="small"):
        st.download_button(
            "Take this board away as a table",
            data=lambda: board_csv(view),
            file_name=f"{name}.csv",
            mime="text/csv",
            on_click="ignore",
            width="stretch",
        )
        st.download_button(
            "Workbook (XLSX)",
            data=lambda: board_xlsx(view),
            file_name=f"{name}.xlsx",
            mime=XLSX,
            on_click="ignore",
        )
