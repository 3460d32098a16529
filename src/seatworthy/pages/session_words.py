"""Own words of one session that wait, and the form in which the leader says what they mean."""

from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages.doubting import ask_again, record_unless_doubted
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import author, choose_author, written
from seatworthy.pages.shelf_words import in_answers
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import accepted_words, shelf_words
from seatworthy.steps.desk import Desk
from seatworthy.steps.words import OpenWords

_PLACE: Final = "session_words"
_SAID, _MEAN, _NONE = f"{_PLACE}_said", f"{_PLACE}_mean", f"{_PLACE}_none"
_NOTE: Final = (
    "Until somebody says what own words mean, their glasses count neither way. Several compounds: the "
    "words are right for any of these, and a wrong name elsewhere. Said once, it holds for answers past "
    "and to come, in every session."
)


def offer_meanings(desk: Desk, session_id: str) -> None:
    """Show which own words of a session wait, and let somebody say once what each means.

    It tells how often each was said and nothing of the glasses, so it may stand on a page that is read
    before the close. Where nothing waits, only what was just said is shown.
    """
    waiting = accepted_words.waiting_words(desk, session_id)
    if not waiting:
        show_told(_PLACE)
        return
    st.html(paper(tag("h3", escaped(_head(waiting))), tag("p", escaped(_NOTE), class_="note")))
    with st.form(_PLACE, border=False):
        _fields(desk, waiting)
        with st.container(horizontal=True, gap="small"):
            st.form_submit_button("Say so", on_click=_say, args=(desk,))
            st.form_submit_button(
                "They name no compound", on_click=_say, args=(desk,), kwargs={"names_none": True}
            )
    is_none = bool(st.session_state.get(_NONE))
    ask_again(_PLACE, "Read them so", partial(_say, desk, names_none=is_none))
    show_told(_PLACE)


def _head(waiting: tuple[OpenWords, ...]) -> str:
    if len(waiting) == 1:
        return "One wording waits for a meaning"
    return f"{len(waiting)} wordings wait for a meaning"


def _fields(desk: Desk, waiting: tuple[OpenWords, ...]) -> None:
    said = {own.words: f"“{own.words}”, {in_answers(own.answers)}" for own in waiting}
    labels = labels_told_apart(accepted_words.compound_choices(desk))
    words, mean = st.columns(2)
    words.selectbox("Words", list(said), format_func=said.get, key=_SAID)
    mean.multiselect(
        "They mean", list(labels), format_func=labels.get,
        placeholder="Choose a compound, or several", key=_MEAN,
        filter_mode="contains", select_all=False, wrap=True,
    )  # fmt: skip
    choose_author()


def _say(desk: Desk, *, names_none: bool = False) -> None:
    """Record what was chosen; asked again first where answers of closed sessions would be read anew."""
    state = st.session_state
    state[_NONE] = names_none
    words, chosen = written(_SAID), tuple(state.get(_MEAN) or ())
    step = partial(shelf_words.say_meaning, desk, words, chosen, names_none=names_none, by=author())
    is_clear = bool(chosen) != names_none
    doubt = accepted_words.read_anew(desk, words, chosen) if words and is_clear else ""
    what = (words, chosen, names_none)
    if record_unless_doubted(_PLACE, what, [doubt] if doubt else [], lambda: act(_PLACE, step)):
        state[_MEAN] = []
