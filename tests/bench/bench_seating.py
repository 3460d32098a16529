"""What a panel would miss, and who should sit, as ratios to a named reference in the same run.

References: for a slider, judging is left out and the same misses are counted person by person and draw by
draw in plain Python, for one compound at one level; for the best panel, the misses of 2,000 panels of the
142,506 are counted one after the other.

    python tests/bench/bench_seating.py
"""

import sys
import tempfile
import time
from collections.abc import Callable
from decimal import Decimal
from itertools import combinations, islice
from pathlib import Path

import numpy as np

from seatworthy.decide.noses import named_draws
from seatworthy.decide.seating import Candidates, Needs, best_panel, missed_by, smallest_panel
from seatworthy.steps.demo import set_up_demo
from seatworthy.steps.desk import open_desk
from seatworthy.steps.miss_views import Wanted
from seatworthy.steps.seat_ground import Ground, seat_ground
from seatworthy.steps.seat_panel import panel_on

ROUNDS = 5
PEOPLE, COMPOUNDS, SIZE, SOME = 30, 20, 5, 2_000
SLIDER_S, BEST_S = 0.150, 2.0


def best(work: Callable[[], object]) -> float:
    """Fastest of some runs, in seconds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def one_by_one(ground: Ground) -> float:
    """Misses of the first compound at 3x under a rule of two, draw by draw."""
    assert ground.known is not None
    draws = named_draws(ground.known.noses, 3)[:, :, 0, 0].tolist()
    total = 0.0
    for chances in draws:
        none, one = 1.0, 0.0
        for chance in chances:
            none, one = none * (1 - chance), one * (1 - chance) + none * chance
        total += none + one
    return total / len(draws)


def sliders(ground: Ground) -> dict[str, Callable[[], object]]:
    """Everything that the leader moves."""
    assert ground.sits is not None
    people = tuple(ground.judged.people)
    return {
        "callers": lambda: panel_on(ground, Wanted(callers=3)),
        "limit": lambda: panel_on(ground, Wanted(limit=Decimal("0.05"))),
        "who sits": lambda: panel_on(ground, Wanted(sits=people[:4])),
        "best of": lambda: panel_on(ground, Wanted(size=3)),
    }


def thirty(kind: str) -> Candidates:
    """Thirty people and twenty compounds, of one of three kinds."""
    rng = np.random.default_rng(8)
    named = {
        "all different": rng.beta(2, 1, (PEOPLE, COMPOUNDS)),
        "all alike": np.full((PEOPLE, COMPOUNDS), 0.7),
        "three kinds": rng.choice([0.3, 0.6, 0.9], (PEOPLE, COMPOUNDS)),
    }[kind]
    items = tuple((k,) for k in range(COMPOUNDS))
    return Candidates(named, items, named > 0.5, rng.random(PEOPLE) < 0.7)


def main() -> int:
    """Print the ratios; 1 if a limit is missed."""
    is_met = True
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "demo.duckdb"
        set_up_demo(path)
        desk = open_desk(path)
        ground = seat_ground(desk, None)
        reference = best(lambda: one_by_one(ground))
        print(f"reference: one compound, one level, in plain Python: {1000 * reference:.2f} ms")
        for name, work in sliders(ground).items():
            took = best(work)
            is_met &= took < SLIDER_S
            print(f"  {name:10} {1000 * took:7.1f} ms  {took / reference:6.1f} x  (under 150 ms)")
        desk.close()
    needs = Needs(2, 4, 2, 2, 0.10)
    for kind in ("all different", "all alike", "three kinds"):
        candidates = thirty(kind)
        panels = list(islice(combinations(range(PEOPLE), SIZE), SOME))
        some = best(lambda: [missed_by(candidates, panel, 2) for panel in panels])  # noqa: B023
        took = best(lambda: best_panel(candidates, needs, SIZE))  # noqa: B023
        least = best(lambda: smallest_panel(candidates, needs))  # noqa: B023
        is_met &= took < BEST_S and least < BEST_S
        print(
            f"{kind}: 2,000 panels one by one {some:.3f} s; best 5 of 30 {took:.3f} s "
            f"({took / some:.2f} x), smallest {least:.3f} s  (under 2 s)"
        )
    return 0 if is_met else 1


if __name__ == "__main__":
    sys.exit(main())
