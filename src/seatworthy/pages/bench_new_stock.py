"""The form that puts a stock on the bench, in the words that stand on its vial."""

from functools import partial
from types import MappingProxyType
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import author, cleared, written
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.bench_views import BenchView
from seatworthy.steps.bench_writing import CONCENTRATIONS, NewStock, add_stock
from seatworthy.steps.views import Choice

_WAYS: Final = MappingProxyType(
    {
        "solution": "A concentration",
        "reference": "So much gives so many times threshold",
        "unit": "Whole units",
    }
)
_MEANING: Final = (
    "Write what stands on the vial. Food-grade compounds only. Ethanol in the solvent is counted for everybody "
    "who tastes, and the blanks get as much."
)
_TYPED: Final = (
    "lot", "strength", "gives_amount", "litres", "full_amount", "ethanol_percent", "dead_ul",
    "strength_off_percent",
)  # fmt: skip
_CHOSEN: Final = MappingProxyType({"strength_unit": "", "gives_unit": "µl", "full_unit": "ml"})
_TICKED: Final = ("is_food_grade", "is_bought_dilution", "is_narrow")
_DAYS: Final = ("opened_on", "expires_on")
_VOLUMES: Final = ("µl", "ml")
_PLACE: Final = "new_stock"


def show_new_stock(view: BenchView) -> None:
    """Ask how its strength is known, then for the rest of it."""
    head = "Another stock" if view.stocks else "The first stock"
    st.html(paper(tag("h2", head), tag("p", escaped(_MEANING), class_="note")))
    kind = st.segmented_control(
        "What is known of its strength", list(_WAYS), default="solution", required=True,
        format_func=_WAYS.get, key=_key("kind"),
    )  # fmt: skip
    with st.form("new_stock", border=False):
        labels = labels_told_apart(Choice(line.compound, line.label) for line in view.limits)
        compound, lot = st.columns(2)
        compound.selectbox(
            "Compound in it", list(labels), index=None, format_func=labels.get,
            placeholder="Choose a compound", key=_key("compound"),
        )  # fmt: skip
        lot.text_input("Its lot", max_chars=60, key=_key("lot"))
        {"solution": _solution, "reference": _reference}.get(str(kind), _unit)()
        _vial(is_unit=kind == "unit")
        st.form_submit_button("Put it on the bench", type="primary", on_click=_add)
    show_told(_PLACE)


def _solution() -> None:
    strength, unit = st.columns(2)
    strength.text_input("Its strength", max_chars=20, key=_key("strength"))
    unit.selectbox(
        "Unit", CONCENTRATIONS, index=None, placeholder="Choose the unit on its label",
        key=_key("strength_unit"),
    )  # fmt: skip


def _reference() -> None:
    amount, unit, litres, strength = st.columns([1.4, 0.8, 1.4, 1.4])
    amount.text_input("So much of it", max_chars=20, key=_key("gives_amount"))
    unit.selectbox("Unit", _VOLUMES, index=1, key=_key("gives_unit"))
    litres.text_input("In so many litres of beer", max_chars=20, key=_key("litres"))
    strength.text_input("Gives times threshold", max_chars=20, key=_key("strength"))


def _unit() -> None:
    litres, strength = st.columns(2)
    litres.text_input("One unit in so many litres of beer", max_chars=20, key=_key("litres"))
    strength.text_input("Gives times threshold", max_chars=20, key=_key("strength"))


def _vial(*, is_unit: bool) -> None:
    full, unit, ethanol, off = st.columns([1.4, 0.8, 1.4, 1.4])
    what = "Units in the full vial" if is_unit else "In the full vial"
    full.text_input(f"{what} (may stay empty)", max_chars=20, key=_key("full_amount"))
    if not is_unit:
        unit.selectbox("Unit", _VOLUMES, index=1, key=_key("full_unit"))
        ethanol.text_input(
            "Ethanol in its solvent, % by volume", max_chars=8, key=_key("ethanol_percent")
        )
    off.text_input(
        "Strength sure within, % (may stay empty)", max_chars=8, key=_key("strength_off_percent")
    )
    opened, last, dead = st.columns([1.4, 1.4, 2.2])
    opened.date_input(
        "Opened on (empty: closed)", value=None, max_value=source.the_desk().today(),
        format="YYYY-MM-DD", key=_key("opened_on"),
    )  # fmt: skip
    last.date_input("Last day of use", value=None, format="YYYY-MM-DD", key=_key("expires_on"))
    if not is_unit:
        dead.text_input(
            "What can't be got out of the vial, µl (may stay empty)", max_chars=12,
            key=_key("dead_ul"),
        )  # fmt: skip
    food, bought, narrow = st.columns(3)
    food.checkbox("It is food grade", key=_key("is_food_grade"))
    bought.checkbox("Bought as a dilution fit for serving", key=_key("is_bought_dilution"))
    if not is_unit:
        narrow.checkbox("Narrow vial: only a fine tip reaches", key=_key("is_narrow"))


def _key(field: str) -> str:
    return f"stock_{field}"


def _add() -> None:
    typed = NewStock(
        compound=written(_key("compound")),
        kind=written(_key("kind")),
        **{field: written(_key(field)) for field in _TYPED},
        **{field: written(_key(field)) or usual for field, usual in _CHOSEN.items()},
        **{field: bool(st.session_state.get(_key(field))) for field in _TICKED},
        **{field: st.session_state.get(_key(field)) for field in _DAYS},
    )
    if act(_PLACE, partial(add_stock, source.the_desk(), typed, by=author())):
        cleared(*(_key(field) for field in _TYPED))
        for field in _TICKED:
            st.session_state[_key(field)] = False
        for field in ("compound", *_DAYS):
            st.session_state[_key(field)] = None
