"""Numbers and amounts as people write them: decimal comma, "3x", units glued on or spelled."""

import re
import unicodedata
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from seatworthy.intake.words import Unreadable, fold, quoted, read_text

MICROGRAMS: Final = MappingProxyType(
    {
        "ng": Decimal("0.001"),
        "ug": Decimal(1),
        "μg": Decimal(1),  # Greek mu; the micro sign is turned into it
        "mcg": Decimal(1),
        "mg": Decimal(1000),
        "g": Decimal(1_000_000),
    }
)
MILLILITRES: Final = MappingProxyType(
    {
        "ml": Decimal(1),
        "cl": Decimal(10),
        "dl": Decimal(100),
        "l": Decimal(1000),
        "hl": Decimal(100_000),
    }
)
PLACES: Final = 9
HIGHEST_LEVEL: Final = 1000
HIGHEST_AMOUNT: Final = 100_000_000  # 100 g in ug, 1,000 hl in ml; nine whole digits are stored
HIGHEST_RATING: Final = 1000
HIGHEST_POSITION: Final = 999
CODE_LENGTH: Final = 20

_NUMBER: Final = re.compile(r"([+-]?)([0-9]{0,40})(?:([.,])([0-9]{1,40}))?(?:e([+-]?[0-9]{1,2}))?")
_AMOUNT: Final = re.compile(r"(.*[0-9])\s*([^\W0-9_]*)")
_LONGEST: Final = 200  # characters; a search for "3 x" takes the square of its text
_TIMES: Final = re.compile(r"(?:[x×*]\s*)?([^x×*]*?)(?:\s*[x×*])?")
_ASIDE_NOT: Final = frozenset({"no", "n", "0", "false", "nein", "nicht"})


def read_number(text: str) -> Decimal:
    """A number with a decimal point or comma, at most nine decimals kept.

    Raises:
        Unreadable: as `exact_number`.
    """
    return rounded(exact_number(text))


def exact_number(text: str) -> Decimal:
    """A number as written, with all its decimals and its sign; at most 80 digits and two of a power.

    Raises:
        Unreadable: if it is none, or if its comma may part thousands ("2,500").
    """
    plain = _in_plain_digits(text).replace("\u2212", "-")
    match = _NUMBER.fullmatch(plain)
    if match is None or not (match[2] or match[4]):
        message = f"must be a number, got {quoted(text)}."
        raise Unreadable(message)
    sign, whole, mark, decimals, power = match.groups(default="")
    if mark == "," and len(decimals) == 3 and whole.strip("0"):
        message = (
            f"may mean {whole}.{decimals} or {whole}{decimals}: {quoted(text)}; "
            "write it with a point, or without a comma."
        )
        raise Unreadable(message)
    return Decimal(f"{sign}{whole or 0}.{decimals or 0}e{power or 0}")


def _in_plain_digits(text: str) -> str:
    """The text in one width, small letters, without outer spaces.

    Full-width digits are what some keyboards write, and are read. A raised, lowered, circled or broken
    one says another thing than the digit in it: 10² isn't 102.

    Raises:
        Unreadable: if it holds such a digit.
    """
    for letter in text:
        dress = unicodedata.decomposition(letter)
        if letter.isnumeric() and dress.startswith("<") and not dress.startswith("<wide>"):
            message = f"must be a number in plain digits, got {quoted(text)}."
            raise Unreadable(message)
    return unicodedata.normalize("NFKC", text).strip().casefold()


def rounded(value: Decimal) -> Decimal:
    """The value with at most nine decimals and no needless zeros, never with an exponent."""
    if not -40 < value.adjusted() < 20:
        return Decimal(0) if value.adjusted() < 0 else Decimal(10) ** 20
    text = f"{value:.{PLACES}f}"
    return Decimal(text.rstrip("0").rstrip("."))


def read_level(text: str) -> Decimal:
    """A multiple of the working threshold: ``3``, ``3x``, ``x 3``, ``2,5``; 0 only fits a blank.

    Raises:
        Unreadable: if it is no number, negative or beyond belief.
    """
    plain = _in_plain_digits(text)
    times = _TIMES.fullmatch(plain) if len(plain) <= _LONGEST else None
    level = read_number(times[1] if times and times[1] else text)
    if level < 0 or (level == 0 and re.search("[1-9]", text)):
        message = f"must be above 0, got {quoted(text)}."
        raise Unreadable(message)
    if level > HIGHEST_LEVEL:
        message = (
            f"must be a multiple of the working threshold up to {HIGHEST_LEVEL}, "
            f"got {quoted(text)}; an amount belongs in the column dose."
        )
        raise Unreadable(message)
    return level


def read_dose(text: str, header_unit: str | None = None) -> Decimal:
    """An added amount in micrograms: ``33 ug``, ``0.033 mg``, ``40 ng``.

    Args:
        text: As found.
        header_unit: Unit of the column's heading, for cells without their own.

    Raises:
        Unreadable: if the number, the unit or the size will not do.
    """
    return _read_amount(text, header_unit, MICROGRAMS, "33 ug (ng, ug, mg or g)")


def read_volume(text: str, header_unit: str | None = None) -> Decimal:
    """A volume in millilitres: ``330 ml``, ``0,33 l``; arguments and errors as `read_dose`."""
    return _read_amount(text, header_unit, MILLILITRES, "330 ml (ml, cl, dl, l or hl)")


def _read_amount(
    text: str, header_unit: str | None, units: MappingProxyType[str, Decimal], example: str
) -> Decimal:
    match = _AMOUNT.fullmatch(_in_plain_digits(text))
    unit = (match[2] if match else "") or header_unit
    if match is None or (unit is not None and unit not in units):
        message = f"must be an amount like {example}, got {quoted(text)}."
        raise Unreadable(message)
    number = read_number(match[1])
    if unit is None:
        message = f"has no unit: {quoted(text)}; write it like {example}."
        raise Unreadable(message)
    amount = rounded(number * units[unit])
    if number == 0 and not number.is_signed():
        return Decimal(0)
    if not 0 < amount <= HIGHEST_AMOUNT:
        message = f"must be above 0 and believable, got {quoted(text)}."
        raise Unreadable(message)
    return amount


def read_rating(text: str) -> Decimal:
    """An intensity rating, 0 or above; raises `Unreadable` otherwise."""
    rating = read_number(text)
    if not 0 <= rating <= HIGHEST_RATING:
        message = f"must lie between 0 and {HIGHEST_RATING}, got {quoted(text)}."
        raise Unreadable(message)
    return rating


def read_position(text: str) -> int:
    """A place in the serving order, counted from 1; raises `Unreadable` otherwise."""
    digits = re.fullmatch(r"([0-9]{1,6})(?:\.0)?", text.strip())
    if digits is None or not 1 <= int(digits[1]) <= HIGHEST_POSITION:
        message = f"must be a whole number from 1 to {HIGHEST_POSITION}, got {quoted(text)}."
        raise Unreadable(message)
    return int(digits[1])


def read_code(text: str) -> str:
    """A blind code as text with its zeros; raises `Unreadable` if it is too long or unseen."""
    code = read_text(text, CODE_LENGTH)
    return code[:-2] if re.fullmatch(r"[0-9]+\.0", code) else code


def read_aside(text: str) -> str | None:
    """Why a glass must not count; None where the cell says that it counts."""
    reason = read_text(text)
    return None if fold(reason) in _ASIDE_NOT else reason
