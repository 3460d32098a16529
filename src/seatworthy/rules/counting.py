"""Which glasses count for a counting rule, and for how long."""

from collections.abc import Sequence
from datetime import date, timedelta

from seatworthy.rules.calendar_months import months_after
from seatworthy.rules.compound_rules import NAMING, Counted, Glasses
from seatworthy.rules.facts import Glass
from seatworthy.rules.verdict import percent

ROUNDING = 1e-9  # what stands exactly on a limit has reached it
_ONE_DAY = timedelta(days=1)


def glasses_that_count(
    glasses: Sequence[Glass], today: date, rule: Glasses, counting: Counted
) -> tuple[Glass, ...]:
    """Glasses of the rule's methods, levels, months and latest sessions, oldest first.

    Args:
        glasses: Glasses of one panellist and compound, in any order.
        today: The day asked; later glasses do not count.
        rule: What the rule says of glasses.
        counting: What holds where the rule says nothing.

    Returns:
        The glasses in the order of `glasses_ever`, both ends of the window of months and both
        levels included; only the latest ``last_sessions`` distinct days where the rule has them.
    """
    first = first_day_counted(today, months_of(rule, counting))
    recent = [glass for glass in glasses_ever(glasses, today, rule, counting) if glass.day >= first]
    if rule.last_sessions is not None and recent:
        latest = sorted({glass.day for glass in recent})[-rule.last_sessions :]
        recent = [glass for glass in recent if glass.day >= latest[0]]
    return tuple(recent)


def glasses_ever(
    glasses: Sequence[Glass], today: date, rule: Glasses, counting: Counted
) -> tuple[Glass, ...]:
    """Glasses of the rule's methods and levels up to today, however old, oldest first.

    Glasses of one day stand in the order of their positions: an order that stays.
    """
    low, high = levels_of(rule, counting)
    found = [
        glass
        for glass in glasses
        if glass.day <= today
        and glass.method in rule.methods
        and low <= round(glass.level, 6) <= high
    ]
    return tuple(sorted(found, key=_order))


def _order(glass: Glass) -> tuple[date, int, str, str]:
    return glass.day, glass.position, glass.session, glass.serving


def levels_of(rule: Glasses, counting: Counted) -> tuple[float, float]:
    """Least and greatest level that counts, multiples of the working threshold."""
    low = counting.lowest_level if rule.lowest_level is None else rule.lowest_level
    high = counting.highest_level if rule.highest_level is None else rule.highest_level
    return low, high


def months_of(rule: Glasses, counting: Counted) -> int:
    """Length of the rule's window."""
    return counting.months if rule.months is None else rule.months


def first_day_counted(today: date, months: int) -> date:
    """First day of the window that ends today, as in the query counted_glasses."""
    return months_after(today, -months) + _ONE_DAY


def last_day_counted(day: date, months: int) -> date:
    """Last day on which a glass of `day` still lies in the window of months.

    Near the end of a month windows of several days start on the same day, so the days after the
    same day of the month are tried too.
    """
    last = months_after(day - _ONE_DAY, months)
    while first_day_counted(last + _ONE_DAY, months) <= day:
        last += _ONE_DAY
    return last


def days_of(glasses: Sequence[Glass]) -> int:
    """Distinct days among glasses."""
    return len({glass.day for glass in glasses})


def right_of(glasses: Sequence[Glass]) -> int:
    """Right answers among glasses."""
    return sum(glass.is_right for glass in glasses)


def servings_of(glasses: Sequence[Glass]) -> tuple[str, ...]:
    """Ids by which a page shows the glasses behind a verdict."""
    return tuple(glass.serving for glass in glasses)


def right_word(rule: Glasses) -> str:
    """How a sentence says that an answer was right: named right where a name was asked for."""
    return "named right" if tuple(rule.methods) == (NAMING,) else "right"


def percent_beside(share: float, limit: float) -> str:
    """A share in whole percent, or with a decimal where whole percent would look like the limit."""
    whole = percent(share)
    if whole == percent(limit) and abs(share - limit) > ROUNDING:
        return f"{100 * share:.3g}%"
    return whole


def number_beside(number: float, limit: float) -> str:
    """A number with three digits, or with more where three would look like the limit."""
    text = f"{number:.3g}"
    is_alike = text == f"{limit:.3g}" and abs(number - limit) > ROUNDING
    return f"{number:.6g}" if is_alike else text


def limit_text(limit: float) -> str:
    """A limit of a rulebook in percent, unrounded."""
    return f"{100 * limit:g}%"
