"""A wish becomes a plan: letters, orders and codes for everybody, or every reason why not."""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from zoneinfo import ZoneInfo

from seatworthy.errors import PlanRefused
from seatworthy.sessions.alcohol import alcohol_g
from seatworthy.sessions.asking import Asking, folded
from seatworthy.sessions.care import counted_g, left_out_sentences, volume_each_ml
from seatworthy.sessions.codes import draw_codes
from seatworthy.sessions.draw import Draw
from seatworthy.sessions.faults import faults
from seatworthy.sessions.notes import flight_notes, notes
from seatworthy.sessions.plan import (
    Past,
    PersonFacts,
    Plan,
    PlannedSeat,
    PlannedSitting,
    ShelfFacts,
)
from seatworthy.sessions.poured import Patterns, glasses_of, poured_glasses
from seatworthy.sessions.rests import rests
from seatworthy.sessions.servings import servings
from seatworthy.sessions.set_places import even_patterns
from seatworthy.sessions.times import start_of
from seatworthy.sessions.wish import WantedSitting, Wish

__all__ = ["glasses_of", "lay_out"]

Marks = tuple[str, ...]
NO_PAST = Past()


def lay_out(
    wish: Wish,
    shelf: ShelfFacts,
    people: Mapping[str, PersonFacts],
    taken: Collection[str],
    today: date,
    zone: ZoneInfo,
    *,
    label_key: Callable[[str], str] = folded,
    past: Past = NO_PAST,
) -> Plan:
    """Lay a session out: who gets which glass, in which place, under which code.

    The same arguments give the same plan, in every version of Python. Orders are balanced over all
    who come, not sitting by sitting; spare orders continue the design, without the sets.

    Args:
        wish: What is asked for.
        shelf: The beer and the compounds.
        people: Everybody on record by person id.
        taken: Codes of other sessions within `codes.CODE_REST_DAYS` of the day.
        today: The day it is at the brewery.
        zone: The brewery's time zone.
        label_key: What two spellings of one name share, by which the store knows sittings; "" for
            a name that says nothing.
        past: What was served in earlier sessions, so that balance is kept over them.

    Raises:
        PlanRefused: with every fault at once.
        ValueError: if the seed is negative, or a start carries a zone.
    """
    if wish.seed < 0:
        message = f"a seed is 0 or more, got {wish.seed}"
        raise ValueError(message)
    asking = Asking(wish, shelf, people, taken, today, zone, label_key, past)
    found = faults(asking)
    if found:
        raise PlanRefused(found)
    laid = _Laid.of(asking, Draw(wish.seed))
    return Plan(
        samples=asking.samples,
        sittings=laid.sittings,
        alcohol_g=counted_g(asking),
        swallowed_g=alcohol_g(volume_each_ml(asking), wish.abv_percent),
        left_out=left_out_sentences(asking, {who: laid.glasses(who) for who in laid.orders}),
        notes=(*notes(asking), *flight_notes(asking, laid.orders)),
        rests=rests(asking, laid.named_orders, laid.named_spares),
    )


@dataclass(frozen=True)
class _Laid:
    """A session laid out.

    Attributes:
        orders: Letters of everybody who comes, by person id.
        patterns: How each person's sets are filled, by person id.
        spares: Letters of the spare orders, sitting by sitting.
        codes: A code for each glass.
    """

    asking: Asking
    orders: Mapping[str, Marks]
    patterns: Mapping[str, Patterns]
    spares: tuple[Marks, ...]
    codes: tuple[str, ...]

    @classmethod
    def of(cls, asking: Asking, draw: Draw) -> "_Laid":
        own, spares = servings(asking, draw)
        filled = even_patterns(own, asking.methods, draw)
        count = sum(map(poured_glasses, filled)) + sum(map(len, spares))
        return cls(
            asking,
            dict(zip(asking.comers, own, strict=True)),
            dict(zip(asking.comers, filled, strict=True)),
            spares,
            draw_codes(count, asking.taken, draw),
        )

    def glasses(self, person: str) -> int:
        """How many glasses somebody tastes, those in sets included."""
        return poured_glasses(self.patterns[person])

    @property
    def sittings(self) -> tuple[PlannedSitting, ...]:
        """The sittings; codes are given out in the order of people, then spares, of each."""
        codes, spares = iter(self.codes), iter(self.spares)
        return tuple(self._sitting(s, codes, spares) for s in self.asking.wish.sittings)

    def _sitting(
        self, sitting: WantedSitting, codes: Iterator[str], spares: Iterator[Marks]
    ) -> PlannedSitting:
        blank = self.asking.first_blank
        filler, methods = blank.mark if blank else "", self.asking.methods
        return PlannedSitting(
            label=sitting.label.strip(),
            starts_at=start_of(sitting.starts_at, self.asking.zone).utc,
            seats=tuple(
                PlannedSeat(
                    who, glasses_of(self.orders[who], codes, self.patterns[who], methods, filler)
                )
                for who in sitting.people
            ),
            spares=tuple(
                glasses_of(next(spares), codes, methods=methods)
                for _ in range(self.asking.wish.spares)
            ),
        )

    @property
    def named_orders(self) -> dict[str, Marks]:
        """Everybody's letters by what stands in a sentence; a name two share is told by its id."""
        names = [self.asking.name(person) for person in self.orders]
        return {
            name if names.count(name) == 1 else f"{name} ({person})": order
            for name, (person, order) in zip(names, self.orders.items(), strict=True)
        }

    @property
    def named_spares(self) -> dict[str, Marks]:
        """The letters of the spare orders by what stands in a sentence."""
        wish = self.asking.wish
        names = [
            f"spare order {number} of “{sitting.label.strip()}”"
            for sitting in wish.sittings
            for number in range(1, wish.spares + 1)
        ]
        return dict(zip(names, self.spares, strict=True))
