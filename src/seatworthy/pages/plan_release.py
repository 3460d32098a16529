"""Planning a release sitting: which batches, which hidden check glasses, who comes. Two minutes."""

from collections.abc import Mapping
from decimal import Decimal
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages.addresses import asked_word
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.plan_outcome import laid_out, show_outcome
from seatworthy.pages.plan_short import KEPT, ShortForm, open_short
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.sessions.wish import Wish
from seatworthy.steps import batches as batch_steps
from seatworthy.steps import planning, release_wishes
from seatworthy.steps.batches import Batch
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_views import PlanChoices
from seatworthy.steps.views import Choice

_PLACE: Final = "release_batch"
_LEAD: Final = (
    "Nobody knows what is in a batch: its glasses say nothing of who tasted. The two check glasses do, "
    "and nobody can tell them from the others. What is said is sealed until the talk."
)
_CHECKS_NOTE: Final = (
    "One glass with something in it and one without, poured from a beer you know to be good. They count "
    "as evidence for whoever tasted them, once the sitting is closed."
)
_PEOPLE_NOTE: Final = "Whoever made a batch may taste it, and is not independent of it: the page says so beside their word."


def show(desk: Desk, choices: PlanChoices) -> None:
    """Draw the form and what comes of it."""
    form = ShortForm("release", choices)
    asked = (asked_word("batch"), asked_word("who"), asked_word("again"))
    if form.is_new or form.typed("asked") != asked or form.typed("recorded"):
        _start(desk, form)
        form.put(asked=asked)
    top = st.container()
    left, right = st.columns([1.75, 1], gap="large")
    every = {one.batch_id: one for one in batch_steps.batches(desk)}
    with left:
        form.show_when()
        _show_batches(desk, form, every)
        _show_checks(form, every)
        form.show_people(_PEOPLE_NOTE)
    faults, wish = _wish(desk, form)
    preview = None
    if wish is not None:
        faults, preview = laid_out(desk, wish)
    with right, st.container(key="plan_outcome"):
        show_outcome(desk, wish, preview, faults, form.typed("recorded"))
    with top:
        open_short("Plan a release sitting", preview, faults, _LEAD)


def _start(desk: Desk, form: ShortForm) -> None:
    who = tuple((asked_word("who") or "").split(",")) if asked_word("who") else ()
    start = release_wishes.first_release(desk, asked_word("batch"), who)
    batches, people = list(start.batches), start.people
    if again := asked_word("again"):
        wish = planning.wish_again(desk, again)
        batches = [sample.batch for sample in wish.samples if sample.batch]
        people = tuple(dict.fromkeys(p for sitting in wish.sittings for p in sitting.people))
    form.start(start.label, people, start.session_on, start.starts_at, start.seed)
    form.put(
        batches=batches, checks=True, compound=start.compound,
        level=float(release_wishes.CHECK_LEVEL), addition="",
    )  # fmt: skip


def _show_batches(desk: Desk, form: ShortForm, every: Mapping[str, Batch]) -> None:
    st.html(paper(tag("h2", "What is judged")))
    labels = labels_told_apart(
        Choice(one.batch_id, f"{one.label}, {one.beer_label}") for one in every.values()
    )
    if labels:
        st.multiselect(
            "Batches", list(labels), format_func=labels.get, placeholder="Choose batches",
            filter_mode="contains", select_all=False, key=form.key("batches"), wrap=True, **KEPT,
        )  # fmt: skip
    else:
        words = "No batch is on record yet: put the one you want to judge on record here."
        st.html(paper(tag("p", escaped(words), class_="note")))
    with st.expander("Put a batch on record", expanded=not labels):
        _offer_new_batch(desk, form)
    show_told(_PLACE)


def _offer_new_batch(desk: Desk, form: ShortForm) -> None:
    beers = labels_told_apart(Choice(beer.key, beer.label) for beer in form.choices.beers)
    names = labels_told_apart(Choice(p.person_id, p.name) for p in form.choices.people)
    with st.form("new_batch", border=False, clear_on_submit=True):
        with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
            st.text_input("Batch", max_chars=60, key=form.key("new_label"), width=200,
                          placeholder="Tank 12")  # fmt: skip
            st.selectbox(
                "Its beer", list(beers), format_func=beers.get, key=form.key("new_beer"), width=240
            )
        st.multiselect(
            "Who made it", list(names), format_func=names.get, placeholder="Nobody of the panel",
            key=form.key("new_crew"), filter_mode="contains", select_all=False, wrap=True,
        )  # fmt: skip
        st.form_submit_button("Put it on record", on_click=_record_batch, args=(desk, form))


def _record_batch(desk: Desk, form: ShortForm) -> None:
    label, beer = form.typed("new_label") or "", form.typed("new_beer") or ""
    act(_PLACE, partial(_stated, desk, form, label, beer, tuple(form.typed("new_crew") or ())))


def _stated(desk: Desk, form: ShortForm, label: str, beer: str, crew: tuple[str, ...]) -> str:
    batch_id = batch_steps.state_batch(desk, label, beer, crew)
    chosen = [*(form.typed("batches") or []), batch_id]
    form.put(batches=list(dict.fromkeys(chosen)))
    if (form.typed("label") or "").strip() in ("", "Release"):
        form.put(label=f"Release, {label.strip()}")
    return f"{label.strip()} is on record and chosen."


def _show_checks(form: ShortForm, every: Mapping[str, Batch]) -> None:
    st.html(paper(tag("h2", "Check glasses"), tag("p", escaped(_CHECKS_NOTE), class_="note")))
    st.checkbox("Hide a spiked and a plain one", key=form.key("checks"), **KEPT)
    if not form.typed("checks"):
        return
    families = {every[batch].family for batch in form.typed("batches") or () if batch in every}
    labels = labels_told_apart(
        Choice(compound.key, compound.label)
        for compound in form.choices.compounds
        if compound.serve != "no" and {*families, ""} & set(compound.families)
    )
    if form.typed("compound") not in labels:
        form.put(compound=next(iter(labels), None))
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        st.selectbox(
            "The spiked one holds", list(labels), format_func=labels.get, index=None,
            placeholder="First letters", key=form.key("compound"), width=260, **KEPT,
        )  # fmt: skip
        st.number_input(
            "Level (×)", min_value=0.0, max_value=5.0, step=0.5, format="%g",
            key=form.key("level"), width=120, **KEPT,
        )  # fmt: skip
        st.text_input(
            "What will be added", max_chars=120, key=form.key("addition"), width=300, **KEPT
        )
    form.show_container()


def _wish(desk: Desk, form: ShortForm) -> tuple[tuple[str, ...], Wish | None]:
    short = form.wish()
    if isinstance(short, tuple):
        return short, None
    has_checks = bool(form.typed("checks"))
    compound, level = form.typed("compound"), form.typed("level")
    if has_checks and (compound is None or level is None):
        words = "The spiked check glass needs its compound and its level; or hide no check glasses."
        return (words,), None
    addition = (form.typed("addition") or "").strip()
    check = (compound, Decimal(f"{level:.10g}"), addition) if has_checks else None
    batches = tuple(form.typed("batches") or ())
    return (), release_wishes.release_wish(desk, short, batches, check=check, has_plain=has_checks)
