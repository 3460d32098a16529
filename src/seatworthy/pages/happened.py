"""Everything that was ever recorded: act by act, to be searched and taken away."""

from collections.abc import Callable
from datetime import date
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import copies_note, opening, paper
from seatworthy.pages.markup import escaped, plain_markdown, tag
from seatworthy.pages.shelf_parts import listing
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import history_lines as history_steps
from seatworthy.steps.chain_head import what_it_proves
from seatworthy.steps.history_exports import history_csv, history_json, history_xlsx
from seatworthy.steps.history_views import HistoryLine, HistoryView
from seatworthy.steps.history_words import GROUP_LABELS
from seatworthy.steps.spreadsheet import XLSX

_SHOWN: Final = 200
_DIGITS: Final = 12
_HEADS: Final = ("Entry", "When", "What happened", "By", "Facts", "Digest")


def show() -> None:
    """Draw the sentence, what to look for, and the acts that were found."""
    place = st.container()
    view = history_steps.history_lines(source.the_desk(), **_asked())
    with place:
        st.html(
            opening(["History", f"times of {view.time_zone}"], view.answer, view.catch, view.lead)
        )
        _offer_filters(view)
        _offer_files(view)
    st.html(
        paper(
            _table(view),
            tag("p", escaped(what_it_proves("these files")), class_="note"),
            class_="proof",
        )
    )
    st.html(copies_note(source.copy_reminder()))


def _asked() -> dict[str, object]:
    """What the widgets of the last run say; nothing on the first."""
    return {
        "kinds": tuple(st.session_state.get("history_kinds") or ()),
        "who": st.session_state.get("history_who"),
        "since": st.session_state.get("history_since"),
        "until": st.session_state.get("history_until"),
        "words": st.session_state.get("history_words") or "",
    }


def _offer_filters(view: HistoryView) -> None:
    groups = {choice.key: plain_markdown(choice.label) for choice in view.groups}
    st.pills(
        "Kinds of acts (none chosen: all)", list(groups), format_func=groups.get,
        selection_mode="multi", key="history_kinds",
    )  # fmt: skip
    names = labels_told_apart(view.people)
    who, words, since, until = st.columns([1.5, 1.5, 1, 1])
    who.selectbox(
        "Somebody, as author or concerned", list(names), index=None, format_func=names.get,
        placeholder="Everybody", key="history_who",
    )  # fmt: skip
    words.text_input("Words", placeholder="any word, number or digest", key="history_words")
    for column, label, key in ((since, "From", "history_since"), (until, "To", "history_until")):
        column.date_input(
            label, value=None, format="YYYY-MM-DD", min_value=date(1990, 1, 1), key=key
        )


def _offer_files(view: HistoryView) -> None:
    start = f"history-to-entry-{view.head.entry_no}"
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        for words, kind, mime, made in _FILES:
            _download(words, lambda made=made: made(view), f"{start}.{kind}", mime)


_FILES: Final[tuple[tuple[str, str, str, Callable[[HistoryView], bytes]], ...]] = (
    ("These acts as CSV", "csv", "text/csv", history_csv),
    ("As a workbook (XLSX)", "xlsx", XLSX, history_xlsx),
    ("These acts as JSON", "json", "application/json", history_json),
)


def _download(words: str, made: Callable[[], bytes], name: str, mime: str) -> None:
    st.download_button(words, data=made, file_name=name, mime=mime, on_click="ignore")


def _table(view: HistoryView) -> str:
    if not view.lines:
        return tag("p", "Nothing on record answers to that.")
    today = view.made_at.date()
    table = listing(_HEADS, [_row(line, today) for line in view.lines[:_SHOWN]], "acts")
    older = len(view.lines) - _SHOWN
    note = f"{older} older ones are not shown; the files hold them all."
    return table + (tag("p", note, class_="note") if older > 0 else "")


def _row(line: HistoryLine, today: date) -> tuple[str, ...]:
    day = tag("span", short_day(line.recorded_at.date(), today), class_="day")
    moment = day + tag("i", f"{line.recorded_at:%H:%M}")
    what = escaped(line.what) + tag("i", escaped(GROUP_LABELS[line.group]))
    digest = tag("code", escaped(line.digest[:_DIGITS]), title=line.digest)
    return str(line.entry_no), moment, what, escaped(line.who), str(line.facts), digest
