"""Single values of a shelf file: keys, units, how a background is known, time zones."""

import re
from decimal import Decimal
from functools import cache
from types import MappingProxyType
from typing import Final
from zoneinfo import available_timezones

from seatworthy.intake.words import Unreadable, quoted

KEY_LENGTH: Final = 40
KEY_RULE: Final = (
    "must be small letters and digits joined by underscores, like pale_lager, "
    f"at most {KEY_LENGTH} of them"
)
_KEY: Final = re.compile(r"[a-z0-9]+(?:_[a-z0-9]+)*")
_UNITS: Final = MappingProxyType(
    {"ng/l": Decimal("0.001"), "ug/l": Decimal(1), "μg/l": Decimal(1), "mg/l": Decimal(1000)}
)
_KNOWN: Final = ("measured", "assumed", "unknown")
_time_zones: Final = cache(available_timezones)  # a walk over many files


def is_key(text: str) -> bool:
    """Whether a text can be the key of a family or a compound."""
    return len(text) <= KEY_LENGTH and _KEY.fullmatch(text) is not None


def read_key(text: str) -> str:
    """A key as it is; raises `Unreadable` if it is none."""
    if not is_key(text):
        message = f"{KEY_RULE}, got {quoted(text)}."
        raise Unreadable(message)
    return text


def read_unit(text: str) -> Decimal:
    """Micrograms per litre in one of a unit; raises `Unreadable` if it is none of ours."""
    factor = _UNITS.get(text.replace(" ", "").casefold())
    if factor is None:
        message = f"must be ng/L, ug/L or mg/L, got {quoted(text)}."
        raise Unreadable(message)
    return factor


def read_known(text: str) -> str:
    """How a background is known; raises `Unreadable` if it is none of the three words."""
    if text not in _KNOWN:
        message = f"must be {', '.join(_KNOWN[:-1])} or {_KNOWN[-1]}, got {quoted(text)}."
        raise Unreadable(message)
    return text


def read_time_zone(text: str) -> str:
    """A time zone as it is; raises `Unreadable` if there is none of that name."""
    if text not in _time_zones():
        message = f"must be a time zone like Europe/Dublin, got {quoted(text)}."
        raise Unreadable(message)
    return text
