"""Another rulebook: written or taken from the menu, tried on today's glasses, adopted with a PIN."""

from functools import partial

import streamlit as st

from seatworthy.errors import RulebookRefused
from seatworthy.pages import source
from seatworthy.pages.frame import paper, refusal
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.rulebook_odds import show_odds
from seatworthy.pages.rulebook_words import read_out
from seatworthy.pages.shelf_parts import listing, written
from seatworthy.pages.signature import choose_signer, signature
from seatworthy.pages.telling import act, show_told
from seatworthy.steps.desk import InForce
from seatworthy.steps.rulebook_views import (
    RulebookView,
    differences,
    start_text,
    supposed,
    words_of,
)
from seatworthy.steps.rulebooks import adopt_rulebook, adoption_faults
from seatworthy.steps.what_if import WORDS, WhatIf, what_if

_TEXT, _START, _TRIED = "another_text", "another_start", "another_tried"


def offer_another(view: RulebookView) -> None:
    """Draw the editor, what the text would change, and the way to adopt it."""
    st.html(
        paper(
            tag("h2", "What if it said something else"),
            tag("p", _LEAD, class_="lead"),
            class_="proof",
        )
    )
    labels = {one.key: one.label for one in view.at_hand}
    st.selectbox(
        "Start from", list(labels), format_func=labels.get, key=_START, on_change=_take_text
    )
    if _TEXT not in st.session_state:
        _take_text()
    st.text_area("Its text", key=_TEXT, height=420)
    st.button("See what it would change", key="try_rulebook", on_click=_try)
    text = st.session_state.get(_TRIED)
    if text is None:
        show_told("adopt")
        return
    try:
        other = supposed(source.the_desk(), text)
    except RulebookRefused as refused:
        st.html(refusal(str(refused)))
        return
    _show(other)
    _offer_to_adopt(other, is_same=text == written(_TEXT))


_LEAD = escaped(
    "Change a number or take another rulebook, and see who would gain or lose a seat before "
    "anything is signed. Nothing is recorded until it is adopted."
)


def _take_text() -> None:
    st.session_state[_TEXT] = start_text(source.the_desk(), written(_START) or "in_force")
    st.session_state.pop(_TRIED, None)


def _try() -> None:
    st.session_state[_TRIED] = written(_TEXT)


def _show(other: InForce) -> None:
    desk = source.the_desk()
    found = what_if(desk, other)
    st.html(paper(tag("p", escaped(found.sentence), class_="told", role="status")))
    st.html(paper(_otherwise(other), _panels(found), _seats(found), class_="proof"))
    with st.expander("This rulebook in plain words"):
        st.html(paper(read_out(words_of(desk, other))))
    name = f"“{other.rulebook.name}”, version {other.rulebook.version},"
    show_odds(other, f"What {name} would do in a year", "tried")


def _otherwise(other: InForce) -> str:
    """What the two rulebooks say differently, sentence beside sentence."""
    rows = [
        tuple(escaped(words) for words in line) for line in differences(source.the_desk(), other)
    ]
    if not rows:
        return tag("p", "It says the same as the rulebook in force.", class_="note")
    heads = ("About", "The rulebook in force", "This one")
    return tag("h3", "What it says otherwise") + listing(heads, rows, "otherwise")


def _panels(found: WhatIf) -> str:
    heads = ("Beer family", "Meet the seat rule now", "Would meet it", "Covered too thinly then")
    rows = [
        (
            escaped(family.family_label), str(family.before), str(family.after),
            escaped(", ".join(family.weak) if family.after else "everything: nobody could sit"),
        )
        for family in found.families
    ]  # fmt: skip
    return listing(heads, rows) if rows else ""


def _seats(found: WhatIf) -> str:
    if not found.seats:
        return ""
    heads = ("Who", "For", "Seat", "Why, by the other rulebook", "Compounds judged otherwise")
    rows = [
        (
            escaped(change.name), escaped(change.family_label),
            escaped(f"{_STANDINGS[change.before]}, then {_STANDINGS[change.after]}"
                    if change.before != change.after else _STANDINGS[change.after]),
            escaped(change.sentence), escaped("; ".join(change.compounds)),
        )
        for change in found.seats
    ]  # fmt: skip
    return tag("h3", "What it would change for whom") + listing(heads, rows, "judged")


_STANDINGS = {str(standing): words for standing, words in WORDS.items()}


def _offer_to_adopt(other: InForce, *, is_same: bool) -> None:
    book = other.rulebook
    title = f"Adopt “{book.name}”, version {book.version}"
    st.html(paper(tag("h2", escaped(title)), tag("p", _ADOPT, class_="note"), class_="proof"))
    if not is_same:
        st.html(paper(tag("p", "The text was changed since; look again first.", class_="note")))
    faults = adoption_faults(source.the_desk(), other)
    if faults:
        lines = "".join(tag("li", escaped(fault)) for fault in faults)
        st.html(paper(tag("ul", lines, class_="hindrances")))
        return
    with st.form("adopt_form", border=False):
        if choose_signer("adopt"):
            step = partial(_adopt, other.text)
            st.form_submit_button("Adopt it", on_click=step, disabled=not is_same)
        else:
            st.form_submit_button("Adopt it", disabled=True)
    show_told("adopt")


_ADOPT = escaped(
    "It counts from the date in its own text on. Earlier days keep their rules, signed seats stay as "
    "they were signed, and its text stays on record."
)


def _adopt(text: str) -> None:
    signer, pin = signature("adopt")
    step = partial(adopt_rulebook, source.the_desk(), text, signer=signer, pin=pin)
    if act("adopt", step):
        st.session_state.pop(_TRIED, None)
