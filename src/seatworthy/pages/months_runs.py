"""Small runs of months, one a compound: what was named right, beside what would be usual."""

from datetime import date
from typing import Final

from seatworthy.pages.markup import escaped, tag
from seatworthy.steps.month_views import CompoundMonth, CompoundMonths, MonthsView

_FEW: Final = 4  # a disc of fewer glasses is hollow: it says little
_LOWEST, _HIGHEST = 8.0, 92.0  # percent of the height, so that a disc at an end is whole
SLIPPED: Final = ("together", "one_day")


def runs(view: MonthsView) -> str:
    """All compounds, what slips first."""
    months = [row.month_on for row in view.months]
    lately = set(months[-view.window :])
    cells = (_cell(one, months, lately) for one in view.compounds)
    return tag("div", "".join(cells), class_="runs")


def slips(view: MonthsView) -> str:
    """What is found of single compounds, one sentence or two each; "" for nothing."""
    lines = [
        tag("li", escaped(one.sentence), class_="is-slip" if one.finding in SLIPPED else "is-one")
        for one in view.compounds
        if one.finding
    ]
    return tag("ul", "".join(lines), class_="slips") if lines else ""


def _cell(one: CompoundMonths, months: list[date], lately: set[date]) -> str:
    by_month = {row.month_on: row for row in one.months}
    columns = "".join(_column(by_month.get(month), month in lately) for month in months)
    run = tag("div", columns, class_="run-of-months", role="img", aria_label=_told(one))
    ends = tag("div", tag("span", _name(months[0])) + tag("span", _name(months[-1])))
    ends = ends.replace("<div>", '<div class="run-ends">', 1)
    head = tag("h3", escaped(one.label)) + _lately(one)
    return tag("div", head + run + ends, class_="is-slip" if one.finding in SLIPPED else "")


def _lately(one: CompoundMonths) -> str:
    if not one.glasses:
        words = "too little before to compare" if one.poured else "not poured lately"
        return tag("span", words, class_="lately")
    usual = f", {one.foretold:.0f} usual"
    words = f"{tag('b', str(one.right))} of {one.glasses} lately{usual}"
    return tag("span", words, class_="lately")


def _column(row: CompoundMonth | None, is_lately: bool) -> str:
    name = "is-lately" if is_lately else ""
    if row is None:
        return tag("span", class_=name)
    few = "is-few" if row.glasses < _FEW else ""
    marks = tag("i", class_=few, style=f"bottom:{_height(row.right / row.glasses):.1f}%")
    if row.usual is not None:
        marks = tag("u", style=f"bottom:{_height(row.usual):.1f}%") + marks
    title = f"{_name(row.month_on)}: {row.right} of {row.glasses}"
    return tag("span", marks, class_=name, title=title)


def _height(share: float) -> float:
    return _LOWEST + (_HIGHEST - _LOWEST) * share


def _told(one: CompoundMonths) -> str:
    told = "; ".join(f"{_name(row.month_on)} {row.right} of {row.glasses}" for row in one.months)
    return f"{one.label}, named right by month: {told}"


def _name(month: date) -> str:
    return f"{month:%b} {month.year}"
