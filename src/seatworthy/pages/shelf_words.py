"""What words mean: own words that wait for a meaning, and every wording of a compound."""

from collections.abc import Sequence
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.doubting import ask_again, record_unless_doubted
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import author, cleared, compound_labels, listing, written
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import accepted_words, shelf_words
from seatworthy.steps.accepted_words import AcceptedWords
from seatworthy.steps.shelf_views import ShelfView
from seatworthy.steps.words import NO_COMPOUND

_MEANING: Final = (
    "Until somebody says what own words mean, their glasses count neither way. Said once, it holds for "
    "answers past and to come."
)
_GROUP: Final = (
    "Each of these wordings is right in a glass of any compound listed with it; one with a meaning of "
    "its own is right for that too. In any other glass it is a wrong name, and in a blank a call."
)
_ACCEPT, _BACK = "accept_words", "words_back"
_NAMES_NONE: Final = "No compound: a wrong name"


def show_words(view: ShelfView) -> None:
    """Open words first, then a wording more, then all that stand."""
    labels = {NO_COMPOUND: _NAMES_NONE} | compound_labels(view)
    waiting = {own.words: f"“{own.words}”, {in_answers(own.answers)}" for own in view.open_words}
    head = "Own words that wait for a meaning" if waiting else "No own words wait for a meaning"
    st.html(paper(tag("h2", head), tag("p", escaped(_MEANING), class_="note")))
    if waiting:
        _form("open_words", waiting, labels)
    else:
        show_told("open_words")
    st.html(paper(tag("h2", "Another wording")))
    _form("new_words", {}, labels)
    _show_groups(view)
    st.html(paper(tag("h2", "Wordings that name a compound"), _table(view), class_="proof"))


def _show_groups(view: ShelfView) -> None:
    """Words that are right for any of several compounds: all that stand, one more, one back."""
    groups = accepted_words.word_groups(source.the_desk())
    head, note = tag("h2", "Wordings that are right for several"), tag("p", _GROUP, class_="note")
    st.html(paper(head, note, _groups_table(groups) if groups else "", class_="proof"))
    with st.form(_ACCEPT, border=False):
        words, compounds = st.columns(2)
        words.text_input("Words", max_chars=120, key=f"{_ACCEPT}_said")
        labels = compound_labels(view)
        compounds.multiselect(
            "Right for any of these", list(labels), format_func=labels.get,
            placeholder="Choose compounds", key=f"{_ACCEPT}_mean",
            filter_mode="contains", select_all=False, wrap=True,
        )  # fmt: skip
        st.form_submit_button("Accept them", on_click=_accept)
    ask_again(_ACCEPT, "Accept them all the same", _accept)
    show_told(_ACCEPT)
    if groups:
        _offer_back(groups)
    show_told(_BACK)


def _groups_table(groups: Sequence[AcceptedWords]) -> str:
    heads = ("Words", "Right for any of", "Its own meaning")
    rows = [(f"“{group.words}”", group.accepted, group.meant) for group in groups]
    shown = len(heads) if any(group.meant for group in groups) else len(heads) - 1
    return listing(heads[:shown], [[escaped(cell) for cell in row[:shown]] for row in rows])


def _offer_back(groups: Sequence[AcceptedWords]) -> None:
    pairs = {
        (group.words, key): f"“{group.words}” for {label}"
        for group in groups
        for key, label in zip(group.compounds, group.labels, strict=True)
    }
    with st.form(_BACK, border=False):
        st.selectbox(
            "Not right any more", list(pairs), index=None, format_func=pairs.get,
            placeholder="Choose words and a compound", key=f"{_BACK}_pair",
        )  # fmt: skip
        st.form_submit_button("Take it back", on_click=_take_back)
    ask_again(_BACK, "Take it back all the same", _take_back)


def _accept() -> None:
    desk, state = source.the_desk(), st.session_state
    words, chosen = written(f"{_ACCEPT}_said"), tuple(state.get(f"{_ACCEPT}_mean") or ())
    step = partial(accepted_words.accept_words, desk, words, chosen, by=author())
    undo = partial(_undone, words, accepted_words.not_yet(desk, words, chosen))
    doubt = accepted_words.accepted_anew(desk, words, chosen) if words and chosen else ""
    doubts = [doubt] if doubt else []
    if record_unless_doubted(_ACCEPT, (words, chosen), doubts, lambda: act(_ACCEPT, step, undo)):
        cleared(f"{_ACCEPT}_said")
        state[f"{_ACCEPT}_mean"] = []


def _undone(words: str, compounds: Sequence[str]) -> str:
    return accepted_words.take_words_back(source.the_desk(), words, compounds, by=author())


def _take_back() -> None:
    desk, pair = source.the_desk(), st.session_state.get(f"{_BACK}_pair")
    words, compounds = (pair[0], [pair[1]]) if pair else ("", [])
    step = partial(accepted_words.take_words_back, desk, words, compounds, by=author())
    doubt = accepted_words.taken_back_anew(desk, words, compounds) if pair else ""
    if record_unless_doubted(_BACK, pair, [doubt] if doubt else [], lambda: act(_BACK, step)):
        st.session_state[f"{_BACK}_pair"] = None


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
    ask_again(place, "Read them so", partial(_record, place))
    show_told(place)


def _record(place: str) -> None:
    desk = source.the_desk()
    words, meant = written(f"{place}_said"), written(f"{place}_mean")
    doubts = shelf_words.doubts_of_meaning(desk, words, meant) if words and meant else ()
    step = partial(shelf_words.give_meaning, desk, words, meant, again=True, by=author())
    if record_unless_doubted(place, (words, meant), doubts, lambda: act(place, step)) and (
        place == "new_words"
    ):
        cleared(f"{place}_said")


def in_answers(answers: int) -> str:
    """How often words were said: "in one answer", "in 4 answers"."""
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
