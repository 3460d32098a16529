"""What was done otherwise: another dose, a vessel put away, a step taken back, a note, other vessels."""

from collections.abc import Callable
from datetime import datetime
from decimal import Decimal
from functools import partial
from types import MappingProxyType
from typing import Final

import streamlit as st

from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import dosing, recipes_again, vessel_steps
from seatworthy.steps.vessel_views import PreparingView, VesselLine

_TOLD: Final = "prepared_otherwise"
_KINDS: Final = MappingProxyType(
    {
        "dose": "Something else went in",
        "put_away": "It leaks or isn't poured",
        "back": "Take back what was ticked",
        "note": "Write something down",
    }
)
_DOSE_FIELDS: Final = ("lot", "amount", "shots", "pipette", "volume", "time", "words")
# Where a field ends, so that a slip of the keyboard isn't read out in full; ours, no source.
_MOST_UL, _MOST_ML, _MOST_SHOTS = 20_000_000.0, 100_000.0, 1000
_TAKEN_BACK: Final = MappingProxyType(
    {
        "dosed": "that it was dosed",
        "capped": "that it was capped",
        "tight": "that it was tight",
        "chilled": "that it was chilled",
        "put_away": "that it was put away",
    }
)


def offer_changes(view: PreparingView, by: str | None) -> None:
    """Everything that is not the next step as planned.

    Args:
        view: The preparation.
        by: Person id of whoever prepares, as chosen on top.
    """
    st.html(paper(tag("h2", "Done otherwise")))
    show_told(_TOLD)
    vessels = {vessel.key: vessel for letter in view.letters for vessel in letter.vessels}
    chosen = st.selectbox(
        "Vessel", list(vessels), index=None, placeholder="Choose one", key="other_vessel", width=160
    )
    kind = st.segmented_control(
        "What happened", list(_KINDS), format_func=_KINDS.get, key="other_kind", required=True,
        default="dose",
    )  # fmt: skip
    if chosen is not None:
        _FORMS[kind](view, vessels[chosen], by)
    offer_other_vessels(view, by)


def _dose_form(view: PreparingView, vessel: VesselLine, by: str | None) -> None:
    letter = next(one for one in view.letters if vessel in one.vessels)
    lots = labels_told_apart(letter.stocks)
    tools = labels_told_apart(view.pipettes)
    with st.form("other_dose", border=False):
        st.html(paper(tag("p", escaped("An empty field stays as the recipe says."), class_="note")))
        with st.container(horizontal=True, gap="small"):
            st.selectbox(
                "Lot",
                list(lots),
                index=None,
                placeholder="Choose a lot",
                format_func=lots.get,
                key="other_lot",
                width=280,
            )
            st.number_input(
                "Dose in all, µl or units", value=None, min_value=0.0, max_value=_MOST_UL, format="%g",
                key="other_amount", width=190,
            )  # fmt: skip
            st.number_input(
                "Shots", value=None, min_value=1, max_value=_MOST_SHOTS, step=1, key="other_shots",
                width=110,
            )  # fmt: skip
            st.selectbox(
                "Pipette", list(tools), index=None, placeholder="Choose one", format_func=tools.get, key="other_pipette",
                width=190,
            )  # fmt: skip
            st.number_input(
                "Beer in it, ml", value=None, min_value=0.0, max_value=_MOST_ML, format="%g",
                key="other_volume", width=140,
            )  # fmt: skip
            st.time_input("At", value=None, key="other_time", width=120)
        st.text_input("What happened, in words", max_chars=200, key="other_words")
        st.form_submit_button(
            f"Record what went into {vessel.key}",
            on_click=_record_dose,
            args=(view, vessel.key, by),
        )


def _record_dose(view: PreparingView, name: str, by: str | None) -> None:
    """Record it and empty the fields, which would else be taken for the next vessel's."""
    if _act(partial(_dose_otherwise, view, name, by)):
        for field in _DOSE_FIELDS:
            st.session_state[f"other_{field}"] = "" if field == "words" else None


