"""States how long a compound keeps once dosed, and how strong it may be served."""

from datetime import date
from decimal import Decimal
from typing import Final

from seatworthy.steps.bench_facts import USUAL_CEILING, Limit, limits_on
from seatworthy.steps.bench_reading import (
    Asked,
    check_past_day,
    plain,
    read_figure_or,
    refuse,
)
from seatworthy.steps.bench_writing import KIND
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import day_in_sentence, joined
from seatworthy.steps.shelf_writing import NOTHING_NEW
from seatworthy.steps.signing import sign

_COLUMNS: Final = ("keeps_h", "keeps_weak_h", "highest_level")
_SHORTEST_H: Final = Decimal("0.1")
_LONGEST_H: Final = Decimal(10_000)
_KEEPS: Final = Asked("How long it keeps", "hours", _SHORTEST_H, _LONGEST_H)
_KEEPS_WEAK: Final = Asked("How long it keeps when weak", "hours", _SHORTEST_H, _LONGEST_H)
_CEILING: Final = Asked("The strongest level", "×", Decimal(0), Decimal(1000), is_above=True)


def state_limits(
    desk: Desk,
    compound: str,
    keeps: str,
    keeps_weak: str,
    ceiling: str,
    since: date,
    *,
    by: str | None = None,
) -> str:
    """State a compound's own limits, all three together; "" takes a statement back.

    Args:
        desk: The open store.
        compound: The compound's key.
        keeps: Hours between dosing and serving for which a preparation keeps.
        keeps_weak: The same at the working threshold or below.
        ceiling: Strongest level that may be served, multiples of the working threshold.
        since: The day from which that counts, today or before.
        by: Who states it.

    Raises:
        PanelError: if there is no such compound, or a figure or the day will not do.
    """
    label = _label(desk, compound)
    check_past_day("The day from which it counts", since, desk.today())
    stated = Limit(
        read_figure_or(_KEEPS, keeps, None),
        read_figure_or(_KEEPS_WEAK, keeps_weak, None),
        read_figure_or(_CEILING, _without_times(ceiling), None),
    )
    _check_weak(stated)
    with desk.store.recording(KIND) as act:
        if _figures(limits_on(desk, since).get(compound, Limit())) == _figures(stated):
            return NOTHING_NEW
        row = dict(zip(_COLUMNS, _figures(stated), strict=True))
        act.add("compound_limit", {"compound": compound, **row, "valid_from_on": since})
        sign(act, by)
    return f"{label}, from {day_in_sentence(since, desk.today())}: {limit_words(stated)}."


def limit_words(limit: Limit) -> str:
    """What is stated of a compound, in words; what is usual where nothing is."""
    said = []
    if limit.keeps_h is not None:
        said.append(f"keeps {plain(limit.keeps_h)} hours once dosed")
    if limit.keeps_weak_h is not None:
        said.append(f"{plain(limit.keeps_weak_h)} hours when weak")
    if limit.highest_level is not None:
        said.append(f"served up to {plain(limit.highest_level)}×")
    if not said:
        return f"what is usual holds, up to {USUAL_CEILING}×"
    return joined(said)


def _label(desk: Desk, compound: str) -> str:
    for row in desk.store.rows("compound_care"):
        if row["compound"] == compound:
            return short_label(row["label"])
    message = "Choose a compound first."
    raise refuse(message)


def _without_times(written: str) -> str:
    """A level without the one sign behind its number ("5×", "5 x"); a sign alone stays, and is no number."""
    text = written.strip()
    number = text[:-1].strip() if text.endswith(("×", "x", "X")) else text
    return number or text


def _figures(limit: Limit) -> tuple[Decimal | None, ...]:
    return limit.keeps_h, limit.keeps_weak_h, limit.highest_level


def _check_weak(limit: Limit) -> None:
    if None in (limit.keeps_h, limit.keeps_weak_h) or limit.keeps_weak_h <= limit.keeps_h:
        return
    message = (
        f"It keeps {plain(limit.keeps_h)} hours, but {plain(limit.keeps_weak_h)} hours when weak: "
        "a weak preparation doesn't keep longer."
    )
    raise refuse(message)
