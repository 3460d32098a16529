"""States how fast a compound is lost between dosing and serving, as the brewery measured it."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.intake.cells import read_number
from seatworthy.intake.words import Unreadable
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.shelf_writing import NOTHING_NEW
from seatworthy.steps.signing import sign

SHORTEST_H: Final = Decimal("0.1")
LONGEST_H: Final = Decimal(100_000)


@dataclass(frozen=True)
class Keeping:
    """How fast a compound is lost.

    Attributes:
        half_life_h: Hours after which half of what was added is gone.
        since: The day from which that counts.
    """

    half_life_h: Decimal
    since: date


def keeping_on(desk: Desk, day: date) -> dict[str, Keeping]:
    """What is in force on a day, by compound; those of which nothing was stated are absent."""
    rows = desk.store.rows("keeping_on", on_day=day)
    return {row["compound"]: Keeping(row["half_life_h"], row["since_on"]) for row in rows}


def state_keeping(
    desk: Desk, compound: str, hours: str, since: date, *, by: str | None = None
) -> str:
    """State after how many hours half of an addition is gone; "" takes a statement back.

    Levels of jugs whose age was stated are counted with it, past ones from that day on too.

    Args:
        desk: The open store.
        compound: The compound's key.
        hours: A number with a decimal point or comma, or "".
        since: The day from which it counts, not after today.
        by: Who states it.

    Raises:
        PanelError: if there is no such compound, the day is to come, or the number is none or beyond
            belief.
    """
    labels = {row["compound"]: row["label"] for row in desk.store.rows("compounds")}
    if compound not in labels:
        message = "Choose a compound first. Nothing was recorded."
        raise PanelError(message)
    if since > desk.today():
        message = f"It can count from today at the latest, got {since}. Nothing was recorded."
        raise PanelError(message)
    half_life = _hours(hours)
    stated = keeping_on(desk, since).get(compound)
    if (stated.half_life_h if stated else None) == half_life:
        return NOTHING_NEW
    with desk.store.recording("shelf") as act:
        act.add("keeping", {"compound": compound, "half_life_h": half_life, "valid_from_on": since})
        sign(act, by)
    name = in_sentence(short_label(labels[compound]))
    if half_life is None:
        return f"Nothing of {name} is counted as lost between dosing and pouring."
    hours_text = f"{half_life.normalize():f}"
    return (
        f"Half of the {name} that was added is counted as gone after {hours_text} hours, in jugs whose "
        "minutes from adding to pouring were stated."
    )


def _hours(written: str) -> Decimal | None:
    if not written.strip():
        return None
    try:
        hours = round(read_number(written), 3)
    except Unreadable as fault:
        message = f"The number of hours {fault} Nothing was recorded."
        raise PanelError(message) from fault
    if not SHORTEST_H <= hours <= LONGEST_H:
        message = (
            f"The number of hours lies between {SHORTEST_H} and {LONGEST_H} hours, got {hours}. "
            "Nothing was recorded."
        )
        raise PanelError(message)
    return hours
