"""What the leader moves on the page of misses: who is here, who sits, the rule and the limit.

Every choice stands in the address, as on other pages; see `choices`.
"""

from collections.abc import Collection, Sequence
from decimal import Decimal, InvalidOperation
from typing import Final

import streamlit as st

from seatworthy.pages.addresses import asked_word
from seatworthy.pages.markup import plain_markdown
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.batches import Batch
from seatworthy.steps.miss_views import USUAL_LIMIT, MissView, SitterLine, Wanted
from seatworthy.steps.views import Choice

LIMITS: Final = ("0.05", "0.10", "0.20", "0.30")
_APART: Final = "."
_NOBODY: Final = "nobody"
_LEAST_SIZE: Final = 2


def wanted() -> Wanted:
    """What the address asks for; a word that says nothing counts as not said."""
    return Wanted(
        family=asked_word("family"),
        batch_id=asked_word("batch"),
        here=_people("here"),
        sits=_people("sits"),
        callers=_number("callers"),
        limit=_limit(),
        size=_number("size"),
    )


def choose_batch(batches: Sequence[Batch], current: Batch | None) -> None:
    """Offer the batches on record; none means a panel for the family as such."""
    if not batches:
        return
    labels = labels_told_apart(
        Choice(one.batch_id, f"{one.label}, {one.beer_label}") for one in batches
    )
    st.session_state["miss_batch"] = current.batch_id if current else None
    st.selectbox(
        "Batch",
        list(labels),
        format_func=labels.get,
        placeholder="No batch chosen",
        index=None,
        key="miss_batch",
        on_change=_write,
        args=("batch",),
    )


def choose_people(view: MissView) -> None:
    """Offer who is here and fit, and of these who sits; a tick changes the page at once."""
    st.session_state["miss_here"] = [line.person_id for line in view.people if line.is_here]
    st.session_state["miss_sits"] = [line.person_id for line in view.people if line.sits]
    _pills("Here today and fit", view.people, "here")
    _pills("On this panel", [line for line in view.people if line.is_here], "sits")


def _pills(words: str, people: Sequence[SitterLine], name: str) -> None:
    labels = labels_told_apart(
        Choice(line.person_id, plain_markdown(line.short)) for line in people
    )
    if labels:
        st.pills(
            words,
            list(labels),
            selection_mode="multi",
            wrap=True,
            format_func=labels.get,
            key=f"miss_{name}",
            on_change=_write_people,
            args=(name,),
        )


def choose_rule(view: MissView) -> None:
    """Offer how many callers make a fault call, and how often a compound may slip past."""
    st.session_state["miss_callers"] = view.figures.callers
    st.session_state["miss_limit"] = _nearest(view.figures.limit)
    callers = sorted({*range(1, min(view.most_callers, 5) + 1), view.figures.callers})
    st.segmented_control(
        "Callers that make a fault call",
        callers,
        required=True,
        key="miss_callers",
        on_change=_write,
        args=("callers",),
    )
    limits = sorted({*LIMITS, _nearest(view.figures.limit)}, key=Decimal)
    st.segmented_control(
        "May slip past, of 100 such tanks",
        limits,
        required=True,
        format_func=lambda limit: f"{100 * float(limit):g}",
        key="miss_limit",
        on_change=_write,
        args=("limit",),
    )


def choose_size(view: MissView) -> None:
    """Offer of how many people the best panel is looked for."""
    most = sum(line.is_here for line in view.people)
    sizes = sorted({*range(min(_LEAST_SIZE, most), most + 1), view.size})
    if len(sizes) < 2:
        return
    st.session_state["miss_size"] = view.size
    st.segmented_control(
        "Best panel of",
        sizes,
        required=True,
        key="miss_size",
        on_change=_write,
        args=("size",),
    )


def take(people: Collection[str]) -> None:
    """Put these people on the panel; from a callback."""
    st.query_params["sits"] = _APART.join(people) or _NOBODY


def _people(name: str) -> tuple[str, ...] | None:
    said = asked_word(name)
    if said is None:
        return None
    return () if said == _NOBODY else tuple(said.split(_APART))


def _number(name: str) -> int | None:
    said = asked_word(name) or ""
    number = int(said) if said.isascii() and said.isdigit() and len(said) < 3 else 0
    return number or None


def _limit() -> Decimal:
    try:
        limit = Decimal(asked_word("limit") or "")
    except InvalidOperation:
        return USUAL_LIMIT
    return round(limit, 4) if limit.is_finite() and 0 < limit < 1 else USUAL_LIMIT


def _nearest(limit: Decimal) -> str:
    """The limit as one of those offered, or as it is."""
    return next((one for one in LIMITS if Decimal(one) == limit), f"{limit:f}")


def _write(name: str) -> None:
    value = st.session_state[f"miss_{name}"]
    if value is None:
        st.query_params.pop(name, None)
    else:
        st.query_params[name] = str(value)


def _write_people(name: str) -> None:
    st.query_params[name] = _APART.join(st.session_state[f"miss_{name}"] or ()) or _NOBODY
