"""How long a weighing with its next step takes, as a ratio to one matrix product.

Reference: a product of two square matrices of 500 on one thread, which any program of this kind
finds in a few milliseconds.

    python tests/bench/bench_weighing.py
"""

import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from seatworthy.steps.demo import set_up_demo
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.tasted import Tasted
from seatworthy.steps.weigh import weigh_call
from seatworthy.steps.weigh_views import Question

ROUNDS = 15


def best(call: Callable[[], object]) -> float:
    """Fastest of some rounds, in seconds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return min(times)


def question_of(desk: Desk) -> Question:
    """Everybody of the sample brewery tasted; two said DMS."""
    judged = judge_day(desk)
    words = tuple(
        Tasted(person, name, "named" if n < 2 else "nothing", "dms" if n < 2 else None)
        for n, (person, name) in enumerate(judged.people.items())
    )
    return Question(next(iter(judged.families)), "Tank 12", words)


def main() -> None:
    """Print the figures."""
    square = np.random.default_rng(1).random((500, 500))
    with tempfile.TemporaryDirectory() as folder:
        store = Path(folder) / "panel.duckdb"
        set_up_demo(store)
        desk = open_desk(store)
        question = question_of(desk)
        weigh_call(desk, question)  # the judgement of the day is kept
        reference = best(lambda: square @ square)
        weighed = best(lambda: weigh_call(desk, question))
        desk.close()
    print(f"one product of two matrices of 500: {1000 * reference:.1f} ms")
    print(f"a weighing of {len(question.words)} with its next step: {1000 * weighed:.0f} ms")
    print(f"ratio: {weighed / reference:.0f}")


if __name__ == "__main__":
    main()
