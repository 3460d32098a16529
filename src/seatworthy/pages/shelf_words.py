"""What words mean: own words that wait for a meaning, and every wording of a compound."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.doubting import ask_again, record_unless_doubted
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import cleared, compound_labels, listing, written
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import shelf_words
from seatworthy.steps.shelf_views import ShelfView
from seatworthy.steps.words import NO_COMPOUND

_MEANING: Final = (
    "Until somebody says what own words mean, their glasses count neither way. Said once, it holds for "
    "answers past and to come."
)
_NAMES_NONE: Final = "No compound: a wrong name"


def show_words(view: ShelfView) -> None:
    """Open words first, then a wording more, then all that stand."""
    labels = {NO_COMPOUND: _NAMES_NONE} | compound_labels(view)
    waiting = {own.words: f"“{own.words}”, {_times(own.answers)}" for own in view.open_words}
    head = "Own words that wait for a meaning" if waiting else "No own words wait for a meaning"
    st.html(paper(tag("h2", head), tag("p", escaped(_MEANING), class_="note")))
    if waiting:
        _form("open_words", waiting, labels)
    else:
        show_told("open_words")
    st.html(paper(tag("h2", "Another wording")))
    _form("new_words", {}, labels)
    st.html(paper(tag("h2", "Wordings that name a compound"), _table(view), class_="proof"))


def _form(place: str, waiting: dict[str, str], labels: dict[str, str]) -> None:
    with st.form(place, border=False):
        words, compound = st.columns(2)
        if waiting:
            words.selectbox("Words", list(waiting), format_func=waiting.get, key=f"{place}_said")
        else:
            words.text_input("Words", max_chars=120, key=f"{place}_said")
        compound.selectbox(
            "They mean", list(labels), index=None, format_func=labels.get,
            placeholder="Choose a compound, or none", key=f"{place}_mean",
        )  # fmt: skip
        st.form_submit_button("Say so", on_click=_record, args=(place,))
    ask_again(place, "Give them the new meaning", partial(_record, place))
    show_told(place)


def _record(place: str) -> None:
    desk = source.the_desk()
    words, meant = written(f"{place}_said"), written(f"{place}_mean")
    other = shelf_words.other_meaning(desk, words, meant) if meant else ""
    step = partial(shelf_words.give_meaning, desk, words, meant, again=True)
    doubts = [other] if other else []
    if record_unless_doubted(place, (words, meant), doubts, lambda: act(place, step)) and (
        place == "new_words"
    ):
        cleared(f"{place}_said")


def _times(answers: int) -> str:
    return "in one answer" if answers == 1 else f"in {answers} answers"


def _table(view: ShelfView) -> str:
    rows = [
        (escaped(line.label), escaped(", ".join(line.synonyms)))
        for line in view.compounds
        if line.synonyms
    ]
    if view.silent_words:
        rows.append((tag("i", "no compound"), escaped(", ".join(view.silent_words))))
    return listing(("Compound", "Also called"), rows)
