"""The order of everybody's glasses and sets, by letter."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Final

from seatworthy.sessions.asking import Asking
from seatworthy.sessions.blocks import Taster
from seatworthy.sessions.draw import Draw
from seatworthy.sessions.flight_orders import even_orders
from seatworthy.sessions.flights import Flight, flights
from seatworthy.sessions.orders import serving_orders, together
from seatworthy.sessions.over_sessions import given_out
from seatworthy.sessions.series import series_marks
from seatworthy.sessions.wish import SETS

Marks = tuple[str, ...]

# Designs drawn for the one that suits the past best, at up to twelve people; fewer for more.
_MOST_DRAWN: Final = 40
_SIDE_BY_SIDE: Final = 1000


def servings(asking: Asking, draw: Draw) -> tuple[tuple[Marks, ...], tuple[Marks, ...]]:
    """Order what is poured: early glasses, late ones, then the sets, series after series.

    Args:
        asking: A wish that has no fault.
        draw: The source of chance.

    Returns:
        Letters of everybody who comes, in the order of `Asking.comers`, without what they are not
        to be served; and of the spare orders, in which no set stands.
    """
    spares = asking.wish.spares * len(asking.wish.sittings)
    if asking.flight is not None:
        return _in_flights(asking, spares, draw)
    named = _named_orders(asking, len(asking.comers) + spares, draw)
    series = _series_orders(asking, draw)
    return (
        tuple(
            _kept(asking, person, order + sets)
            for person, order, sets in zip(asking.comers, named, series, strict=False)
        ),
        named[len(asking.comers) :],
    )


def _kept(asking: Asking, person: str, order: Marks) -> Marks:
    """An order without what somebody is not to be served; the others move up."""
    refused = asking.refused_here(person)
    gone = {sample.mark for sample in asking.samples if sample.compound in refused}
    return tuple(mark for mark in order if mark not in gone)


def group_sizes(asking: Asking) -> tuple[int, ...]:
    """Sizes of the groups of which each is balanced by itself if everybody tastes everything."""
    series = series_marks(asking.samples)
    return tuple(map(len, (*_named_groups(asking), *_series_groups(asking, series))))


def _named_groups(asking: Asking) -> list[list[str]]:
    """Letters of the single glasses: early ones, then late ones; no group is empty."""
    marks = [s.mark for s in asking.samples if s.method not in SETS for _ in range(s.glasses)]
    late = [mark for mark in marks if asking.is_late(asking.by_mark[mark])]
    return [group for group in ([mark for mark in marks if mark not in late], late) if group]


def _named_orders(asking: Asking, people: int, draw: Draw) -> tuple[Marks, ...]:
    """Orders of the single glasses, early ones first, each group balanced by itself."""
    orders: tuple[Marks, ...] = ((),) * people
    for group in _named_groups(asking):
        rows = _rows(asking, people, group, orders, draw)
        orders = tuple(order + row for order, row in zip(orders, rows, strict=True))
    return orders


def _rows(
    asking: Asking, people: int, marks: Sequence[str], before: Sequence[Marks], draw: Draw
) -> list[Marks]:
    """Rows of one group; to whom which row goes looks at earlier sessions, if there are any."""
    size = len(marks)
    if not asking.past.places:
        rows = serving_orders(people, marks, draw)
        return [tuple(marks[glass] for glass in row) for row in rows]
    whole = -(-people // size) * size
    cost = partial(_had_there, asking, before)

    def given() -> list[Marks]:
        drawn = serving_orders(people, marks, draw, rows=whole)
        return given_out([tuple(marks[g] for g in row) for row in drawn], people, size, cost)

    def costs(rows: Sequence[Marks]) -> int:
        return sum(cost(who, row) for who, row in enumerate(rows))

    tried = [given() for _ in range(max(1, min(_MOST_DRAWN, _MOST_DRAWN * 12 // max(1, people))))]
    return min(tried, key=costs)


def _had_there(asking: Asking, before: Sequence[Marks], who: int, row: Marks) -> int:
    """How often somebody had the same at the same places; duplicates side by side go first."""
    if who >= len(asking.comers):
        return 0
    person = asking.comers[who]
    start = len(_kept(asking, person, before[who])) + 1
    kept = _kept(asking, person, row)
    apart = together(range(len(row)), row) * _SIDE_BY_SIDE
    return apart + sum(_had(asking, person, m, p) for p, m in enumerate(kept, start=start))


def _had(asking: Asking, person: str, mark: str, place: int) -> int:
    sample = asking.by_mark.get(mark)
    if sample is None or not (sample.compound or sample.is_blank):  # a series, or not known
        return 0
    return asking.past.places.get((person, sample.compound or "", place), 0)


def _series_orders(asking: Asking, draw: Draw) -> list[Marks]:
    """The sets of everybody who comes: series in balanced order, those that linger last."""
    series = series_marks(asking.samples)
    orders: list[Marks] = [()] * len(asking.comers)
    for group in _series_groups(asking, series):
        for who, row in enumerate(serving_orders(len(orders), group, draw)):
            orders[who] += tuple(mark for place in row for mark in series[group[place]])
    return orders


def _series_groups(asking: Asking, series: Mapping[str, Marks]) -> list[list[str]]:
    """Compounds asked in sets: others first, then those that linger; no group is empty."""
    late = [c for c, marks in series.items() if asking.is_late(asking.by_mark[marks[0]])]
    return [group for group in ([c for c in series if c not in late], late) if group]


def _in_flights(
    asking: Asking, spares: int, draw: Draw
) -> tuple[tuple[Marks, ...], tuple[Marks, ...]]:
    comers = [Taster(person, frozenset(asking.refused_here(person))) for person in asking.comers]
    return (
        _flight_orders(asking, comers, draw, with_series=True),
        _flight_orders(asking, [Taster("")] * spares, draw, with_series=False),
    )


def _flight_orders(
    asking: Asking, tasters: Sequence[Taster], draw: Draw, *, with_series: bool
) -> tuple[Marks, ...]:
    poured = flights(asking, tasters, draw, with_series=with_series)
    series = {_token(compound): m for compound, m in series_marks(asking.samples).items()}
    had = partial(_flight_had, asking, tasters)
    return tuple(
        tuple(mark for token in order for mark in series.get(token, (token,)))
        for order in even_orders([_groups(asking, flight) for flight in poured], had, draw)
    )


def _groups(asking: Asking, flight: Flight) -> list[list[str]]:
    """Letters of early and late glasses, then series, those that linger last."""
    late = [mark for mark in flight.marks if asking.is_late(asking.by_mark[mark])]
    early = [mark for mark in flight.marks if mark not in late]
    last = [part for part in flight.series if asking.is_late(asking.by_mark[part.marks[0]])]
    first = [part for part in flight.series if part not in last]
    return [early, late, *([_token(part.compound) for part in group] for group in (first, last))]


def _token(compound: str) -> str:
    """What stands for a whole series while series are ordered; no letter looks like it."""
    return f"series {compound}"


def _flight_had(asking: Asking, tasters: Sequence[Taster], who: int, mark: str, place: int) -> int:
    return _had(asking, tasters[who].person_id, mark, place)
