"""The brewery, its base beers and its beer families."""

from decimal import Decimal
from functools import partial

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import (
    author,
    beer_labels,
    cleared,
    family_labels,
    listing,
    written,
)
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import shelf_writing
from seatworthy.steps.sentences import joined
from seatworthy.steps.shelf import time_zones
from seatworthy.steps.shelf_views import ShelfView

_FIXED_NAME = (
    "A beer keeps its name, since results files know it by that. Its family counts for every glass "
    "poured in it, past ones too."
)


def show_beers(view: ShelfView) -> None:
    """Each with what stands and the way to state more; a first beer brings the first family."""
    _brewery(view)
    _beers(view)
    if view.families:
        _families(view)


def _brewery(view: ShelfView) -> None:
    st.html(paper(tag("h2", "The brewery")))
    zones = time_zones()
    with st.form("brewery", border=False):
        name, zone = st.columns(2)
        name.text_input("Name", value=view.brewery, max_chars=60, key="brewery_name")
        zone.selectbox(
            "Time zone",
            zones,
            index=zones.index(view.time_zone) if view.time_zone in zones else None,
            format_func=lambda found: found.replace("_", " "),
            placeholder="Type a city near you",
            key="brewery_zone",
        )
        is_first = not view.brewery
        st.form_submit_button(
            "Record the brewery", type="primary" if is_first else "secondary", on_click=_set_brewery
        )
    show_told("brewery")


def _set_brewery() -> None:
    step = partial(
        shelf_writing.set_brewery,
        source.the_desk(),
        written("brewery_name"),
        written("brewery_zone"),
        by=author(),
    )
    act("brewery", step)


def _beers(view: ShelfView) -> None:
    heads = ("Base beer", "Beer family", "Alcohol by volume")
    rows = [
        (escaped(beer.label), escaped(beer.family_label), _percent(beer.abv_percent))
        for beer in view.beers
    ]
    st.html(paper(tag("h2", "Base beers"), listing(heads, rows) if rows else ""))
    _beer_form(view)
    show_told("beer")
    if view.beers:
        with st.expander("Change a base beer"):
            _change_beer(view)


def _beer_form(view: ShelfView) -> None:
    is_next = bool(view.brewery) and not view.beers
    which = "another" if view.beers else "the first"
    with st.form("beer", border=False):
        name, family, abv = st.columns([2, 2, 1])
        name.text_input(f"Name of {which} base beer", max_chars=60, key="beer_name")
        family.selectbox(
            "Beer family", list(family_labels(view.families).values()), index=None,
            accept_new_options=True, placeholder="Choose one, or write a new one",
            key="beer_family",
        )  # fmt: skip
        abv.text_input("% ABV", max_chars=8, key="beer_abv")
        kind = "primary" if is_next else "secondary"
        st.form_submit_button("Put it on the shelf", type=kind, on_click=_add_beer)


def _percent(abv: Decimal | None) -> str:
    return "" if abv is None else f"{float(abv):g}%"


def _add_beer() -> None:
    step = partial(
        shelf_writing.add_beer,
        source.the_desk(),
        written("beer_name"),
        written("beer_family"),
        written("beer_abv"),
        by=author(),
    )
    if act("beer", step):
        cleared("beer_name", "beer_abv")


def _change_beer(view: ShelfView) -> None:
    beers, families = beer_labels(view), family_labels(view.families)
    st.selectbox("Base beer", list(beers), format_func=beers.get, key="changed_beer")
    chosen = st.session_state["changed_beer"]
    line = next(beer for beer in view.beers if beer.key == chosen)
    keys = list(families)
    family, abv = st.columns([2, 1])
    family.selectbox(
        "Its family",
        keys,
        index=keys.index(line.family) if line.family in keys else None,
        format_func=families.get,
        key=f"changed_family_{chosen}",
    )
    stated = "" if line.abv_percent is None else f"{float(line.abv_percent):g}"
    abv.text_input("Its % ABV", value=stated, max_chars=8, key=f"changed_abv_{chosen}")
    st.html(paper(tag("p", escaped(_FIXED_NAME), class_="note")))
    st.button("Record the change", key="change_beer", on_click=_set_beer, args=(chosen,))
    show_told("change_beer")


def _set_beer(beer: str) -> None:
    step = partial(
        shelf_writing.change_beer,
        source.the_desk(),
        beer,
        written(f"changed_family_{beer}"),
        written(f"changed_abv_{beer}"),
        by=author(),
    )
    act("change_beer", step)


def _families(view: ShelfView) -> None:
    rows = [
        (
            escaped(family.label),
            escaped(joined(family.beers)),
            f"{len(family.critical)} of its own" if family.critical else "the rulebook's list",
        )
        for family in view.families
    ]
    heads = ("Beer family", "Base beers", "Critical compounds")
    st.html(paper(tag("h2", "Beer families"), listing(heads, rows) if rows else ""))
    with st.form("family", border=False):
        st.text_input("Name of another beer family", max_chars=60, key="family_name")
        st.form_submit_button("Add the family", on_click=_add_family)
    show_told("family")
    with st.expander("Give a family another name"):
        _rename_family(view)


def _add_family() -> None:
    step = partial(shelf_writing.add_family, source.the_desk(), written("family_name"), by=author())
    if act("family", step):
        cleared("family_name")


def _rename_family(view: ShelfView) -> None:
    labels = family_labels(view.families)
    with st.form("rename", border=False):
        st.selectbox("Family", list(labels), format_func=labels.get, key="renamed_family")
        st.text_input("Its new name", max_chars=60, key="new_family_name")
        st.form_submit_button("Record the name", on_click=_set_family_name)
    show_told("rename")


def _set_family_name() -> None:
    step = partial(
        shelf_writing.rename_family,
        source.the_desk(),
        written("renamed_family"),
        written("new_family_name"),
        by=author(),
    )
    if act("rename", step):
        cleared("new_family_name")
