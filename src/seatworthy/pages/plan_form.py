"""The form of a plan: when, which beer, who comes, who prepares, and what nobody may exceed."""

from datetime import timedelta
from typing import Final

import streamlit as st

from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.plan_draft import MOST_SITTINGS, PREFIX, typed
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.sessions.wish import PURPOSES
from seatworthy.steps.sentences import sentence_start
from seatworthy.steps.session_views import BeerChoice, PlanChoices
from seatworthy.steps.views import Choice

_PREPARER_NOTE: Final = (
    "Leave it empty if somebody prepares who doesn't taste. What a preparer answers counts only if "
    "somebody else puts the codes on."
)
_KEPT: Final = {"persist_state": "session"}
_QUARTER: Final = timedelta(minutes=15)


def show_beer(choices: PlanChoices) -> None:
    """When it is, and which beer; every field is filled before and keeps what is typed."""
    _when()
    _beer(choices.beers)


def show_dosing(choices: PlanChoices) -> None:
    """What the beer is dosed in, where kinds of vessel stand on the bench."""
    if not choices.containers:
        return
    labels = labels_told_apart(choices.containers)
    st.selectbox(
        "Dosed from the bench, in",
        list(labels),
        index=None,
        format_func=labels.get,
        placeholder="Not from the bench, but by hand",
        key=_key("container"),
        width=420,
        **_KEPT,
    )


def show_people(choices: PlanChoices) -> None:
    """Who comes and who prepares; limits and order folded away."""
    names = labels_told_apart(
        Choice(
            person.person_id,
            f"{person.name} (not: {person.not_served})" if person.not_served else person.name,
        )
        for person in choices.people
    )
    _sittings(names)
    _preparing(names)
    with st.expander("Limits and order"):
        _limits()


def _key(name: str) -> str:
    return PREFIX + name


def _head(words: str, note: str = "") -> None:
    st.html(paper(tag("h2", words), tag("p", escaped(note), class_="note") if note else ""))


def _when() -> None:
    _head("When")
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        st.date_input("Day", format="YYYY-MM-DD", key=_key("day"), width=150, **_KEPT)
        st.text_input("Name", max_chars=60, key=_key("label"), width=240, **_KEPT)
        st.segmented_control(
            "Purpose",
            list(PURPOSES),
            format_func=sentence_start,
            required=True,
            key=_key("purpose"),
            **_KEPT,
        )


def _beer(beers: tuple[BeerChoice, ...]) -> None:
    _head("The beer")
    labels = labels_told_apart(
        Choice(beer.key, f"{beer.label} ({beer.family_label})") for beer in beers
    )
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        st.selectbox(
            "Base beer",
            list(labels),
            index=None,
            format_func=labels.get,
            placeholder="Choose a beer",
            key=_key("beer"),
            on_change=_follow_beer,
            args=(beers,),
            width=300,
            **_KEPT,
        )
        _number("Alcohol, %", "abv", most=20.0, step=0.1)
        _number("A glass, ml", "volume", most=500.0, step=5.0)
    st.checkbox(
        "Pour a control first, named as such",
        key=_key("control"),
        **_KEPT,
    )


def _follow_beer(beers: tuple[BeerChoice, ...]) -> None:
    strength = {beer.key: beer.abv_percent for beer in beers}.get(typed("beer"))
    st.session_state[_key("abv")] = None if strength is None else float(strength)


def _sittings(names: dict[str, str]) -> None:
    _head("Who comes")
    st.segmented_control(
        "Sittings", list(range(1, MOST_SITTINGS + 1)), required=True, key=_key("sittings"), **_KEPT
    )
    for number in range(typed("sittings") or 1):
        with st.container(horizontal=True, vertical_alignment="top", gap="small"):
            st.text_input("Sitting", max_chars=40, key=_key(f"label_{number}"), width=170, **_KEPT)
            st.time_input("Starts", step=_QUARTER, key=_key(f"time_{number}"), width=110, **_KEPT)
            st.multiselect(
                "People",
                list(names),
                format_func=names.get,
                placeholder="Choose people",
                filter_mode="contains",
                select_all=False,
                key=_key(f"people_{number}"),
                width="stretch",
                wrap=True,
                **_KEPT,
            )
    st.checkbox(
        "Leave out what somebody is not to be served",
        key=_key("leaves_out"),
        **_KEPT,
    )


def _preparing(names: dict[str, str]) -> None:
    _head("Who prepares", _PREPARER_NOTE)
    st.multiselect(
        "Panellists who prepare",
        list(names),
        format_func=names.get,
        placeholder="Nobody of the panel",
        filter_mode="contains",
        select_all=False,
        key=_key("preparers"),
        wrap=True,
        **_KEPT,
    )


def _limits() -> None:
    st.checkbox("Everybody spits", key=_key("spits"), **_KEPT)
    st.checkbox("Strong and lingering glasses come last", key=_key("strong_late"), **_KEPT)
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        _number("Of a spat glass counts, %", "spat", most=100.0, step=5.0)
        _number("At most, g of alcohol", "alcohol", most=100.0, step=1.0)
        _whole("At most, glasses a person", "most", most=24)
        _whole("Each tastes only, glasses or sets", "flight", most=24)
        _whole("Spare orders a sitting", "spares", most=20)
        _whole("Seed of codes and orders", "seed", most=2**31 - 1)
    note = (
        "Where each tastes only some of what is poured, the glasses are shared out evenly, over past "
        "sessions too; empty, everybody tastes everything. The same plan with the same seed gives the "
        "same codes; another seed, other ones."
    )
    st.html(paper(tag("p", escaped(note), class_="note")))


def _number(words: str, name: str, *, most: float, step: float) -> None:
    st.number_input(
        words,
        min_value=0.0,
        max_value=most,
        value=None,
        step=step,
        format="%g",
        key=_key(name),
        width=160,
        **_KEPT,
    )


def _whole(words: str, name: str, *, most: int) -> None:
    st.number_input(
        words, min_value=0, max_value=most, value=None, step=1, key=_key(name), width=160, **_KEPT
    )
