"""What is critical for a beer family, and what belongs in such a beer."""

from collections.abc import Sequence
from functools import partial

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import (
    author,
    compound_labels,
    group_key,
    group_labels,
    group_of,
    written,
)
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import shelf_writing
from seatworthy.steps.labels import item_label
from seatworthy.steps.sentences import in_sentence, joined, the_beers
from seatworthy.steps.shelf_views import FamilyLine, Group, ShelfView

_MEANING = (
    "A release panel must cover every critical compound of the family it sits for. Of a group, "
    "such as acetic acid or lactic acid, one counts. Expected compounds belong in such a beer. Both "
    "lists are recorded whole, each time."
)
_GROUPS = "shelf_groups"  # groups made on this page and not recorded yet


def show_lists(view: ShelfView) -> None:
    """Both lists of the family that the page is about."""
    family = next((line for line in view.families if line.key == view.family), None)
    if family is None:
        st.html(paper(tag("p", "Add a beer family first, under “Brewery and beers”.")))
        return
    labels = {line.key: line.label for line in view.compounds}
    head = f"Critical and expected for {the_beers(family.label)}"
    parts = [tag("h2", escaped(head)), tag("p", escaped(_MEANING), class_="note")]
    if not family.critical:
        parts.append(tag("p", escaped(_default_words(view.default_critical, labels))))
    st.html(paper(*parts))
    options = group_labels(_all_groups(view), compound_labels(view))
    critical, expected = _keys(family)
    st.session_state.setdefault(critical, [group_key(group) for group in family.critical])
    st.session_state.setdefault(expected, [group_key(group) for group in family.expected])
    for label, key in (("Critical", critical), ("Expected", expected)):
        st.multiselect(
            label, list(options), format_func=options.get, key=key,
            filter_mode="contains", select_all=False, wrap=True,
        )  # fmt: skip
    _buttons(family, view.default_critical)
    show_told("lists")
    with st.expander("Make a group of which one counts"):
        _make_group(view, critical)


def _default_words(default: Sequence[Group], labels: dict[str, str]) -> str:
    names = joined([in_sentence(item_label(group, labels)) for group in default])
    return f"It has no critical list of its own, so the rulebook's counts: {names}."


def _keys(family: FamilyLine) -> tuple[str, str]:
    """Keys of the two widgets, which change once other lists are stated."""
    stated = hash((family.critical, family.expected))
    return f"critical_{family.key}_{stated}", f"expected_{family.key}_{stated}"


def _all_groups(view: ShelfView) -> list[Group]:
    """Every compound by itself, after the groups that stand anywhere or were made here."""
    listed = [group for family in view.families for group in (*family.critical, *family.expected)]
    made: list[Group] = st.session_state.get(_GROUPS, [])
    groups = [group for group in (*view.default_critical, *listed, *made) if len(group) > 1]
    return [*dict.fromkeys(groups), *((line.key,) for line in view.compounds)]


def _buttons(family: FamilyLine, default: Sequence[Group]) -> None:
    with st.container(horizontal=True):
        st.button(
            "Record both lists",
            type="primary",
            key="record_lists",
            on_click=_record,
            args=(family,),
        )
        if not family.critical:
            st.button(
                "Begin with the rulebook's list",
                key="begin_lists",
                on_click=_begin,
                args=(family, tuple(default)),
            )


def _begin(family: FamilyLine, default: Sequence[Group]) -> None:
    st.session_state[_keys(family)[0]] = [group_key(group) for group in default]


def _record(family: FamilyLine) -> None:
    critical, expected = ([group_of(one) for one in st.session_state[key]] for key in _keys(family))
    step = partial(
        shelf_writing.set_lists, source.the_desk(), family.key, critical, expected, by=author()
    )
    act("lists", step)


def _make_group(view: ShelfView, critical: str) -> None:
    labels = compound_labels(view)
    words = {"format_func": labels.get, "index": None, "placeholder": "Choose a compound"}
    one, other = st.columns(2)
    one.selectbox("Either", list(labels), key="group_one", **words)
    other.selectbox("or", list(labels), key="group_other", **words)
    st.button(
        "Add the group to the critical ones",
        key="make_group",
        on_click=_add_group,
        args=(critical,),
    )


def _add_group(critical: str) -> None:
    """Offer the group, and put it in the place of its members on the critical list."""
    group = tuple(sorted({written("group_one"), written("group_other")} - {""}))
    if len(group) == 2:
        st.session_state[_GROUPS] = [*st.session_state.get(_GROUPS, []), group]
        others = [key for key in st.session_state[critical] if not {*group} & {*group_of(key)}]
        st.session_state[critical] = [*others, group_key(group)]
