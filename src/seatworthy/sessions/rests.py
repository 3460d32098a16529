"""Where everybody rests: before the strong and lingering glasses, and before the sets."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Final

from seatworthy.sessions.asking import Asking
from seatworthy.sessions.wish import SETS
from seatworthy.sessions.wording import listed

Marks = Sequence[str]
# Common practice, no source.
REST: Final = "two minutes"
_LATE: Final = "the strong and lingering ones follow"
_SETS: Final = "the sets follow"


def rests(
    asking: Asking, orders: Mapping[str, Marks], spares: Mapping[str, Marks]
) -> tuple[str, ...]:
    """Say before which places everybody rests, a finished sentence each.

    Args:
        asking: A wish that has no fault.
        orders: Letters of everybody who comes, in the order of serving, by name.
        spares: Letters of each spare order, by what it is called.
    """
    sets = {mark for mark, sample in asking.by_mark.items() if sample.method in SETS}
    late = {mark for mark, sample in asking.by_mark.items() if asking.is_late(sample)}
    return rest_sentences({**orders, **spares}, late - sets, sets)


def rest_sentences(
    orders: Mapping[str, Marks], late: Collection[str], sets: Collection[str]
) -> tuple[str, ...]:
    """The same of orders as they stand on record.

    Args:
        orders: Letters in the order of serving, by name.
        late: Letters of single glasses that come late.
        sets: Letters of samples that are asked about in sets.
    """
    found: list[str] = []
    for what, marks in ((_LATE, late), (_SETS, sets)):
        places: dict[int, list[str]] = {}
        for name, order in orders.items():
            place = _begins(order, marks)
            if place is not None:
                places.setdefault(place, []).append(name)
        found += _sentences(places, what)
    return tuple(found)


def _begins(order: Marks, marks: Collection[str]) -> int | None:
    """The place before which one rests; None if nothing follows, or stands before it."""
    place = next((place for place, mark in enumerate(order, start=1) if mark in marks), None)
    return place if place and place > 1 else None


def _sentences(places: Mapping[int, Sequence[str]], what: str) -> Iterator[str]:
    """The place of most people first, without names; then who rests elsewhere."""
    thing = "set" if what == _SETS else "glass"
    ordered = sorted(places, key=lambda place: (-len(places[place]), place))
    for place in ordered[:1]:
        yield f"Rest {REST} before {thing} {place}: {what}."
    for place in ordered[1:]:
        who = places[place]
        yield f"{listed(who)} rest{'s' * (len(who) == 1)} before {thing} {place} instead: {what}."
