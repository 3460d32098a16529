"""Planning whether people know a beer: the beer itself, and what is poured beside it."""

from types import MappingProxyType
from typing import Final

import streamlit as st

from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.plan_outcome import laid_out, show_outcome
from seatworthy.pages.plan_short import KEPT, ShortForm, open_short
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.sessions.wish import AGED, OTHER_BATCH, SISTER, Wish
from seatworthy.steps import planning, release_wishes
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_views import PlanChoices
from seatworthy.steps.views import Choice

_BESIDE: Final = MappingProxyType(
    {AGED: "The same, aged", OTHER_BATCH: "Another batch of it", SISTER: "A sister brand"}
)
_LEAD: Final = (
    "Every glass asks the same: is this the beer? Yes or no. The beer itself is poured twice, what stands "
    "beside it once, and no ballot tells which is which."
)
_NOTE: Final = "A yes to the beer itself says something only beside a no to another: pour at least one that is not it."
_PEOPLE_NOTE: Final = "Everybody who should know the beer: a panel, or a shift."


def show(desk: Desk, choices: PlanChoices) -> None:
    """Draw the form and what comes of it."""
    form = ShortForm("known", choices)
    if form.is_new or form.typed("recorded"):
        first = planning.first_wish(desk)
        at = first.sittings[0].starts_at.time()
        people = first.sittings[0].people
        form.start("Do we know our beer?", people, first.session_on, at, first.seed)
        form.put(beer=first.beer, beside=[AGED], sister=None, aged="")
    top = st.container()
    left, right = st.columns([1.75, 1], gap="large")
    with left:
        form.show_when()
        _show_beers(form)
        form.show_people(_PEOPLE_NOTE)
    faults, wish = _wish(desk, form)
    preview = None
    if wish is not None:
        faults, preview = laid_out(desk, wish)
    with right, st.container(key="plan_outcome"):
        show_outcome(desk, wish, preview, faults, form.typed("recorded"))
    with top:
        open_short("Do we know our beer?", preview, faults, _LEAD)


def _show_beers(form: ShortForm) -> None:
    st.html(paper(tag("h2", "The beer"), tag("p", escaped(_NOTE), class_="note")))
    labels = labels_told_apart(Choice(beer.key, beer.label) for beer in form.choices.beers)
    st.selectbox(
        "The beer asked about", list(labels), format_func=labels.get, key=form.key("beer"),
        width=300, **KEPT,
    )  # fmt: skip
    st.pills(
        "Poured beside it", list(_BESIDE), format_func=_BESIDE.get, selection_mode="multi",
        key=form.key("beside"), **KEPT,
    )  # fmt: skip
    beside = form.typed("beside") or []
    if AGED in beside:
        st.text_input(
            "How it was aged", max_chars=120, key=form.key("aged"), width=420,
            placeholder="Three weeks at 30 °C", **KEPT,
        )  # fmt: skip
    if SISTER in beside:
        others = {key: label for key, label in labels.items() if key != form.typed("beer")}
        st.selectbox(
            "The sister brand", list(others), index=None, format_func=others.get,
            placeholder="Choose a beer", key=form.key("sister"), width=300, **KEPT,
        )  # fmt: skip


def _wish(desk: Desk, form: ShortForm) -> tuple[tuple[str, ...], Wish | None]:
    short = form.wish()
    if isinstance(short, tuple):
        return short, None
    beside = form.typed("beside") or []
    if not form.typed("beer"):
        return ("Choose the beer that is asked about.",), None
    if SISTER in beside and not form.typed("sister"):
        return ("Choose the sister brand, or pour none.",), None
    aged = (form.typed("aged") or "").strip()
    return (), release_wishes.known_beer_wish(
        desk, short, form.typed("beer"), beside, form.typed("sister"), aged
    )
