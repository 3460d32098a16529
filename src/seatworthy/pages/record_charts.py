"""A record's two charts with the words that belong to them."""

from datetime import date
from typing import Any

import streamlit as st

from seatworthy.charts.dressing import dressed
from seatworthy.charts.mixups import MOST_DRAWN, NOTHING, heaviest, mixups_chart
from seatworthy.charts.palette import Shade
from seatworthy.charts.threshold import threshold_chart
from seatworthy.pages.addresses import asked_word
from seatworthy.pages.choices import choose_compound
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.record_closer import closer_lines
from seatworthy.phrases import HOW_TO_READ_GLASSES, NO_MIXUPS
from seatworthy.steps.closer_views import CloserView
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.views import Choice, GlassView, Mixup, RecordRow, RecordView, ThresholdPoint

_ATTENTION = ("not_met", "too_little", "insensitive", "met", "no_glasses")


def reader_shade() -> Shade:
    """Whether the reader's browser shows the light or the dark page."""
    return "dark" if st.context.theme.type == "dark" else "light"


def choose_row(view: RecordView) -> RecordRow | None:
    """Let the reader choose a compound with glasses; None where there is none."""
    rows = [row for row in view.rows if row.history]
    if not rows:
        return None
    asked = asked_word("compound")
    row = next((row for row in rows if row.compound == asked), row_for_attention(rows))
    choose_compound([Choice(row.compound, row.label) for row in rows], row.compound)
    return row


def show_threshold(row: RecordRow, closer: CloserView | None, as_of: date) -> None:
    """The verdict, what the answers say, and the threshold over time with every glass."""
    st.html(_threshold_words(row, closer))
    curve = closer.curve if closer else ()
    if curve or any(glass.level is not None for glass in row.history):
        shade = reader_shade()
        spec = _threshold_spec(curve, row.history, as_of, shade)
        alt = f"{row.label}: threshold over time and every glass"
        st.vega_lite_chart(spec=spec, theme=None, width="stretch", alt=alt)
    st.html(paper(_threshold_note(row)))


def show_mixups(mixups: tuple[Mixup, ...], mixed_up: tuple[str, ...]) -> None:
    """What was taken for what in the last 12 months; what is sure enough to be told stands below."""
    with st.container(gap="small"):
        if not mixups:
            st.html(paper(tag("h2", "Mix-ups"), tag("p", escaped(NO_MIXUPS))))
            return
        head = _mixups_head(heaviest(mixups))
        st.html(paper(tag("h2", escaped(head)), _mixups_note(len(mixups))))
        shade = reader_shade()
        alt = f"Lines from what was in the glass to what was said. {head}."
        spec = _mixups_spec(mixups, shade)
        st.vega_lite_chart(spec=spec, theme=None, width="stretch", alt=alt)
        if mixed_up:
            lines = "".join(tag("li", escaped(sentence)) for sentence in mixed_up)
            st.html(paper(tag("ul", lines, class_="care")))


def row_for_attention(rows: list[RecordRow]) -> RecordRow:
    """The row a reader should see first: critical before others, not met before unknown."""
    return min(
        rows,
        key=lambda row: (
            not row.is_critical,
            not row.cell.is_due_soon and row.cell.standing == "met",
            _ATTENTION.index(row.cell.standing),
        ),
    )


# Altair checks a chart against its whole schema, which takes longer than all the rest of a page;
# what it made is kept, and a reader's next click costs nothing.
@st.cache_data(max_entries=256, show_spinner=False)
def _threshold_spec(
    points: tuple[ThresholdPoint, ...], glasses: tuple[GlassView, ...], as_of: date, shade: Shade
) -> dict[str, Any]:
    return dressed(threshold_chart(points, glasses, as_of, shade), shade).to_dict()


@st.cache_data(max_entries=256, show_spinner=False)
def _mixups_spec(mixups: tuple[Mixup, ...], shade: Shade) -> dict[str, Any]:
    return dressed(mixups_chart(mixups, shade), shade).to_dict()


def _threshold_words(row: RecordRow, closer: CloserView | None) -> str:
    head = closer.head if closer else f"{row.label}, glass by glass"
    lines = closer_lines(closer) if closer else ""
    return paper(tag("h2", escaped(head)), tag("p", escaped(row.cell.sentence)), lines)


def _threshold_note(row: RecordRow) -> str:
    without = sum(glass.level is None for glass in row.history)
    unplaced = f" {without} of its glasses had no known level and aren't drawn." if without else ""
    return tag("p", escaped(HOW_TO_READ_GLASSES + unplaced), class_="note")


def _mixups_head(mixup: Mixup | None) -> str:
    if mixup is None:
        return "Mix-ups and misses"
    if mixup.said == NOTHING:
        return f"Missed most often: {in_sentence(mixup.served)}"
    return f"Takes {in_sentence(mixup.served)} for {in_sentence(mixup.said)}"


def _mixups_note(count: int) -> str:
    more = f" The {MOST_DRAWN} most frequent of {count} are drawn." if count > MOST_DRAWN else ""
    words = f"Wrong names and misses in the last 12 months, in glasses.{more}"
    return tag("p", escaped(words), class_="note")
