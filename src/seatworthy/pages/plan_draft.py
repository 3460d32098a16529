"""The plan as typed so far: kept while other pages are visited, and read as a wish."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any, Final

import streamlit as st

from seatworthy.pages.addresses import asked_word
from seatworthy.sessions.wish import Limits, WantedSample, WantedSitting, Wish
from seatworthy.steps import planning
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_views import PlanChoices

MOST_SITTINGS: Final = 4
PREFIX: Final = "plan_"
SAMPLES: Final = "plan_samples_first"  # what the table of samples starts with on this visit
SAMPLES_NOW: Final = "plan_samples_now"
EDITOR: Final = "plan_samples"
_AGAIN, _RECORDED = "plan_again", "plan_recorded"


def start_or_keep(desk: Desk, choices: PlanChoices) -> None:
    """Fill the form on a first visit; on another one leave it as it was left.

    A plan that was recorded, or another session to repeat, makes a new start.
    """
    state = st.session_state
    if EDITOR in state and _RECORDED in state:
        return
    again = asked_word("again")
    is_other = again is not None and again != state.get(_AGAIN)
    if _RECORDED not in state or recorded_here() or is_other:
        wish = planning.wish_again(desk, again) if again else planning.first_wish(desk)
        _fill(wish, choices)
        state[_AGAIN], state[_RECORDED] = again, {}
    state[SAMPLES] = state[SAMPLES_NOW]


def start_afresh() -> None:
    """Forget what was typed; the next run starts with an empty plan."""
    for key in (_RECORDED, _AGAIN, EDITOR):
        st.session_state.pop(key, None)
    st.query_params.pop("again", None)


def recorded_here() -> dict[Wish, str]:
    """Session id by wish, for what was recorded from this draft."""
    return st.session_state[_RECORDED]


def again_words() -> tuple[str, ...]:
    """What is said of a plan that repeats an earlier one."""
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
    )


def _sitting(number: int) -> WantedSitting | None:
    start = typed(f"time_{number}")
    if start is None or typed("day") is None:
        return None if start is None else WantedSitting("", datetime.min, ())
    label = (typed(f"label_{number}") or "").strip()
    people = tuple(typed(f"people_{number}") or ())
    return WantedSitting(label, datetime.combine(typed("day"), start), people)


def _fill(wish: Wish, choices: PlanChoices) -> None:
    state = st.session_state
    known = {person.person_id for person in choices.people}
    for name, value in _fields(wish, choices, known).items():
        state[PREFIX + name] = value
    for number in range(MOST_SITTINGS):
        sitting = wish.sittings[number] if number < len(wish.sittings) else None
        start = sitting.starts_at if sitting else wish.sittings[-1].starts_at
        people = [person for person in sitting.people if person in known] if sitting else []
        state[f"{PREFIX}label_{number}"] = sitting.label if sitting else f"Sitting {number + 1}"
        state[f"{PREFIX}time_{number}"] = start.time()
        state[f"{PREFIX}people_{number}"] = people
    state[SAMPLES_NOW] = wish.samples


def _fields(wish: Wish, choices: PlanChoices, known: set[str]) -> dict[str, object]:
    beers = {beer.key for beer in choices.beers}
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
    }


def _decimal(number: float) -> Decimal:
    return Decimal(f"{number:.10g}")
