"""The jugs: what was really in them, who put the codes on, and which one must not count."""

from collections.abc import Callable, Iterable
from decimal import Decimal
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.phrases import multiple
from seatworthy.steps import asides, table
from seatworthy.steps.sentences import joined
from seatworthy.steps.session_views import SampleLine, SessionView, SittingView
from seatworthy.steps.views import Choice

_LEVELS, _CODES, ASIDE = "levels", "codes", "aside"
_SOMEBODY: Final = Choice("somebody", "Somebody who isn't on the list of people")
_LEVELS_NOTE: Final = (
    "Multiples of the working threshold, and minutes from adding to pouring. Say it for each sitting: "
    "a jug has its own age at each. An empty field leaves what the plan says."
)


def offer_levels(view: SessionView) -> None:
    """A form for each sitting: level and age of every jug as they really were."""
    if st.checkbox("Show what was really in the jugs (this is the key)", key="show_jugs"):
        st.html(paper(tag("p", escaped(_LEVELS_NOTE), class_="note")))
        show_told(_LEVELS)
        for sitting in view.sittings:
            _levels_form(sitting)


def _levels_form(sitting: SittingView) -> None:
    with st.form(f"levels_{sitting.sitting_id}", border=False):
        st.html(paper(tag("h3", escaped(sitting.label))))
        for sample in sitting.samples:
            _level_fields(sample)
        st.form_submit_button("Record the levels", on_click=_record_levels, args=(sitting,))


def _level_fields(sample: SampleLine) -> None:
    planned = "" if sample.planned_level is None else f", {multiple(float(sample.planned_level))}"
    words = tag("b", escaped(sample.mark)) + tag("span", escaped(f"{sample.label}{planned}"))
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        st.html(paper(tag("p", words, class_="jug")), width=260)
        if sample.planned_level is not None:
            level = sample.actual_level
            st.number_input(
                f"Level of {sample.mark}, really",
                value=None if level is None else float(level),
                min_value=0.0,
                step=0.1,
                format="%g",
                key=f"level_{sample.sample_id}",
                width=150,
            )
        st.number_input(
            f"Age of {sample.mark}, minutes",
            value=sample.age_minutes,
            min_value=0,
            step=5,
            key=f"age_{sample.sample_id}",
            width=150,
        )


def _record_levels(sitting: SittingView) -> None:
    desk = source.the_desk()
    stated = [
        partial(table.state_level, desk, sample.sample_id, level, age)
        for sample in sitting.samples
        for level, age in [_typed(sample)]
        if (level, age) != (sample.actual_level, sample.age_minutes)
    ]
    act(_LEVELS, lambda: " ".join(step() for step in stated) or "Nothing new to record.")


def _typed(sample: SampleLine) -> tuple[Decimal | None, int | None]:
    level = st.session_state.get(f"level_{sample.sample_id}")
    age = st.session_state.get(f"age_{sample.sample_id}")
    return None if level is None else Decimal(str(level)), age


def offer_recoding(view: SessionView) -> None:
    """Who put the codes on, where panellists prepare and taste as well."""
    if not view.preparers and not view.is_recoded:
        return
    if view.is_recoded:
        by = view.recoded_by or "somebody who isn't on the list of people"
        with st.container(horizontal=True, vertical_alignment="center", gap="medium"):
            st.html(paper(tag("p", escaped(f"The codes were put on by {by}."), class_="told")))
            st.button("Nobody else did", on_click=_record_not_recoded, args=(view.session_id,))
    else:
        _ask_who_recoded(view)
    show_told(_CODES)


def _ask_who_recoded(view: SessionView) -> None:
    people = [choice for choice in view.people if choice.label not in view.preparers]
    labels = labels_told_apart([*people, _SOMEBODY])
    names = joined(view.preparers)
    words = (
        f"{names} prepared. If somebody else put the codes on, from the pouring sheet, what {names} "
        "answers counts."
    )
    st.html(paper(tag("p", escaped(words), class_="ask")))
    key = f"recoded_{view.session_id}"
    st.selectbox(
        "Who put the codes on?",
        list(labels),
        index=None,
        format_func=labels.get,
        placeholder="Choose a person",
        key=key,
        on_change=_record_recoded,
        args=(view.session_id, key),
        width=420,
    )


def _record_recoded(session_id: str, key: str) -> None:
    chosen = st.session_state[key]
    st.session_state[key] = None
    if chosen is None:
        return
    desk, person = source.the_desk(), None if chosen == _SOMEBODY.key else chosen
    undo = partial(table.not_recoded, desk, session_id)
    act(_CODES, partial(table.put_codes_on, desk, session_id, person), undo)


def _record_not_recoded(session_id: str) -> None:
    act(_CODES, partial(table.not_recoded, source.the_desk(), session_id))


def offer_aside(
    samples: Iterable[tuple[str, str, bool]],
    people: Iterable[Choice],
    effect_of: Callable[[str], str] | None = None,
) -> None:
    """Set a whole jug aside, or put it back, with a reason and an author.

    Args:
        samples: Sample id, words for it, whether it is set aside.
        people: Who may have decided so.
        effect_of: HTML of what setting a sample aside would change, shown before it is signed.
    """
    found = {sample: (words, is_aside) for sample, words, is_aside in samples}
    words = labels_told_apart(
        Choice(sample, f"{words}, set aside" if is_aside else words)
        for sample, (words, is_aside) in found.items()
    )
    names = labels_told_apart(people)
    show_told(ASIDE)
    chosen = st.selectbox(
        "Jug",
        list(words),
        index=None,
        placeholder="Choose a jug",
        format_func=words.get,
        key="aside_jug",
    )
    if effect_of and chosen and not found[chosen][1]:
        with st.spinner("Counting without it"):
            st.html(effect_of(chosen))
    with st.form("jug_aside", border=False):
        st.text_input("Why", key="aside_reason")
        st.selectbox(
            "Who says so",
            list(names),
            index=None,
            placeholder="Choose a person",
            format_func=names.get,
            key="aside_by",
        )
        st.form_submit_button("Set it aside, or put it back", on_click=_record_aside, args=(found,))


def _record_aside(found: dict[str, tuple[str, bool]]) -> None:
    state = st.session_state
    sample, reason, by = state["aside_jug"], state["aside_reason"], state["aside_by"]
    if sample is None:
        act(ASIDE, lambda: "Choose a jug first. Nothing was recorded.")
        return
    step = asides.put_sample_back if found[sample][1] else asides.set_sample_aside
    if act(ASIDE, partial(step, source.the_desk(), sample, reason, by)):
        state["aside_reason"], state["aside_jug"] = "", None
