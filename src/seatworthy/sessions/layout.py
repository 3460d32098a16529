"""A wish becomes a plan: letters, orders and codes for everybody, or every reason why not."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from datetime import date
from zoneinfo import ZoneInfo

from seatworthy.errors import PlanRefused
from seatworthy.sessions.alcohol import alcohol_g
from seatworthy.sessions.asking import Asking, folded
from seatworthy.sessions.care import counted_g, left_out_sentences, volume_each_ml
from seatworthy.sessions.codes import draw_codes
from seatworthy.sessions.draw import Draw
from seatworthy.sessions.faults import faults
from seatworthy.sessions.notes import notes
from seatworthy.sessions.orders import serving_orders
from seatworthy.sessions.plan import (
    PersonFacts,
    Plan,
    PlannedGlass,
    PlannedSample,
    PlannedSeat,
    PlannedSitting,
    ShelfFacts,
)
from seatworthy.sessions.times import start_of
from seatworthy.sessions.wish import WantedSitting, Wish

Marks = tuple[str, ...]


def lay_out(
    wish: Wish,
    shelf: ShelfFacts,
    people: Mapping[str, PersonFacts],
    taken: Collection[str],
    today: date,
    zone: ZoneInfo,
    *,
    label_key: Callable[[str], str] = folded,
) -> Plan:
    """Lay a session out: who gets which glass, in which place, under which code.

    The same arguments give the same plan, in every version of Python. Orders are balanced over all
    who come, not sitting by sitting; spare orders continue the design.

    Args:
        wish: What is asked for.
        shelf: The beer and the compounds.
        people: Everybody on record by person id.
        taken: Codes of other sessions within `codes.CODE_REST_DAYS` of the day.
        today: The day it is at the brewery.
        zone: The brewery's time zone.
        label_key: What two spellings of one name share, by which the store knows sittings; "" for
            a name that says nothing.

    Raises:
        PlanRefused: with every fault at once.
        ValueError: if the seed is negative, or a start carries a zone.
    """
    if wish.seed < 0:
        message = f"a seed is 0 or more, got {wish.seed}"
        raise ValueError(message)
    asking = Asking(wish, shelf, people, taken, today, zone, label_key)
    found = faults(asking)
    if found:
        raise PlanRefused(found)
    return Plan(
        samples=asking.samples,
        sittings=_sittings(asking, Draw(wish.seed)),
        alcohol_g=counted_g(asking),
        swallowed_g=alcohol_g(volume_each_ml(asking), wish.abv_percent),
        left_out=left_out_sentences(asking),
        notes=notes(asking),
    )


def mark_orders(samples: Sequence[PlannedSample], people: int, draw: Draw) -> tuple[Marks, ...]:
    """Give each of some people an order of the samples, by letter; see `orders.serving_orders`.

    Args:
        samples: With how many glasses of each everybody gets.
        people: How many, 0 or more.
        draw: The source of chance.
    """
    marks = [sample.mark for sample in samples for _ in range(sample.glasses)]
    return tuple(
        tuple(marks[glass] for glass in row) for row in serving_orders(people, marks, draw)
    )


def glasses_of(marks: Marks, codes: Iterator[str]) -> tuple[PlannedGlass, ...]:
    """Number the glasses of one order and give each its code.

    Args:
        marks: Letters in the order of serving.
        codes: Where codes come from, one for each glass.
    """
    return tuple(
        PlannedGlass(position, next(codes), mark, mark if marks.count(mark) > 1 else None)
        for position, mark in enumerate(marks, start=1)
    )


def _sittings(asking: Asking, draw: Draw) -> tuple[PlannedSitting, ...]:
    wish = asking.wish
    comers, spares = len(asking.comers), wish.spares * len(wish.sittings)
    orders = mark_orders(asking.samples, comers + spares, draw)
    kept = {
        person: _kept(asking, person, order)
        for person, order in zip(asking.comers, orders[:comers], strict=True)
    }
    count = sum(map(len, kept.values())) + sum(map(len, orders[comers:]))
    codes = iter(draw_codes(count, asking.taken, draw))
    spare_orders = iter(orders[comers:])
    return tuple(
        _sitting(asking, sitting, kept, [next(spare_orders) for _ in range(wish.spares)], codes)
        for sitting in wish.sittings
    )


def _sitting(
    asking: Asking,
    sitting: WantedSitting,
    kept: Mapping[str, Marks],
    spares: Sequence[Marks],
    codes: Iterator[str],
) -> PlannedSitting:
    return PlannedSitting(
        label=sitting.label.strip(),
        starts_at=start_of(sitting.starts_at, asking.zone).utc,
        seats=tuple(PlannedSeat(who, glasses_of(kept[who], codes)) for who in sitting.people),
        spares=tuple(glasses_of(order, codes) for order in spares),
    )


def _kept(asking: Asking, person: str, order: Marks) -> Marks:
    """An order without what somebody is not to be served; the others move up."""
    refused = asking.refused_here(person)
    gone = {sample.mark for sample in asking.samples if sample.compound in refused}
    return tuple(mark for mark in order if mark not in gone)