def _dose_otherwise(view: PreparingView, name: str, by: str | None) -> str:
    state = st.session_state
    if not any(state[f"other_{field}"] not in (None, "") for field in _DOSE_FIELDS):
        message = f"Fill in first what was otherwise with {name}. Nothing was recorded."
        raise PanelError(message)
    dose = dosing.OtherDose(
        stock_id=state["other_lot"],
        amount=_decimal(state["other_amount"]),
        pipette_id=state["other_pipette"],
        shots=None if state["other_shots"] is None else int(state["other_shots"]),
        volume_ml=_decimal(state["other_volume"]),
    )
    day = state.get("prepared_on") or source.the_desk().today()  # as chosen on top
    at = None if state["other_time"] is None else datetime.combine(day, state["other_time"])
    words = state["other_words"]
    return dosing.dose_otherwise(source.the_desk(), view.session_id, name, dose, words, by, at)


def _put_away_form(view: PreparingView, vessel: VesselLine, by: str | None) -> None:
    _reason_form(view, vessel, by, "put_away", f"Put {vessel.key} away")


def _back_form(view: PreparingView, vessel: VesselLine, by: str | None) -> None:
    done = ["dosed"] if vessel.dosed else []
    done += [*vessel.steps, *(["put_away"] if vessel.is_put_away else [])]
    if not done:
        words = f"Nothing is ticked on {vessel.key} yet."
        st.html(paper(tag("p", escaped(words), class_="note")))
        return
    st.selectbox("Take back", done, format_func=_TAKEN_BACK.get, key="other_back", width=280)
    _reason_form(view, vessel, by, "back", "Take it back")


def _note_form(view: PreparingView, vessel: VesselLine, by: str | None) -> None:
    _reason_form(view, vessel, by, "note", "Write it down")


def _reason_form(
    view: PreparingView, vessel: VesselLine, by: str | None, what: str, button: str
) -> None:
    names = labels_told_apart(view.people)
    with st.form(f"form_{what}", border=False):
        st.text_input("What was noted" if what == "note" else "Why", max_chars=200, key="other_why")
        keys = list(names)
        st.selectbox(
            "Who says so", keys, index=keys.index(by) if by in keys else None,
            placeholder="Choose a person",
            format_func=names.get, key="other_by", width=320,
        )  # fmt: skip
        st.form_submit_button(button, on_click=_record_reason, args=(view, vessel.key, what))


def _record_reason(view: PreparingView, name: str, what: str) -> None:
    state, desk = st.session_state, source.the_desk()
    why, by, session_id = state["other_why"], state["other_by"], view.session_id
    steps: dict[str, Callable[[], str]] = {
        "put_away": partial(vessel_steps.put_away, desk, session_id, name, why, by),
        "note": partial(vessel_steps.note_down, desk, session_id, name, why, by),
    }
    back = state.get("other_back", "dosed")
    if what == "back" and back == "dosed":
        steps["back"] = partial(dosing.take_back_dose, desk, session_id, name, why, by)
    elif what == "back":
        steps["back"] = partial(vessel_steps.take_back_step, desk, session_id, name, back, why, by)
    if _act(steps[what]):
        state["other_why"] = ""


def _act(step: Callable[[], str]) -> bool:
    return act(_TOLD, step)


_FORMS: Final[MappingProxyType[str, Callable[[PreparingView, VesselLine, str | None], None]]] = (
    MappingProxyType(
        {"dose": _dose_form, "put_away": _put_away_form, "back": _back_form, "note": _note_form}
    )
)


def offer_other_vessels(view: PreparingView, by: str | None) -> None:
    """Work the doses out again, as long as nothing is dosed."""
    if any(vessel.dosed for letter in view.letters for vessel in letter.vessels):
        return
    choices = labels_told_apart(recipes_again.vessel_choices(source.the_desk()))
    if not choices:
        return
    if not view.letters:
        show_told(_TOLD)
    st.html(paper(tag("h2", "Work the doses out again" if view.letters else "Work the doses out")))
    with (
        st.form("doses_again", border=False),
        st.container(horizontal=True, vertical_alignment="bottom", gap="small"),
    ):
        st.selectbox(
            "Dosed in",
            list(choices),
            index=None,
            placeholder="Choose one",
            format_func=choices.get,
            key="again_in",
            width=280,
        )
        st.form_submit_button("Work them out", on_click=_record_again, args=(view, by))


def _record_again(view: PreparingView, by: str | None) -> None:
    chosen = st.session_state["again_in"]

    def step() -> str:
        if chosen is None:
            return "Choose a kind of vessel first. Nothing was recorded."
        return recipes_again.work_out_again(source.the_desk(), view.session_id, chosen, by)

    _act(step)


def _decimal(number: float | None) -> Decimal | None:
    return None if number is None else Decimal(f"{number:.10g}")
