"""The tables of the panel over time: month by month, who came, and the cover of each shift."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from seatworthy.pages.addresses import record_address
from seatworthy.pages.figures import percent, spread
from seatworthy.pages.markup import escaped, tag
from seatworthy.steps.month_views import AttendanceRow, CoverRow, MonthRow, MonthsView

_HEADS: Final = (
    ("Month", ""),
    ("named right", ""),
    ("share (95%)", ""),
    ("usual", ""),
    ("model's mean", "can-wait"),
    ("calls in blanks", ""),
    ("rate (95%)", "can-wait"),
    ("days", "can-wait"),
)


def months_table(view: MonthsView) -> str:
    """One row a month, the newest first; what is not known is an empty cell."""
    heads = "".join(tag("th", escaped(words), scope="col", class_=name) for words, name in _HEADS)
    body = "".join(_month(row) for row in reversed(view.months))
    return _across(tag("thead", tag("tr", heads)) + tag("tbody", body), "by-month", "By month")


def attendance_table(view: MonthsView, on: date | None) -> str:
    """One row a person by name, one column a month; before somebody's first session it is empty."""
    months = [row.month_on for row in view.months]
    heads = [tag("th", "Who", scope="col")]
    heads += [tag("th", f"{month:%b}", scope="col", title=f"{month:%B %Y}") for month in months]
    heads.append(tag("th", "in all", scope="col"))
    body = "".join(_person(row, view, on) for row in view.attendance)
    table = tag("thead", tag("tr", "".join(heads))) + tag("tbody", body)
    return _across(table, "attended", "Who came, month by month")


def cover_table(view: MonthsView) -> str:
    """One row a critical compound, one column a shift: people who meet it and came lately."""
    heads = [tag("th", "Critical compound", scope="col")]
    heads += [tag("th", escaped(shift), scope="col") for shift in view.shifts]
    heads.append(tag("th", "whole panel", scope="col"))
    body = "".join(_cover(row, view.people_asked) for row in view.cover)
    table = tag("thead", tag("tr", "".join(heads))) + tag("tbody", body)
    return _across(table, "cover", "Cover by shift")


def _across(inside: str, name: str, label: str) -> str:
    # Where the table is wider than the screen, the arrow keys must reach its end.
    table = tag("table", inside, class_=f"figures {name}")
    return tag("div", table, class_="across", tabindex=0, role="region", aria_label=label)


def _month(row: MonthRow) -> str:
    name = f"{row.month_on:%B} {row.month_on.year}" + ("" if row.is_whole else ", so far")
    share = f"{percent(row.right / row.glasses)} {_reach(row.reach)}" if row.glasses else ""
    rate = (
        f"{percent(row.false_calls / row.blanks)} {_reach(row.false_reach)}" if row.blanks else ""
    )
    cells = [
        tag("th", escaped(name), scope="row"),
        tag("td", _of(row.right, row.glasses)),
        tag("td", share),
        tag("td", "" if row.usual is None else percent(row.usual)),
        tag("td", "" if row.rate is None else percent(row.rate), class_="can-wait"),
        tag("td", _of(row.false_calls, row.blanks)),
        tag("td", rate, class_="can-wait"),
        tag("td", str(row.sessions or ""), class_="can-wait"),
    ]
    return tag("tr", "".join(cells), class_="" if row.is_whole else "is-part")


def _person(row: AttendanceRow, view: MonthsView, on: date | None) -> str:
    address = record_address(row.person_id, family=view.family, on=on)
    link = tag("a", escaped(row.name), href=address, target="_self")
    cells = [tag("th", link, scope="row")]
    cells += [tag("td", _came(counts)) for counts in row.months]
    cells.append(tag("td", _of(row.attended, row.held)))
    return tag("tr", "".join(cells))


def _came(counts: tuple[int, int] | None) -> str:
    return "" if counts is None else f"{counts[0]}{tag('small', f'/{counts[1]}')}"


def _cover(row: CoverRow, asked: int) -> str:
    cells = [tag("th", escaped(row.label), scope="row")]
    cells += [_noses(number, asked) for number in (*row.noses, row.all_shifts)]
    return tag("tr", "".join(cells))


def _noses(number: int, asked: int) -> str:
    words = "nobody" if not number else "1 nose" if number == 1 else f"{number} noses"
    return tag("td", words, class_="is-thin" if number < asked else "")


def _of(number: int, of: int) -> str:
    return f"{tag('b', str(number))} of {of}" if of else ""


def _reach(limits: Sequence[float] | None) -> str:
    return "" if limits is None else tag("small", f"({spread((limits[0], limits[1]))})")
