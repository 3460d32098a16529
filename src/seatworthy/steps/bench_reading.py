"""Reads what is typed on the bench: figures within their limits, names, days; or says what is wrong."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.intake.cells import exact_number
from seatworthy.intake.words import Unreadable, read_name
from seatworthy.steps.desk import EARLIEST

NOTHING_RECORDED: Final = "Nothing was recorded."
MICROLITRES: Final = MappingProxyType({"µl": Decimal(1), "ml": Decimal(1000)})
HIGHEST_UL: Final = Decimal(100_000_000)  # 100 l
_LATEST: Final = date(2200, 1, 1)  # a later expiry is a slip of the keys


@dataclass(frozen=True)
class Asked:
    """A figure that is asked for.

    Attributes:
        what: What it is, at the start of a sentence ("The smallest setting").
        unit: Its unit behind the number; "" for none.
        lowest: Lowest value that will do.
        highest: Highest value that will do.
        places: Decimals that are kept.
        is_above: Whether the lowest value itself is too low.
    """

    what: str
    unit: str
    lowest: Decimal
    highest: Decimal
    places: int = 3
    is_above: bool = False

    @property
    def limits(self) -> str:
        """What would do, in words."""
        unit = f" {self.unit}" if self.unit not in ("", "%") else self.unit
        if self.is_above:
            return f"more than {self.lowest:f} and at most {self.highest:f}{unit}"
        return f"{self.lowest:f} to {self.highest:f}{unit}"


def refuse(sentence: str) -> PanelError:
    """A refusal that says that nothing was stored."""
    return PanelError(f"{sentence} {NOTHING_RECORDED}")


def read_figure(asked: Asked, written: str | Decimal) -> Decimal:
    """A figure within its limits, without needless zeros.

    Raises:
        PanelError: if it is empty, no number, outside its limits, or so small that nothing would be kept.
    """
    text = _text(written)
    found = _number(asked, text)
    if found.is_signed() or found > asked.highest:  # first: a hundred digits can't be rounded
        raise _outside(asked, text)
    rounded = round(found, asked.places)
    if found and not rounded:
        message = (
            f"{asked.what} must be {asked.limits} with at most {asked.places} decimals, got {text}, "
            "which would be kept as 0."
        )
        raise refuse(message)
    if rounded < asked.lowest or (asked.is_above and rounded == asked.lowest):
        raise _outside(asked, text)
    return Decimal(plain(rounded))


def read_figure_or(
    asked: Asked, written: str | Decimal | None, otherwise: Decimal | None
) -> Decimal | None:
    """As `read_figure`; ``otherwise`` where nothing is written."""
    if written is None or not _text(written):
        return otherwise
    return read_figure(asked, written)


def read_microlitres(what: str, written: str | Decimal, unit: str) -> Decimal:
    """A volume in microlitres from a number in one of `MICROLITRES`; errors as `read_figure`.

    Raises:
        ValueError: if the unit is not one of ours.
    """
    if unit not in MICROLITRES:
        message = f"{unit!r} is none of {', '.join(MICROLITRES)}."
        raise ValueError(message)
    most = HIGHEST_UL / MICROLITRES[unit]
    asked = Asked(what, unit, Decimal(0), most, places=6, is_above=True)
    return read_figure(asked, written) * MICROLITRES[unit]


def read_whole(what: str, written: str | Decimal, *, lowest: int = 1) -> Decimal:
    """A whole number of units; errors as `read_figure`."""
    found = read_figure(Asked(what, "", Decimal(lowest), Decimal(100_000), places=9), written)
    if found != found.to_integral_value():
        message = f"{what} must be a whole number, got {plain(found)}."
        raise refuse(message)
    return found


def read_word(what: str, written: str) -> str:
    """A name or lot as it stands on screens and on paper.

    Raises:
        PanelError: if it is empty, too long or holds characters that will not do there.
    """
    if not written.strip():
        message = f"{what} is empty: write one."
        raise refuse(message)
    try:
        return read_name(written)
    except Unreadable as fault:
        message = f"{what} {fault}"
        raise refuse(message) from fault


def check_past_day(what: str, day: date, today: date) -> None:
    """Refuse a day to come, or one before anybody kept such records.

    Raises:
        PanelError: if it lies outside.
    """
    if not EARLIEST <= day <= today:
        message = f"{what} is today, {today}, at the latest, got {day}."
        raise refuse(message)


def check_expiry(day: date | None) -> None:
    """Refuse a last day that nobody can mean.

    Raises:
        PanelError: if it lies before 1900 or after 2200.
    """
    if day is not None and not EARLIEST <= day <= _LATEST:
        message = (
            f"The last day on which it may be used is not believable: {day}. Choose one from "
            f"{EARLIEST} to {_LATEST}."
        )
        raise refuse(message)


def plain(number: Decimal) -> str:
    """A number without an exponent and without needless zeros."""
    text = f"{number:f}"
    return (text.rstrip("0").rstrip(".") if "." in text else text) or "0"


def _number(asked: Asked, text: str) -> Decimal:
    if not text:
        message = f"{asked.what} is empty: write a number, {asked.limits}."
        raise refuse(message)
    try:
        return exact_number(text)
    except Unreadable as fault:
        message = f"{asked.what} {fault}"
        raise refuse(message) from fault


def _outside(asked: Asked, text: str) -> PanelError:
    return refuse(f"{asked.what} must be {asked.limits}, got {text}.")


def _text(written: str | Decimal) -> str:
    return f"{written:f}" if isinstance(written, Decimal) else written.strip()
