"""What a rulebook does to people: time of the odds of the default, as a ratio to a named reference.

Reference: following 1,000 people through one compound of 12 days, the bulk of the work of any rule
that asks the model.

    python tests/bench/bench_odds.py
"""

import time
from collections.abc import Callable

import numpy as np

from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.stats.ability.simulated_looks import chance_at_looks
from seatworthy.steps.odds import rule_odds

ROUNDS = 5
PEOPLE, SESSIONS, BLANKS = 9, 48, 48


def best(work: Callable[[], object]) -> float:
    """Fastest of some runs, in seconds; the first, which builds tables, is not counted."""
    work()
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    """Print the figures."""
    right = np.random.default_rng(1).random((1000, 12)) < 0.7
    reference = best(lambda: chance_at_looks(right, np.arange(12) * 30))
    print(f"{'1,000 people, 12 days, one compound':40} {reference:6.2f} s")
    for name in ("default", "plain"):
        book = rulebook_on_menu(name)
        for glasses in (8, 12, 24):
            seconds = best(
                lambda book=book, glasses=glasses: rule_odds(
                    book, glasses, SESSIONS, BLANKS, PEOPLE, book.critical
                )
            )
            line = f"{name}, {glasses} glasses a year"
            print(f"{line:40} {seconds:6.2f} s  {seconds / reference:5.1f} x reference")


if __name__ == "__main__":
    main()
