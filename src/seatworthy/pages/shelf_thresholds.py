"""Working thresholds: what books say, what is ours, and many of ours stated at once."""

from collections.abc import Mapping, Sequence
from datetime import date
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.doubting import ask_again, record_unless_doubted
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import (
    author,
    books_range,
    cleared,
    compound_labels,
    family_labels,
    listing,
    ours_words,
    written,
)
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import shelf_amounts
from seatworthy.steps.concentrations import UNITS
from seatworthy.steps.shelf_amounts import TypedAmount
from seatworthy.steps.shelf_views import CompoundLine, ShelfView

_MEANING: Final = (
    "Books differ, and so do breweries: nothing is taken over from a book. Under New, type a number "
    "where you have chosen one, in the unit beside it, with a point or a comma. A family's own "
    "threshold goes before the one for all beers."
)
_MANY, _ONE = "thresholds", "threshold"  # places of the page
_ROUND = "thresholds_round"
_NEW = "ours"


def show_thresholds(view: ShelfView) -> None:
    """Many at once, then one in any unit, then all that stands."""
    st.html(paper(tag("h2", "State your thresholds"), tag("p", escaped(_MEANING), class_="note")))
    labels = {"": "All beers"} | family_labels(view.families)
    scope, since = st.columns(2)
    scope.selectbox("For", list(labels), format_func=labels.get, key="threshold_family")
    since.date_input(
        "Counts from", value=view.today, max_value=view.today, format="YYYY-MM-DD",
        min_value=date(1990, 1, 1), key="threshold_since",
    )  # fmt: skip
    _many(_in_order(view))
    with st.expander("One compound, in any unit"):
        _one(view)
    _all(view)


def _in_order(view: ShelfView) -> list[CompoundLine]:
    """Compounds that may be poured, critical ones first."""
    served = [line for line in view.compounds if line.is_served]
    return sorted(served, key=lambda line: not line.is_critical)


def _many(lines: Sequence[CompoundLine]) -> None:
    order = {line.key: line.unit for line in lines}
    # What was typed belongs to a row, so another order of rows is another table.
    key = f"many_{st.session_state.setdefault(_ROUND, 0)}_{hash(tuple(order))}"
    _editor(lines, key)
    typed = _typed(order, key)
    _note_past([one.compound for one in typed])
    many = "threshold" if len(typed) == 1 else "thresholds"
    st.button(
        f"Record {len(typed)} {many}" if typed else "Record thresholds",
        type="primary", disabled=not typed, key="record_many",
        on_click=_record_many, args=(order, key),
    )  # fmt: skip
    ask_again(_MANY, "They are meant so: record them", partial(_record_many, order, key))
    show_told(_MANY)


def _editor(lines: Sequence[CompoundLine], key: str) -> None:
    """The table to type into; numbers are texts in it, so that a comma will do."""
    column = partial(st.column_config.TextColumn, disabled=True)
    today = _today()
    st.data_editor(
        {
            "compound": [line.label for line in lines],
            _NEW: ["" for _ in lines],
            "unit": [line.unit for line in lines],
            "books": [books_range(line) for line in lines],
            "now": ["; ".join(ours_words(line, today)) for line in lines],
        },
        column_config={
            "compound": column("Compound", width=180),
            _NEW: st.column_config.TextColumn("New", max_chars=20, width=90),
            "unit": column("Unit", width=58),
            "books": column("Books say", width=150),
            "now": column("Ours today", width="large"),
        },
        hide_index=True, height=388, key=key,
        alt="Working thresholds: type your own into the column New",
    )  # fmt: skip


def _typed(order: Mapping[str, str], key: str) -> tuple[TypedAmount, ...]:
    """The numbers typed into the table, as they were typed."""
    compounds = list(order)
    edited = st.session_state.get(key, {}).get("edited_rows", {})
    found = ((compounds[int(row)], str(cells.get(_NEW) or "")) for row, cells in edited.items())
    return tuple(
        TypedAmount(compound, number.strip(), order[compound])
        for compound, number in found
        if number.strip()
    )


def _record_many(order: Mapping[str, str], key: str) -> None:
    if _record(_MANY, _typed(order, key)):
        st.session_state[_ROUND] += 1


def _one(view: ShelfView) -> None:
    labels = compound_labels(view)
    with st.form("threshold", border=False):
        compound, number, unit = st.columns([2, 1, 1])
        compound.selectbox(
            "Compound", list(labels), index=None, format_func=labels.get,
            placeholder="Choose a compound", key="threshold_compound",
        )  # fmt: skip
        number.text_input("Threshold", max_chars=20, key="threshold_number")
        unit.selectbox("Unit", list(UNITS), index=1, key="threshold_unit")
        st.form_submit_button("Record the threshold", on_click=_record_one)
    ask_again(_ONE, "It is meant so: record it", _record_one)
    show_told(_ONE)


def _record_one() -> None:
    compound = written("threshold_compound")
    one = TypedAmount(compound, written("threshold_number"), written("threshold_unit"))
    if _record(_ONE, (one,) if compound else ()):
        cleared("threshold_number")


def _record(place: str, typed: tuple[TypedAmount, ...]) -> bool:
    family, since = written("threshold_family"), st.session_state["threshold_since"] or _today()
    step = partial(
        shelf_amounts.record_thresholds, source.the_desk(), typed, family, since,
        is_sure=True, by=author(),
    )  # fmt: skip
    doubts = shelf_amounts.doubts(source.the_desk(), typed)
    return record_unless_doubted(place, (typed, family, since), doubts, lambda: act(place, step))


def _note_past(compounds: Sequence[str]) -> None:
    since = st.session_state["threshold_since"] or _today()
    note = shelf_amounts.past_levels(
        source.the_desk(), compounds, since, family=written("threshold_family")
    )
    if note:
        st.html(paper(tag("p", escaped(note), class_="ask")))


def _all(view: ShelfView) -> None:
    """The critical compounds and those with a threshold of ours; the others folded away."""
    first = [line for line in view.compounds if line.is_critical or line.ours]
    others = [line for line in view.compounds if line not in first]
    first.sort(key=lambda line: not line.is_critical)
    head = tag("h2", "What is ours, and what books say")
    st.html(paper(head, _table(first, view.today), class_="proof"))
    with st.expander(f"What books say of the other {len(others)} compounds"):
        st.html(paper(_table(others, view.today)))


def _table(lines: Sequence[CompoundLine], today: date) -> str:
    heads = ("Compound", "Ours", "Books say", "Where that stands")
    return listing(heads, [_row(line, today) for line in lines])


def _row(line: CompoundLine, today: date) -> tuple[str, ...]:
    notes = [line.descriptors, "critical" if line.is_critical else ""]
    notes += [] if line.is_served else ["not to be served; vocabulary only"]
    name = escaped(line.label) + tag("i", escaped("; ".join(filter(None, notes))))
    book = escaped(books_range(line)) + tag("i", escaped(line.how_known))
    ours = "".join(_ours(words) for words in ours_words(line, today))
    return name, ours, book, tag("i", escaped(line.source))


def _ours(words: str) -> str:
    """One threshold of ours, with its day and beers below it."""
    value, _, rest = words.partition(" since ")
    return tag("div", escaped(value) + tag("i", escaped(f"since {rest}")))


def _today() -> date:
    return source.the_desk().today()
