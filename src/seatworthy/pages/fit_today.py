"""Fit today: who can be asked about which compound, as brewers see it."""

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import asked_word
from seatworthy.pages.choices import choose_family
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.steps import fit_today
from seatworthy.steps.brewer_views import FITNESS_WORDS, FitCell, FitRow, FitView
from seatworthy.steps.roles import AROUND_A_TABLE

# A glass full, turned over, not yet filled: the shapes of the marks, without what they stand for
# on the leader's board.
_MARKS = {"asked": "met", "not": "not_met", "untested": "too_little"}

_FIGURES = "Beside a mark: how many of the counted glasses were named right."


def show() -> None:
    """Draw the page for the family that the address names."""
    view = fit_today.fit_today(source.the_desk(), asked_word("family"))
    if view.empty:
        st.html(opening(["Fit today"], view.empty, "", view.lead))
        return
    sentence, choice = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        where = ["Fit today", view.family.label]
        st.html(opening(where, view.answer, view.catch, view.lead))
    with choice:
        choose_family(view.families, view.family.key)
    if view.rows:
        st.html(paper(_key(), _table(view), _list(view), _below(view), class_="proof"))


def _below(view: FitView) -> str:
    """What the figures are, where there are any, and the way on."""
    has_figures = any(cell.figures for row in view.rows for cell in row.cells)
    note = tag("p", escaped(_FIGURES), class_="note") if has_figures else ""
    way = tag("a", "Say who is at the table", href=AROUND_A_TABLE, target="_self", class_="way")
    return note + tag("p", way, class_="ways")


def _table(view: FitView) -> str:
    heads = tag("th", "Compound", scope="col")
    heads += "".join(tag("th", escaped(name), scope="col") for name in view.people)
    body = "".join(_row(row) for row in view.rows if row.is_critical)
    more = "".join(_row(row) for row in view.rows if not row.is_critical)
    if more:
        words = tag("th", "Not critical", colspan=len(view.people) + 1, scope="rowgroup")
        more = tag("tr", words, class_="section") + more
    table = tag("table", tag("thead", tag("tr", heads)) + tag("tbody", body + more), class_="fit")
    return tag("div", table, class_="across")


def _row(row: FitRow) -> str:
    cells = "".join(tag("td", _cell(cell)) for cell in row.cells)
    return tag("tr", tag("th", escaped(row.label), scope="row") + cells)


def _cell(cell: FitCell) -> str:
    words = unseen(FITNESS_WORDS[cell.fitness])
    figures = tag("small", escaped(cell.figures)) if cell.figures else ""
    return mark(_MARKS[cell.fitness]) + words + figures


def _key() -> str:
    entries = [
        tag("span", mark(_MARKS[fitness]) + escaped(words))
        for fitness, words in FITNESS_WORDS.items()
    ]
    return tag("div", "".join(entries), class_="key")


def _list(view: FitView) -> str:
    """The same for a narrow screen: compound by compound, who stands where."""
    lists = _items(view, is_critical=True)
    if more := _items(view, is_critical=False):
        lists += tag("h2", "Not critical") + more
    return tag("div", lists, class_="lists")


def _items(view: FitView, *, is_critical: bool) -> str:
    items = "".join(_item(view, row) for row in view.rows if row.is_critical == is_critical)
    return tag("ul", items) if items else ""


def _item(view: FitView, row: FitRow) -> str:
    name = tag("span", escaped(row.label), class_="name")
    lines = []
    for fitness, words in FITNESS_WORDS.items():
        who = [
            f"{person} ({cell.figures})" if cell.figures else person
            for person, cell in zip(view.people, row.cells, strict=True)
            if cell.fitness == fitness
        ]
        if who:
            said = mark(_MARKS[fitness]) + escaped(f"{words}: {', '.join(who)}")
            lines.append(tag("span", said, class_="below"))
    return tag("li", tag("div", name + "".join(lines), class_="line"))
