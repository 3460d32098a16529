"""Orders and flights of large panels, as ratios to a named reference in the same run.

Reference: drawing a random order of the same twelve glasses for each of 200 people, nothing balanced.

    python tests/bench/bench_flights.py
"""

import sys
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from functools import partial
from itertools import combinations, pairwise
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "sessions"))
from asked import DUBLIN, SHELF, THURSDAY, TODAY, blank, in_sets, roomy, sitting, spiked

from seatworthy.sessions.asking import Asking, folded
from seatworthy.sessions.designs import pair_counts
from seatworthy.sessions.draw import Draw
from seatworthy.sessions.layout import lay_out
from seatworthy.sessions.plan import Past, PersonFacts
from seatworthy.sessions.servings import Marks, servings
from seatworthy.sessions.wish import WantedSample, Wish

ROUNDS = 3
NO_PAST = Past()
LEVELS = ("2", "2.5", "3", "3.5", "4", "4.5", "5")
KINDS = [(c, level) for c in ("diacetyl", "dms", "acetaldehyde") for level in LEVELS]


def best(work: Callable[[], object]) -> float:
    """Fastest of some runs, in seconds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def glasses(count: int) -> tuple[WantedSample, ...]:
    """So many glasses, one of them a blank."""
    return (*(spiked(*kind) for kind in KINDS[: count - 1]), blank())


def asking(people: int, count: int, flight: int | None = None, past: Past = NO_PAST) -> Asking:
    """A wish of one sitting with its facts; no codes are drawn, of which there are too few."""
    names = [f"p{number}" for number in range(people)]
    wish = roomy(samples=glasses(count), flight=flight, sittings=(sitting(people=names),), spares=0)
    facts = {name: PersonFacts(name) for name in names}
    return Asking(wish, SHELF, facts, (), TODAY, DUBLIN, folded, past)


def past_of(people: int, places: int) -> Past:
    """A past in which everybody had everything at some place."""
    compounds = ("diacetyl", "dms", "acetaldehyde")
    return Past(
        places={
            (f"p{n}", compound, place): (n + place) % 4
            for n in range(people)
            for compound in compounds
            for place in range(1, places + 1)
        },
        served={(f"p{n}", c): (n + i) % 5 for n in range(people) for i, c in enumerate(compounds)},
    )


def wide_wish() -> tuple[Wish, dict[str, PersonFacts]]:
    """Twelve people with ten glasses, of which two are sets of three, from lay-out to codes."""
    names = [f"p{number}" for number in range(12)]
    samples = (*glasses(8), in_sets("dms", "1"), in_sets("dms", "2.2"))
    day = THURSDAY + timedelta(days=1)
    wish = roomy(samples=samples, sittings=(sitting(people=names, day=day),))
    wish = replace(wish, session_on=day, volume_ml=Decimal(20))
    return wish, {name: PersonFacts(name) for name in names}


def random_orders() -> list[list[int]]:
    """The reference."""
    draw = Draw(1)
    return [draw.shuffled(range(12)) for _ in range(200)]


def spread(asked: Asking, orders: Sequence[Marks]) -> str:
    """Fewest and most of places, neighbours and pairs of the spiked samples."""
    marks = [sample.mark for sample in asked.samples if sample.compound is not None]
    places = Counter(cell for order in orders for cell in enumerate(order))
    following = Counter(pair for order in orders for pair in pairwise(order))
    together = pair_counts([[marks.index(m) for m in order if m in marks] for order in orders])
    each = [
        [places[place, mark] for mark in marks for place in range(len(orders[0]))],
        [following[one, other] for one in marks for other in marks if one != other],
        [together[pair] for pair in combinations(range(len(marks)), 2)],
    ]
    words = ("places", "neighbours", "pairs")
    return ", ".join(f"{w} {min(c)} to {max(c)}" for w, c in zip(words, each, strict=True))


def main() -> None:
    """Print the figures."""
    reference = best(random_orders)
    print(f"{'random orders, 200 people x 12':42} {1000 * reference:8.1f} ms {1:8.1f} x reference")
    cases = {
        "200 people x 12": asking(200, 12),
        "200 people x 12, with a past": asking(200, 12, past=past_of(200, 12)),
        "200 people x 12 of 20": asking(200, 20, 12),
        "200 people x 12 of 20, with a past": asking(200, 20, 12, past_of(200, 12)),
        "12 people x 10": asking(12, 10),
        "12 people x 10, with a past": asking(12, 10, past=past_of(12, 10)),
        "12 people x 10 of 20": asking(12, 20, 10),
    }
    for name, asked in cases.items():
        seconds = best(lambda asked=asked: servings(asked, Draw(1)))
        _print(name, seconds, reference)
        print(f"    {spread(asked, servings(asked, Draw(1))[0])}")
    wish, facts = wide_wish()
    whole = partial(lay_out, wish, SHELF, facts, (), TODAY, DUBLIN)
    _print("a whole plan, 12 people, glasses and sets", best(whole), reference)


def _print(what: str, seconds: float, reference: float) -> None:
    print(f"{what:42} {1000 * seconds:8.1f} ms {seconds / reference:8.1f} x reference")


if __name__ == "__main__":
    main()
