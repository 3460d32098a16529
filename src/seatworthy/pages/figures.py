"""How a number or a day is written; rounding happens here and nowhere before."""

from datetime import date, timedelta

# The month alone says which year is meant as long as a day lies closer than this.
_PLAIN_YEAR = timedelta(days=183)


def chance_in_hundred(chance: float) -> str:
    """A chance in whole hundredths, without a sign; ``<1`` for less than one in a hundred."""
    return "<1" if 0 < chance < 0.01 else f"{100 * chance:.0f}"


def percent(chance: float) -> str:
    """A chance as ``88%``."""
    return f"{chance_in_hundred(chance)}%"


def spread(limits: tuple[float, float] | None) -> str:
    """Two limits of a chance as ``76 to 97``; empty where nothing is known."""
    return "" if limits is None else " to ".join(chance_in_hundred(limit) for limit in limits)


def guessing_chance(chance: float | None) -> str:
    """The chance to do so well by guessing, to two figures; empty without a set."""
    if chance is None:
        return ""
    return "<0.0001" if chance < 0.0001 else f"{chance:.2g}"


def short_day(day: date, seen_on: date) -> str:
    """A day in a table, ``14 Dec``; with its year where the year is not plain."""
    return f"{day.day} {day:%b}" + _year(day, seen_on)


def long_day(day: date, seen_on: date) -> str:
    """A day in a sentence, ``14 December``; with its year where the year is not plain."""
    return f"{day.day} {day:%B}" + _year(day, seen_on)


def whole_day(day: date) -> str:
    """A day with everything, ``Wednesday 25 November 2026``."""
    return f"{day:%A} {day.day} {day:%B} {day.year}"


def _year(day: date, seen_on: date) -> str:
    is_plain = day.year == seen_on.year or abs(day - seen_on) < _PLAIN_YEAR
    return "" if is_plain else f" {day.year}"
