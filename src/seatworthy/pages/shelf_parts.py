"""What the parts of the shelf page share: labels to choose from, days, and who states something."""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.figures import short_day
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.labels import item_label
from seatworthy.steps.people import everybody
from seatworthy.steps.shelf_views import CompoundLine, FamilyLine, Group, ShelfView
from seatworthy.steps.views import Choice

_BY: Final = "shelf_by"
_JOINER: Final = "+"


def choose_author() -> None:
    """Ask who states what is recorded on this page; nobody has to say so."""
    names = labels_told_apart(
        Choice(known.person_id, known.name) for known in everybody(source.the_desk())
    )
    if names:
        st.selectbox(
            "Who states it (may stay empty)",
            list(names),
            index=None,
            format_func=names.get,
            placeholder="Nobody named",
            key=_BY,
        )


def author() -> str | None:
    """The person id of whoever states it; None where nobody said so."""
    found: str | None = st.session_state.get(_BY)
    return found


def written(key: str) -> str:
    """What stands in a text field or selectbox; "" for nothing."""
    return st.session_state.get(key) or ""


def cleared(*keys: str) -> None:
    """Empty text fields after what they held was recorded; only from a callback."""
    for key in keys:
        st.session_state[key] = ""


def compound_labels(view: ShelfView, *, only_served: bool = False) -> dict[str, str]:
    """Label by compound for a choice, by label."""
    return labels_told_apart(
        Choice(line.key, line.label) for line in view.compounds if line.is_served or not only_served
    )


def family_labels(families: Sequence[FamilyLine]) -> dict[str, str]:
    """Label by family for a choice."""
    return labels_told_apart(Choice(family.key, family.label) for family in families)


def beer_labels(view: ShelfView) -> dict[str, str]:
    """Label by base beer for a choice."""
    return labels_told_apart(Choice(beer.key, beer.label) for beer in view.beers)


def group_key(group: Group) -> str:
    """A compound, or a group of which one counts, as one option of a widget."""
    return _JOINER.join(group)


def group_of(option: str) -> Group:
    """The group that an option stands for."""
    return tuple(option.split(_JOINER))


def group_labels(groups: Sequence[Group], compounds: Mapping[str, str]) -> dict[str, str]:
    """Label by option: a compound's own, or "Acetic acid or lactic acid"."""
    return labels_told_apart(
        Choice(
            group_key(group),
            compounds.get(group[0], group[0]) if len(group) == 1 else item_label(group, compounds),
        )
        for group in groups
    )


def plain_number(number: Decimal) -> str:
    """A number of the shelf as it was stated, without an exponent."""
    return f"{number:f}"


def books_range(line: CompoundLine) -> str:
    """What books say of a threshold, with its unit; "" where they are silent."""
    ends = [plain_number(end) for end in (line.low, line.high) if end is not None]
    if not ends:
        return ""
    start = "from " if line.high is None else "up to " if line.low is None else ""
    return f"{start}{' to '.join(dict.fromkeys(ends))} {line.unit}"


def ours_words(line: CompoundLine, today: date) -> list[str]:
    """Each threshold in force: value, since when, and for which beers."""
    return [
        f"{plain_number(ours.value)} {line.unit} since {short_day(ours.since, today)}, "
        f"{ours.family_label}"
        for ours in line.ours
    ]


def listing(heads: Sequence[str], rows: Sequence[Sequence[str]], class_: str = "") -> str:
    """A table of the shelf; on a phone each cell carries the head of its column.

    Args:
        heads: Plain words.
        rows: Cells as HTML, the first of each row its head.
        class_: Further classes of the table.
    """
    head = tag("tr", "".join(tag("th", escaped(word), scope="col") for word in heads))
    body = "".join(tag("tr", _cells(heads, row)) for row in rows)
    parts = tag("thead", head) + tag("tbody", body)
    return tag("table", parts, class_=f"listing {class_}".strip())


def _cells(heads: Sequence[str], row: Sequence[str]) -> str:
    first, *others = row
    named = zip(heads[1:], others, strict=True)
    cells = [tag("td", cell, data_head=f"{word} " if cell else None) for word, cell in named]
    return tag("th", first, scope="row") + "".join(cells)
