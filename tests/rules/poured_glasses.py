"""Rows of glasses for the counting rules, written as rights (1) and misses (0)."""

from datetime import date, timedelta

from seatworthy.rules.compound_rules import Counted
from seatworthy.rules.facts import Glass, OwnEstimate

COUNTED = Counted(lowest_level=2.0, highest_level=4.0, months=12)
FIRST = date(2026, 1, 5)
TODAY = date(2026, 6, 1)


def glass(number=0, day=FIRST, is_right=True, method="naming", level=3.0, compound="dms"):
    return Glass(f"s{number:03}", day, f"m{day}", compound, method, level, is_right)


def row(pattern, per_day=2, days_apart=7, first=FIRST, **kind):
    """One glass a sign, so many a day."""
    return [
        glass(n, first + timedelta(days=days_apart * (n // per_day)), sign == "1", **kind)
        for n, sign in enumerate(pattern)
    ]


def estimates(*thresholds, first=FIRST, per_day=1):
    return [
        OwnEstimate(first + timedelta(days=n // per_day), value)
        for n, value in enumerate(thresholds)
    ]
