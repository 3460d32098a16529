"""What a panel would miss as a table of numbers with bars, and as one small chart a compound."""

import re
from collections.abc import Sequence
from typing import Any, Final

import streamlit as st

from seatworthy.charts.dressing import dressed
from seatworthy.charts.misses import filled, misses_drawing, stands_high
from seatworthy.charts.palette import Shade
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.pages.record_charts import reader_shade
from seatworthy.phrases import multiple
from seatworthy.steps.miss_sentences import ends_of_hundred, hundredths
from seatworthy.steps.miss_views import Chance, MissRow, PanelFigures, Told
from seatworthy.steps.sentences import number_word

_WORDS: Final = {1.0: "threshold", 2.0: "twice", 3.0: "three times", 5.0: "five times"}
_CHART_PX: Final = 168


def told_html(where: Sequence[str], told: Told) -> str:
    """The top of the page; the part of the sentence that needs a person has its amber rule."""
    places = tag("div", "".join(tag("span", escaped(place)) for place in where), class_="where")
    catch = tag("em", escaped(_numbers_kept(told.catch))) if told.catch else ""
    start, rest = escaped(_numbers_kept(told.start)), escaped(_numbers_kept(told.rest))
    lead = tag("p", escaped(told.lead), class_="lead") if told.lead else ""
    return paper(places, tag("h1", start + catch + rest, class_="answer"), lead)


def misses_table(figures: PanelFigures, rows: Sequence[MissRow], beers: str) -> str:
    """Critical compounds as a table, the others folded away under it.

    Args:
        figures: The panel's numbers.
        rows: From the same.
        beers: The beer family inside a sentence.
    """
    critical = [row for row in rows if row.figures.is_critical]
    others = [row for row in rows if not row.figures.is_critical]
    parts = _table(figures, critical) if critical else ""
    if others:
        count = number_word(len(others)).capitalize()
        noun = "compound" if len(others) == 1 else "compounds"
        words = f"{count} more {noun}, not critical for {beers}"
        inside = tag("summary", escaped(words)) + _table(figures, others)
        parts += tag("details", inside, open=None if critical else "open")
    return parts


def _table(figures: PanelFigures, rows: Sequence[MissRow]) -> str:
    columns = "<col class=name>" + "<col>" * len(figures.levels) + "<col class=away>"
    heads = tag("th", "Would slip past,<br>in 100 such tanks", scope="col")
    heads += "".join(
        tag("th", tag("b", multiple(level)) + tag("span", _WORDS.get(level, "times")), scope="col")
        for level in figures.levels
    )
    away = tag("b", multiple(figures.level)) + "strongest nose away"
    heads += tag("th", away, scope="col", class_="away")
    body = "".join(_row(figures, row) for row in rows)
    parts = f"<colgroup>{columns}</colgroup>" + tag("thead", tag("tr", heads))
    return tag("table", parts + tag("tbody", body), class_="misses")


def _row(figures: PanelFigures, row: MissRow) -> str:
    item = row.figures
    note = tag("i", escaped(row.note)) if row.note else ""
    if row.away and item.is_critical and figures.is_over(item.without):
        without = f"without {row.away} {hundredths(item.without or 0)} at {multiple(figures.level)}"
        note += tag("i", escaped(without), class_="only-phone")
    cells = tag("th", tag("span", escaped(row.label)) + note, scope="row")
    if not item.slips:
        cells += tag("td", unseen("nothing is known"), colspan=len(figures.levels))
        cells += tag("td", "", class_="away")
    else:
        for level, chance in zip(figures.levels, item.slips, strict=True):
            is_over = item.is_critical and level >= figures.level and figures.is_over(chance.mean)
            cells += tag("td", _slip(chance, is_over=is_over))
        cells += tag("td", _without(figures, row), class_="away")
    return tag("tr", cells, class_="is-weak" if row.is_weak else None)


def _slip(chance: Chance, *, is_over: bool) -> str:
    ends = ends_of_hundred(chance)
    low, wide = 100 * chance.low, 100 * (chance.high - chance.low)
    bar = tag("span", style=f"width:{100 * chance.mean:.1f}%")
    bar += tag("i", style=f"left:{low:.1f}%;width:{wide:.1f}%") if wide >= 1 else ""
    words = unseen(", over the limit") if is_over else ""
    inside = tag("b", hundredths(chance.mean) + words) + tag("span", bar, class_="bar")
    return tag("div", inside + tag("small", ends), class_="slip is-over" if is_over else "slip")


def _without(figures: PanelFigures, row: MissRow) -> str:
    chance = row.figures.without
    if chance is None:
        return ""
    is_over = row.figures.is_critical and figures.is_over(chance)
    bar = tag("span", tag("span", style=f"width:{100 * chance:.1f}%"), class_="bar")
    inside = tag("b", hundredths(chance)) + bar
    who = tag("small", escaped(f"without {row.away}")) if row.away else ""
    return tag("div", inside + who, class_="slip is-over" if is_over else "slip")


def table_note(figures: PanelFigures) -> str:
    """How to read the table."""
    limit = f"{float(100 * figures.limit):g}"
    return (
        "Bars run from 0 to 100; the fine line and the two small numbers hold eight chances in ten. "
        f"Amber: more than {limit} in 100 at {multiple(figures.level)} and stronger, the limit chosen "
        f"here. At threshold half of the trained noses miss by definition."
    )


def show_charts(figures: PanelFigures, rows: Sequence[MissRow]) -> None:
    """One small chart for each critical compound of which something is known."""
    known = [row for row in rows if row.figures.is_critical and row.figures.slips]
    if not known or len(figures.people) < figures.callers:
        return
    shade = reader_shade()
    lines = tuple(row.figures.slips for row in known)
    with st.container(horizontal=True, gap="small"):
        for number, row in enumerate(known):
            with st.container(width=_CHART_PX, gap=None):
                weak = "small-head is-weak" if row.is_weak else "small-head"
                st.html(paper(tag("h3", escaped(row.label), class_=weak, title=row.label)))
                others = lines[:number] + lines[number + 1 :]
                spec = _spec(figures, lines[number], others, shade, is_weak=row.is_weak)
                alt = f"{row.label}: how often it slips past, by level. {row.note}."
                st.vega_lite_chart(spec=spec, theme=None, width="stretch", alt=alt)
    words = (
        "Up: more slips past. Thin lines: the other critical compounds. Band: eight chances in ten."
    )
    st.html(paper(tag("p", words, class_="note")))


def _spec(
    figures: PanelFigures,
    own: Sequence[Chance],
    others: Sequence[Sequence[Chance]],
    shade: Shade,
    *,
    is_weak: bool,
) -> dict[str, Any]:
    levels = figures.levels
    high = stands_high(own, levels, figures.level)
    drawing = _drawing(levels, shade, is_weak, bool(others), high)
    return filled(drawing, levels, own, others, figures.level)


@st.cache_resource(max_entries=64, show_spinner=False)
def _drawing(
    levels: tuple[float, ...],
    shade: Shade,
    is_weak: bool,
    has_others: bool,
    words_below: bool,
) -> dict[str, Any]:
    chart = misses_drawing(
        levels, shade, is_weak=is_weak, has_others=has_others, words_below=words_below
    )
    return dressed(chart, shade).to_dict()


def _numbers_kept(sentence: str) -> str:
    # "6 times in 10" must not be torn apart at the end of a line.
    return re.sub(r"(?<=\d) (?=\w)|(?<= in) (?=\d)", "\N{NO-BREAK SPACE}", sentence)
