"""Around the table: what those who are here cover, as brewers see it."""

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import asked_word
from seatworthy.pages.choices import choose_family
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import around_table
from seatworthy.steps.brewer_views import TableRow, TableView
from seatworthy.steps.roles import WEIGHED

_STATES = {
    "enough": ("met", "enough can be asked"),
    "thin": ("too_little", "too few can be asked"),
    "nobody": ("not_met", "nobody here can be asked"),
}


def show() -> None:
    """Draw the page for the family that the address names, and for those who are said to be here."""
    top = st.container()
    everybody = around_table.around_table(source.the_desk(), asked_word("family"))
    if everybody.empty:
        top.html(opening(["Around the table"], everybody.empty, "", everybody.lead))
        return
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        choose_family(everybody.families, everybody.family.key)
        here = _choose_here(everybody)
    view = around_table.around_table(source.the_desk(), everybody.family.key, here)
    top.html(opening(["Around the table", view.family.label], view.answer, view.catch, view.lead))
    if view.rows and view.people:
        way = tag("a", "Weigh what they said", href=WEIGHED, target="_self", class_="way")
        st.html(paper(_table(view), tag("p", way, class_="ways"), class_="proof"))


def _choose_here(view: TableView) -> list[str]:
    names = labels_told_apart(view.people)
    if not names:
        return []
    key = f"here_{view.family.key}"
    st.session_state.setdefault(key, list(names))
    return st.multiselect(
        "Who is at the table", list(names), format_func=names.get, key=key, wrap=True,
        filter_mode="contains", select_all=False, placeholder="Choose everybody who is here",
    )  # fmt: skip


def _table(view: TableView) -> str:
    heads = ("Critical compound", "At this table", "Who can be asked", "Could be asked, not here")
    head = "".join(tag("th", escaped(words), scope="col") for words in heads)
    body = "".join(_row(row) for row in view.rows)
    return tag("table", tag("thead", tag("tr", head)) + tag("tbody", body), class_="listing cover")


def _row(row: TableRow) -> str:
    shape, words = _STATES[row.state]
    state = mark(shape) + tag("span", escaped(words))
    cells = tag("td", state)
    cells += tag("td", escaped(", ".join(row.here)), data_head="can be asked:")
    cells += tag("td", escaped(", ".join(row.elsewhere)), data_head="could be asked, not here:")
    return tag("tr", tag("th", escaped(row.label), scope="row") + cells)
