"""The beers somebody knows: which of the own beers they tell from what is not quite it."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from seatworthy.pages.figures import percent
from seatworthy.pages.frame import paper
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.phrases import STANDING_WORDS
from seatworthy.steps.figures_views import KnownBeerRow, KnownBeers

_HEADS: Final = (
    ("Beer", ""),
    ("yes to<br>its own", "count"),
    ("yes to others", ""),
    ("told apart", "apart"),
    ("What is missing", ""),
)
_OTHERS: Final[Mapping[str, str]] = MappingProxyType(
    {"aged": "aged", "other_batch": "another batch", "sister": "sister brand"}
)


def beers_known(found: KnownBeers | None) -> str:
    """The ledger with its head; nothing where no glass ever asked for a beer."""
    if found is None or not found.rows:
        return ""
    heads = "".join(tag("th", words, scope="col", class_=name) for words, name in _HEADS)
    body = "".join(_row(row) for row in found.rows)
    table = tag("table", tag("thead", tag("tr", heads)) + tag("tbody", body), class_="ledger")
    head, note = tag("h2", "Beers known"), tag("p", escaped(_note(found)), class_="note")
    return paper(head, table, note, class_="proof")


def _note(found: KnownBeers) -> str:
    months = "month" if found.months == 1 else f"{found.months} months"
    words = (
        f"Glasses of the last {months} that asked whether they were that beer, as it should be. Another "
        "batch is the same beer, so a yes to it is neither right nor wrong. Told "
        f"apart: the chance of a d' of {found.apart:g} or more between its own glasses and the others, "
        "then d' itself with the range that holds it 9 times in 10."
    )
    return words if found.is_asked else f"{words} The rulebook asks nothing of it."


def _row(row: KnownBeerRow) -> str:
    word = unseen(f": {STANDING_WORDS[row.standing]}")
    own = f"{tag('b', str(row.own_yes))} of {row.own}" if row.own else ""
    cells = [
        tag("th", mark(row.standing) + tag("span", escaped(row.label) + word), scope="row"),
        tag("td", own, class_="count"),
        tag("td", _others(row)),
        tag("td", _told_apart(row), class_="apart"),
        tag("td", escaped(row.missing), class_="missing"),
    ]
    return tag("tr", "".join(cells), class_=f"is-{row.standing}")


def _others(row: KnownBeerRow) -> str:
    return ", ".join(
        f"{words} {tag('b', str(row.others[key][0]))} of {row.others[key][1]}"
        for key, words in _OTHERS.items()
        if key in row.others
    )


def _told_apart(row: KnownBeerRow) -> str:
    if row.chance is None or row.d_prime is None or row.d_prime_range is None:
        return ""
    low, high = row.d_prime_range
    small = tag("small", f"d' {row.d_prime:.1f} ({low:.1f} to {high:.1f})")
    return f"{percent(row.chance)} {small}"
