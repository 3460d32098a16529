"""Preparing a session, on a tablet beside the bench: every vessel in the order of work, ticked as done."""

from collections.abc import Callable, Sequence
from datetime import datetime
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.addresses import asked_word, session_address
from seatworthy.pages.figures import whole_day
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.prepare_changes import offer_changes, offer_other_vessels
from seatworthy.pages.session import no_session
from seatworthy.pages.telling import act, show_told, tell_only_about
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.phrases import multiple
from seatworthy.steps import dosing, vessel_steps
from seatworthy.steps.preparation import preparation
from seatworthy.steps.vessel_views import STEPS, LetterToPrepare, PreparingView, VesselLine

_BY: Final = "prepared_by"
_DAY, _TIME = "prepared_on", "prepared_at"
_TOLD: Final = "prepared"
_BUTTONS: Final = {
    "dosed": "Dosed as planned",
    "capped": "Capped",
    "tight": "Tipped and tight",
    "chilled": "In the cold",
}
_CARE: Final = (
    "Gloves, eye protection and moving air where stocks are opened; no food or drink there. Each "
    "compound's safety data sheet and your local code come first. Training samples, not for sale."
)
_TIGHT: Final = "Tip each bottle once it is capped; where it foams or drips, cap it again."


def show() -> None:
    """Draw the preparation of the session that the address names."""
    session_id = asked_word("session")
    view = preparation(source.the_desk(), session_id) if session_id else None
    if view is None:
        st.html(no_session("No session goes by that address"))
        return
    tell_only_about(view.session_id)
    where = [view.label, whole_day(view.session_on), view.beer, "Preparation (this is the key)"]
    st.html(opening([word for word in where if word], view.answer, view.catch, view.lead))
    link = tag("a", "To the session", href=session_address(view.session_id), target="_self")
    st.html(paper(tag("p", link, class_="ways")))
    if not view.letters:
        _show_by_hand(view)
        if view.is_open:
            offer_other_vessels(view, None)
        return
    st.html(paper(tag("ul", "".join(tag("li", escaped(w)) for w in _cares(view)), class_="care")))
    if view.is_open:
        _ask_who(view)
    told: set[str] = set()
    for letter in view.letters:
        _show_letter(view, letter, told)
    _show_by_hand(view)
    if view.is_open:
        _offer_all(view)
    if view.is_open:
        offer_changes(view, chosen_preparer())


def chosen_preparer() -> str | None:
    """Person id of whoever prepares, as chosen on top; None for nobody on the list."""
    return st.session_state.get(_BY)


def _cares(view: PreparingView) -> tuple[str, ...]:
    return (_CARE, _TIGHT, *view.notes)


def _ask_who(view: PreparingView) -> None:
    names = labels_told_apart(view.people)
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        st.selectbox(
            "Who prepares", list(names), index=None, format_func=names.get,
            placeholder="Somebody who isn't on the list", key=_BY, width=320,
        )  # fmt: skip
        st.date_input(
            "Dosed on (empty: today)", value=None, format="YYYY-MM-DD", key=_DAY, width=190
        )
        st.time_input("Dosed at (empty: now)", value=None, key=_TIME, width=190)


def _when_dosed() -> datetime | None:
    """When it was dosed, as stated on top for what was done before it is ticked; None for now."""
    day, at = st.session_state.get(_DAY), st.session_state.get(_TIME)
    if at is None and day is not None:
        message = "Say at what time it was dosed on that day. Nothing was recorded."
        raise PanelError(message)
    if at is None:
        return None
    return datetime.combine(day or source.the_desk().today(), at)


def _show_by_hand(view: PreparingView) -> None:
    if view.by_hand:
        lines = "".join(tag("li", escaped(line)) for line in view.by_hand)
        st.html(paper(tag("h2", "Written by hand"), tag("ul", lines, class_="care")))


def _offer_all(view: PreparingView) -> None:
    """One button for what every dosed vessel waits for, so that twenty bottles are chilled at once."""
    vessels = [vessel for letter in view.letters for vessel in letter.vessels]
    show_told(_TOLD)
    with st.container(horizontal=True, gap="small"):
        for step in STEPS:
            waiting = [vessel.key for vessel in vessels if vessel.next_step == step]
            if len(waiting) > 1:
                words = f"All {len(waiting)} that wait: {_BUTTONS[step][:1].lower()}{_BUTTONS[step][1:]}"
                st.button(
                    words, key=f"every_{step}", on_click=_record,
                    args=(view, waiting, step, _TOLD),
                )  # fmt: skip


