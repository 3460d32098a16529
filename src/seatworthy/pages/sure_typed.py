"""A call typed in: which beer, who tasted, what each said."""

from collections.abc import Mapping
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, plain_markdown, tag
from seatworthy.pages.shelf_parts import written
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import batches as batch_steps
from seatworthy.steps.tasted import NAMED, NOTHING, SOMETHING, Tasted
from seatworthy.steps.views import Choice
from seatworthy.steps.weigh_views import Choices, Question

_ANOTHER: Final = ""
_WORDS: Final = {NOTHING: "Nothing", SOMETHING: "Something, without a name"}
_ABREAST: Final = 3


def ask_for_words(choices: Choices) -> Question | None:
    """Draw the form; the question it holds, None until somebody is said to have tasted."""
    family, label, batch_id = _ask_which(choices)
    people = labels_told_apart(choices.people)
    chosen = st.multiselect(
        "Who tasted it",
        list(people),
        format_func=people.get,
        key="sure_who",
        filter_mode="contains",
        select_all=False,
        placeholder="Everybody, also who said nothing",
    )
    if not chosen or family is None:
        return None
    words = _ask_words(chosen, people, choices)
    is_blind = st.toggle("They tasted blind, and before any talk", value=True, key="sure_blind")
    return Question(family, label, words, is_blind, batch_id)


def _ask_which(choices: Choices) -> tuple[str | None, str, str | None]:
    known = {one.batch_id: one for one in batch_steps.batches(source.the_desk())}
    labels = labels_told_apart(
        Choice(key, f"{one.label}, {one.beer_label}") for key, one in known.items()
    )
    labels[_ANOTHER] = "A beer that is not on record"
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        if known:
            batch = st.selectbox(
                "Which beer", list(labels), format_func=labels.get, key="sure_batch", width=300
            )
            if batch != _ANOTHER:
                return known[batch].family, known[batch].label, batch
        families = labels_told_apart(choices.families)
        family = st.selectbox(
            "Beer family", list(families), format_func=families.get, key="sure_family", width=260
        )
        st.text_input(
            "What it is called", key="sure_label", max_chars=60, placeholder="Tank 12", width=220
        )
    return family, written("sure_label").strip() or "This beer", None


def _ask_words(
    chosen: list[str], people: Mapping[str, str], choices: Choices
) -> tuple[Tasted, ...]:
    options = {**_WORDS, **labels_told_apart(choices.compounds)}
    st.html(paper(tag("p", escaped("What did each of them say? “Nothing” counts."), class_="ask")))
    words = []
    for start in range(0, len(chosen), _ABREAST):
        for person, column in zip(
            chosen[start : start + _ABREAST], st.columns(_ABREAST), strict=False
        ):
            said = column.selectbox(
                plain_markdown(people[person]),
                list(options),
                format_func=options.get,
                key=f"sure_said_{person}",
            )
            kind = said if said in _WORDS else NAMED
            words.append(Tasted(person, people[person], kind, None if said in _WORDS else said))
    return tuple(words)
