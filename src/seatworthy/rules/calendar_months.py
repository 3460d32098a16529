"""Months back and forth, as rules count them."""

from datetime import date, timedelta


def months_before(day: date, months: int) -> date:
    """The same day of the month so many months earlier, or that month's last day."""
    return months_after(day, -months)


def months_after(day: date, months: int) -> date:
    """The same day of the month so many months later, or that month's last day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    first_of_next = date(year + (month + 1) // 12, (month + 1) % 12 + 1, 1)
    last = (first_of_next - timedelta(days=1)).day
    return date(year, month + 1, min(day.day, last))