def _show_letter(view: PreparingView, letter: LetterToPrepare, told: set[str]) -> None:
    """One letter with its vessels; a handling note that was told above is not told again.

    What was just recorded stands beside its letter: the top of the page is far away on a tablet.
    """
    place = _place(letter.mark)
    st.html(paper(_letter_head(letter, with_caution=letter.caution not in told)))
    told.add(letter.caution)
    show_told(place)
    for vessel in letter.vessels:
        _show_vessel(view, vessel, place)
    waiting = _waiting(letter.vessels)
    if view.is_open and waiting and len(letter.vessels) > 1:
        step, vessels = waiting
        words = f"All of {letter.mark}: {_BUTTONS[step][:1].lower()}{_BUTTONS[step][1:]}"
        st.button(
            words, key=f"all_{letter.mark}", on_click=_record,
            args=(view, [vessel.key for vessel in vessels], step, place),
        )  # fmt: skip


def _place(mark: str) -> str:
    return f"{_TOLD}_{mark}"


def _waiting(vessels: Sequence[VesselLine]) -> tuple[str, list[VesselLine]] | None:
    """The earliest step that some vessels of a letter wait for, and which do."""
    for step in ("dosed", *STEPS):
        found = [vessel for vessel in vessels if vessel.next_step == step]
        if found:
            return step, found
    return None


def _letter_head(letter: LetterToPrepare, *, with_caution: bool) -> str:
    level = "" if letter.level is None else f", {multiple(float(letter.level))}"
    head = tag("h2", escaped(f"{letter.mark}   {letter.what}{level}"))
    tip = tag("p", "New tip.", class_="note") if letter.is_new_tip else ""
    take = " ".join(filter(None, [letter.take, f"from {letter.stock}" if letter.stock else ""]))
    lines = [
        tag("p", tag("b", escaped(take or "Nothing is added")) + escaped(f", {letter.into}.")),
    ]
    if letter.real:
        lines.append(
            tag(
                "p",
                escaped(f"By the recipe {letter.real}. Prepare it {letter.when}."),
                class_="note",
            )
        )
    elif letter.when:
        lines.append(tag("p", escaped(f"Prepare it {letter.when}."), class_="note"))
    if letter.caution and with_caution:
        lines.append(tag("p", escaped(letter.caution), class_="note"))
    return head + tip + "".join(lines)


def _show_vessel(view: PreparingView, vessel: VesselLine, place: str) -> None:
    with st.container(horizontal=True, vertical_alignment="center", gap="small", width=760):
        st.html(paper(_vessel_words(vessel)), width="stretch")
        step = vessel.next_step
        if view.is_open and step:
            st.button(
                _BUTTONS[step], key=f"next_{vessel.key}", on_click=_record,
                args=(view, [vessel.key], step, place), width=170,
            )  # fmt: skip


def _vessel_words(vessel: VesselLine) -> str:
    done = [vessel.dosed, *(_BUTTONS[step].lower() for step in STEPS if step in vessel.steps)]
    state = "put away, not poured" if vessel.is_put_away else "; ".join(filter(None, done))
    level = "" if vessel.level is None else f" {multiple(vessel.level)}."
    remarks = " ".join(f"“{remark}”" for remark in vessel.remarks)
    words = f"{vessel.where}. {state[:1].upper()}{state[1:]}{'.' if state else ''}{level} {remarks}"
    return tag("p", tag("b", escaped(vessel.key)) + " " + tag("span", escaped(words.strip())))


def _record(view: PreparingView, names: Sequence[str], step: str, place: str) -> None:
    desk, by = source.the_desk(), chosen_preparer()
    done: Callable[[], str]
    if step == "dosed":
        done = partial(_dose_as_seen, view, names, by)
    else:
        done = partial(vessel_steps.do_step, desk, view.session_id, names, step, by)
    act(place, done)


def _dose_as_seen(view: PreparingView, names: Sequence[str], by: str | None) -> str:
    """State that vessels were dosed as this page says.

    Raises:
        PanelError: if the doses were worked out again meanwhile, on another screen.
    """
    desk = source.the_desk()
    now = preparation(desk, view.session_id)
    if now is not None and _doses(now, names) != _doses(view, names):
        message = (
            "The doses were worked out again since this page was drawn: they stand here as they are "
            "now. Look at what really went in, then tick it. Nothing was recorded."
        )
        raise PanelError(message)
    return dosing.dose_as_planned(desk, view.session_id, names, by, _when_dosed())


def _doses(view: PreparingView, names: Sequence[str]) -> list[tuple[str, ...]]:
    """What is read of the doses of some vessels before they are ticked."""
    return [
        (vessel.key, letter.take, letter.stock, letter.into)
        for letter in view.letters
        for vessel in letter.vessels
        if vessel.key in names
    ]
