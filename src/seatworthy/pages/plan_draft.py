"""The plan as typed so far: kept while other pages are visited, and read as a wish."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any, Final

import streamlit as st

from seatworthy.pages.addresses import asked_word
from seatworthy.sessions.wish import Limits, WantedSample, WantedSitting, Wish
from seatworthy.steps import planning
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_views import PlanChoices

MOST_SITTINGS: Final = 4
_LATER: Final = timedelta(hours=2)  # between one sitting and the next, until somebody says so
PREFIX: Final = "plan_"
BLANK: Final = "(blank)"  # among the compounds of a row
ROWS: Final = "plan_rows"  # numbers of the rows of samples, in their order
AFRESH: Final = "plan_afresh"  # a button; its key is there while the page is, and goes with it
_AGAIN, _RECORDED, _HANDED = "plan_again", "plan_recorded", "plan_handed"
_PROPOSED: Final = "plan_proposed"


def row_key(number: int, name: str) -> str:
    """Key of one field of one row of samples."""
    return f"{PREFIX}row_{number}_{name}"


def hand_over(wish: Wish) -> None:
    """Let the next visit to the plan start from a wish that another page made."""
    st.session_state[_HANDED] = wish


def first_wish_of_visit(desk: Desk) -> Wish | None:
    """What the form must be filled with: None if it is to stay as it was left.

    A first visit, a plan that was recorded, a wish handed over or another session to repeat makes a
    new start.
    """
    state = st.session_state
    if _HANDED in state:
        state[_AGAIN], state[_RECORDED], state[_PROPOSED] = asked_word("again"), {}, True
        return state.pop(_HANDED)
    if AFRESH in state and _RECORDED in state:
        return None
    again = asked_word("again")
    is_other = again is not None and again != state.get(_AGAIN)
    if _RECORDED in state and not recorded_here() and not is_other:
        return None
    state[_AGAIN], state[_RECORDED], state[_PROPOSED] = again, {}, False
    return planning.wish_again(desk, again) if again else planning.first_wish(desk)


def start_afresh() -> None:
    """Forget what was typed; the next run starts with an empty plan."""
    for key in (_RECORDED, _AGAIN):
        st.session_state.pop(key, None)
    st.query_params.pop("again", None)


def recorded_here() -> dict[Wish, str]:
    """Session id by wish, for what was recorded from this draft."""
    return st.session_state[_RECORDED]


def again_words() -> tuple[str, ...]:
    """What is said of a plan that repeats an earlier one, or was proposed."""
    if st.session_state.get(_PROPOSED):
        return ("as proposed",)
    return ("again, with fresh codes",) if st.session_state.get(_AGAIN) else ()


def typed(name: str) -> Any:  # noqa: ANN401
    """What a field of the form holds."""
    return st.session_state.get(PREFIX + name)


def wish_of_draft(samples: Sequence[WantedSample]) -> tuple[tuple[str, ...], Wish | None]:
    """The wish, or what is missing to make one, as sentences."""
    needed = {
        "day": "Choose a day.",
        "beer": "Choose the base beer.",
        "abv": "Say how strong the base beer is, in percent by volume.",
        "volume": "Say how much is poured into a glass.",
        "alcohol": "Say how much alcohol one person may swallow.",
        "most": "Say how many glasses one person may get at most.",
    }
    missing = tuple(sentence for name, sentence in needed.items() if typed(name) is None)
    sittings = [_sitting(number) for number in range(typed("sittings") or 1)]
    if any(sitting is None for sitting in sittings):
        missing += ("Say when each sitting starts.",)
    if missing:
        return missing, None
    return (), _wish(tuple(samples), tuple(s for s in sittings if s is not None))


def _wish(samples: tuple[WantedSample, ...], sittings: tuple[WantedSitting, ...]) -> Wish:
    return Wish(
        session_on=typed("day"),
        label=(typed("label") or "").strip(),
        purpose=typed("purpose"),
        beer=typed("beer"),
        abv_percent=_decimal(typed("abv")),
        volume_ml=_decimal(typed("volume")),
        samples=samples,
        sittings=sittings,
        has_control=bool(typed("control")),
        spits=bool(typed("spits")),
        preparers=tuple(typed("preparers") or ()),
        spares=int(typed("spares") or 0),
        leaves_out=bool(typed("leaves_out")),
        seed=int(typed("seed") or 0),
        limits=Limits(
            int(typed("most")), _decimal(typed("alcohol")), _decimal(typed("spat") or 0) / 100
        ),
        repeats=st.session_state.get(_AGAIN),
        flight=int(typed("flight")) if typed("flight") else None,
        strong_late=bool(typed("strong_late")),
        container=typed("container"),
    )


def _sitting(number: int) -> WantedSitting | None:
    start = typed(f"time_{number}")
    if start is None or typed("day") is None:
        return None if start is None else WantedSitting("", datetime.min, ())
    label = (typed(f"label_{number}") or "").strip()
    people = tuple(typed(f"people_{number}") or ())
    return WantedSitting(label, datetime.combine(typed("day"), start), people)


def fill(wish: Wish, choices: PlanChoices) -> None:
    """Fill every field but the rows of samples."""
    state = st.session_state
    known = {person.person_id for person in choices.people}
    for name, value in _fields(wish, choices, known).items():
        state[PREFIX + name] = value
    for number in range(MOST_SITTINGS):
        sitting = wish.sittings[number] if number < len(wish.sittings) else None
        later = _LATER * (number + 1 - len(wish.sittings))
        start = sitting.starts_at if sitting else wish.sittings[-1].starts_at + later
        people = [person for person in sitting.people if person in known] if sitting else []
        state[f"{PREFIX}label_{number}"] = sitting.label if sitting else f"Sitting {number + 1}"
        state[f"{PREFIX}time_{number}"] = start.time()
        state[f"{PREFIX}people_{number}"] = people


def _fields(wish: Wish, choices: PlanChoices, known: set[str]) -> dict[str, object]:
    beers = {beer.key for beer in choices.beers}
    vessels = {vessel.key for vessel in choices.containers}
    return {
        "day": wish.session_on,
        "label": wish.label,
        "purpose": wish.purpose,
        "beer": wish.beer if wish.beer in beers else None,
        "abv": float(wish.abv_percent),
        "volume": float(wish.volume_ml),
        "control": wish.has_control,
        "spits": wish.spits,
        "spat": float(100 * wish.limits.spat_share),
        "alcohol": float(wish.limits.alcohol_g),
        "most": wish.limits.most_glasses,
        "sittings": len(wish.sittings),
        "preparers": [person for person in wish.preparers if person in known],
        "spares": wish.spares,
        "leaves_out": wish.leaves_out,
        "seed": wish.seed,
        "flight": wish.flight,
        "strong_late": wish.strong_late,
        "container": wish.container if wish.container in vessels else None,
    }


def _decimal(number: float) -> Decimal:
    return Decimal(f"{number:.10g}")
