"""What this panel needs of each compound, beside the working threshold and the book's range."""

from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import listing
from seatworthy.phrases import multiple
from seatworthy.steps.panel_needs import FAR, FEWEST_PEOPLE, PanelNeed, panel_needs
from seatworthy.steps.shelf_views import ShelfView

_HEADS: Final = ("Compound", "This panel needs", "Ours", "Books say", "E679 group")
_MEANING: Final = (
    "The threshold that half of this panel lies below, from all glasses of this family, with its "
    "nine-in-ten range, as a multiple of the working threshold in force. A number far from 1 means that "
    "3× is not what it says for these people: look at the stock and the method first, then at the "
    f"number. Amber: the whole range lies more than {FAR:g} times off. E679 group: geometric mean of the latest common 3-AFC series, after ASTM E679: coarse, from a few sets, and "
    "picked rather than named."
)
_NOTHING: Final = (
    f"A compound stands here once {FEWEST_PEOPLE} people have tasted it in this family."
)


def show_panel(view: ShelfView) -> None:
    """One row a compound; those whose whole range is far from the working threshold first."""
    with st.spinner("Counting glasses"):
        needs = panel_needs(source.the_desk(), view.family)
    head = tag("h2", "What this panel needs")
    if not needs:
        st.html(paper(head, tag("p", escaped(_NOTHING))))
        return
    note = tag("p", escaped(_MEANING), class_="note")
    rows = [_row(need) for need in needs]
    st.html(paper(head, note, listing(_HEADS, rows, class_="needs"), class_="proof"))


def _row(need: PanelNeed) -> tuple[str, ...]:
    flag = tag("p", escaped("far from the working threshold"), class_="suspicion")
    name = escaped(need.label) + (flag if need.is_far else "")
    own = escaped(need.threshold) + tag("i", escaped(need.amount))
    best = (
        ""
        if need.best_estimate is None
        else f"{multiple(need.best_estimate)}, {need.best_estimate_people} people"
    )
    people = tag("i", escaped(f"{need.people} people"))
    return name + people, own, escaped(need.working), escaped(need.book), escaped(best)
