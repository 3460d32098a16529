"""One compound with all that is known of it, and compounds of the brewery's own."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import (
    author,
    books_range,
    cleared,
    compound_labels,
    ours_words,
    written,
)
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import shelf_words
from seatworthy.steps.concentrations import UNITS
from seatworthy.steps.shelf_views import CompoundLine, ShelfView

_FIRST: Final = (
    "Food-grade compounds only. Local codes and the compound's own safety data sheet come before "
    "anything that stands here."
)


def show_compounds(view: ShelfView) -> None:
    """Choose a compound, read of it; add one that is missing."""
    labels = compound_labels(view)
    st.html(paper(tag("h2", "One compound")))
    st.selectbox("Compound", list(labels), format_func=labels.get, key="read_compound")
    line = next(line for line in view.compounds if line.key == written("read_compound"))
    st.html(paper(_details(line, view), tag("p", escaped(_FIRST), class_="note")))
    st.html(paper(tag("h2", "Add a compound of your own")))
    with st.form("own", border=False):
        name, smell, unit = st.columns([2, 2, 1])
        name.text_input("Its name", max_chars=60, key="own_name")
        smell.text_input(
            "What it smells of, words parted by commas", max_chars=120, key="own_smell"
        )
        unit.selectbox("Unit of its amounts", list(UNITS), index=1, key="own_unit")
        st.form_submit_button("Add the compound", on_click=_add)
    show_told("own")


def _details(line: CompoundLine, view: ShelfView) -> str:
    told = (
        ("Smells of", line.descriptors),
        ("Serving", line.serve),
        ("Keeps, once dosed", line.keeping),
        ("Care", line.safety),
        ("Comes from", line.cause),
        ("Books say", books_range(line)),
        ("How that is known", line.how_known),
        ("Where it stands", line.source),
        ("Ours", "; ".join(ours_words(line, view.today))),
        ("Chemical name", line.chemical_name),
        ("CAS number", line.cas),
        ("Also called", ", ".join(line.synonyms)),
    )
    rows = [tag("dt", head) + tag("dd", escaped(words)) for head, words in told if words]
    warning = tag("p", "Not to be served; vocabulary only.", class_="not-today")
    return ("" if line.is_served else warning) + tag("dl", "".join(rows))


def _add() -> None:
    step = partial(
        shelf_words.add_compound,
        source.the_desk(),
        written("own_name"),
        written("own_smell"),
        written("own_unit"),
        by=author(),
    )
    if act("own", step):
        cleared("own_name", "own_smell")
