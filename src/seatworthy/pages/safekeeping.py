"""Safekeeping: whether the record is safe, where its copies lie, and how to make one more."""

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import HISTORY
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import listing
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import plain_copy, safety
from seatworthy.steps.desk import Desk
from seatworthy.steps.last_copy import CopyLine
from seatworthy.steps.places import place_warnings

_DONE: Final = "safekeeping"
_SHOWN: Final = 40
_HEADS: Final = ("Made", "Why", "Holds", "Size", "Is it good?")
_BACK: Final = (
    "To go back to one, stop Seatworthy and type seatworthy restore: it lists the copies and what to "
    "type next. The copy is checked first, and what lies there now is moved aside, not overwritten."
)
_PLAIN: Final = (
    "The plain copy holds every table as CSV and Parquet, with a README by which it can be read in twenty "
    "years without Seatworthy. Tables for a spreadsheet are offered on the other pages."
)


def show() -> None:
    """Draw the sentence, what can be done, and every copy."""
    desk = source.the_desk()
    with st.spinner("Reading the newest copy"):
        view = safety.safety(desk)
    st.html(
        opening(["Safekeeping", f"times of {view.time_zone}"], view.answer, view.catch, view.lead)
    )
    show_told(_DONE)
    _offer(desk)
    warnings = [tag("p", escaped(line), class_="ask") for line in place_warnings(desk.store.path)]
    history = tag("a", "To the history", href=HISTORY, target="_self")
    st.html(
        paper(
            *warnings,
            tag("h2", "Copies of this record"),
            _table(desk, view),
            *(
                tag("p", escaped(line), class_="note")
                for line in (
                    f"They lie in {view.folder}. {view.keep_rule}",
                    view.elsewhere,
                    _BACK,
                    _PLAIN,
                )
            ),
            tag("p", history, class_="ways"),
            class_="proof",
        )
    )


def _offer(desk: Desk) -> None:
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        if st.button("Back up now", type="primary"):
            _do("Writing a copy and comparing it", partial(safety.back_up_now, desk))
        if st.button("Read and check everything again"):
            _do("Reading everything again", partial(safety.check_all, desk))
        st.download_button(
            "Take a plain copy away (ZIP)",
            data=lambda: plain_copy.plain_zip(desk),
            file_name=f"{plain_copy.plain_name(desk)}.zip",
            mime="application/zip",
            on_click="ignore",
        )


def _do(meanwhile: str, step: Callable[[], str]) -> None:
    """Take a step that may last, then draw the page anew with what it said."""
    with st.spinner(meanwhile):
        act(_DONE, step)
    st.rerun()


def _table(desk: Desk, view: safety.SafetyView) -> str:
    if not view.copies:
        return tag("p", "None yet. One is made after every close, and whenever you ask for it.")
    rows = [_row(desk, copy, desk.today()) for copy in view.copies[:_SHOWN]]
    older = len(view.copies) - _SHOWN
    note = tag("p", f"{older} older ones are not listed.", class_="note") if older > 0 else ""
    return listing(_HEADS, rows, "acts") + note


def _row(desk: Desk, copy: CopyLine, today: date) -> tuple[str, ...]:
    made = copy.made_at.astimezone(desk.time_zone)
    day = tag("span", short_day(made.date(), today), class_="day") + tag("i", f"{made:%H:%M}")
    holds = f"up to entry {copy.last_entry[0]}" if copy.last_entry else "nobody knows"
    state = (
        "not read again yet" if not copy.is_read else escaped(copy.fault or "good: read and equal")
    )
    name = tag("i", escaped(copy.path.name))
    return day, escaped(copy.why) + name, holds, f"{copy.size_mb:.1f} MB", state
