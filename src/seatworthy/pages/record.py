"""One panellist's record: where they stand on every compound, why, and what would change it."""

from datetime import date

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import (
    asked_day,
    asked_word,
    board_address,
    kept_address,
    record_address,
)
from seatworthy.pages.asking_again import show_nothing_yet
from seatworthy.pages.audit_files import offer_competence
from seatworthy.pages.choices import choose_day, choose_family, choose_person, choose_record
from seatworthy.pages.figures import long_day, whole_day
from seatworthy.pages.frame import opening, other_day, paper, tell_alarms
from seatworthy.pages.marks import key_to_marks
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.reason_tree import reason_tree
from seatworthy.pages.record_beers import beers_known
from seatworthy.pages.record_charts import choose_row, reader_shade, show_mixups, show_threshold
from seatworthy.pages.record_closer import glasses_table
from seatworthy.pages.record_figures import figures_table
from seatworthy.pages.record_history import history_words, ratings_table, show_run_of_days
from seatworthy.pages.record_table import record_table, rules_table
from seatworthy.phrases import (
    CHOOSE_SOMEBODY,
    HOW_TO_READ_A_STRIP,
    HOW_TO_READ_WEIGHTS,
    NOBODY_HERE,
)
from seatworthy.steps.figures_views import PersonFigures
from seatworthy.steps.labels import first_names
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.views import RecordView


def show() -> None:
    """Draw the record of the person, family and day that the address names."""
    who, family, on = asked_word("who"), asked_word("family"), asked_day()
    view = source.record_view(who, family, on) if who else None
    if view is None:
        _show_people(NOBODY_HERE if who else CHOOSE_SOMEBODY, family, on)
        return
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        _open(view, on)
    told = st.empty()
    with choices:
        choose_person(view.people, view.person.person_id)
        with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
            choose_family(view.families, view.family.key)
            choose_day(on)
        choose_record(on)
    st.html(_proof(view, on))
    _show_details(view, on)
    figures = source.figures_of(view.person.person_id, on)
    if figures is not None:
        tell_alarms(told, [figures.alarm] if figures.alarm else [])
        if beers := beers_known(figures.beers):
            st.html(beers)
        _show_figures(view, figures)
    offer_competence(view.person.person_id, view.family.key, on)
    kept = kept_address(view.person.person_id)
    way = tag("a", "What is kept about them, and their copy", href=kept, target="_self")
    st.html(paper(tag("p", way, class_="ways")))


def _show_people(sentence: str, family: str | None, on: date | None) -> None:
    board = source.board_view(family, on)
    if board.start_here:
        show_nothing_yet(board.start_here, on)
        return
    rows = []
    for person in board.people:
        address = record_address(person.person_id, family=board.family.key, on=on)
        rows.append(tag("li", tag("a", escaped(person.name), href=address, target="_self")))
    back = tag("a", "Back to the board", href=board_address(family=family, on=on), target="_self")
    head = tag("h1", escaped(sentence), class_="answer")
    lead = tag("p", f"These are on record. {back}", class_="lead")
    st.html(paper(head, lead, tag("ul", "".join(rows), class_="people")))


def _open(view: RecordView, on: date | None) -> None:
    st.html(opening(_where(view), view.answer, view.catch, view.lead))
    if view.unfit:
        st.html(paper(tag("p", escaped(view.unfit), class_="note")))
    if on is not None:
        back = record_address(view.person.person_id, family=view.family.key)
        st.html(other_day(whole_day(view.as_of), source.record_words(on), back))


def _where(view: RecordView) -> list[str]:
    since = f", on record since {long_day(view.since, view.as_of)}" if view.since else ""
    blanks = f"{_counted(view.blanks, 'blank')}, {_counted(view.false_calls, 'false call')}"
    if view.possible_background:
        blanks += f", {view.possible_background} more the base beer may explain"
    sessions = f"{view.sessions_attended} of {view.sessions_offered} sessions"
    if view.last_seen:
        sessions += f", last on {long_day(view.last_seen, view.as_of)}"
    return [view.person.name + since, view.family.label, blanks, sessions]


def _proof(view: RecordView, on: date | None) -> str:
    names = first_names({person.key: person.label for person in view.people})
    short_name = names.get(view.person.person_id, view.person.name)
    note = tag("p", escaped(HOW_TO_READ_A_STRIP), class_="note")
    rules = tag("h2", "The seat and its reasons") + _reasons(view) if view.rules else ""
    table = record_table(view, on, short_name)
    return paper(table, key_to_marks(with_ear=False), note, rules, class_="proof")


def _reasons(view: RecordView) -> str:
    """The seat's reasons, opened step by step; the rules alone where they were not asked for."""
    return rules_table(view.rules) if view.reasons is None else reason_tree(view.reasons)


def _show_details(view: RecordView, on: date | None) -> None:
    row = choose_row(view)
    closer = row and source.closer_view(view.person.person_id, row.compound, view.family.key, on)
    threshold, mixups = st.columns(2, gap="large")
    with threshold:
        if row:
            show_threshold(row, closer, view.as_of)
    with mixups:
        show_mixups(view.mixups, view.mixed_up)
    if closer:
        with st.expander(f"The glasses behind {in_sentence(closer.label)}"):
            note = tag("p", escaped(HOW_TO_READ_WEIGHTS), class_="note")
            st.html(paper(glasses_table(closer, view.as_of), note))


def _show_figures(view: RecordView, figures: PersonFigures) -> None:
    if not any(row.history for row in view.rows) and not figures.ratings:
        return
    with st.expander("Plain figures, for an auditor"):
        st.html(paper(figures_table(view.rows), tag("p", escaped(_FIGURES_NOTE), class_="note")))
        show_run_of_days(figures.history, reader_shade())
        ratings = ratings_table(figures.ratings) if figures.ratings else ""
        st.html(paper(history_words(figures.history, view.as_of), ratings))


_FIGURES_NOTE = (
    "Shares in percent, over all counted glasses. Wilson and Jeffreys: two common 95% limits of the "
    "share named right; exact: limits that never cover too seldom (Clopper-Pearson). Run: counted "
    "glasses one after the other between Wald's lines for 55% and 85% right, errors of 10% each, after "
    "ISO 16820; looked at, it decides nothing here. Sets: forced-choice sets (3-AFC, triangle, duo-trio, 2-AFC); p is the exact "
    "chance of at least so many right by guessing. Best-estimate threshold: the latest ascending "
    "series, after ASTM E679, in multiples of the working threshold."
)


def _counted(number: int, thing: str) -> str:
    return f"{number} {thing}{'' if number == 1 else 's'}"
