"""What to pour next for 30 people and 60 compounds, as a ratio to a named reference.

Reference: reading everybody's estimates of today from the same answers, which every page of a
standing needs.

    python tests/bench/bench_choosing.py
"""

import time
from collections.abc import Callable

import numpy as np

from seatworthy.decide.choosing import Asked, choose
from seatworthy.decide.forecast import glasses_until
from seatworthy.decide.gaps import Ground, find_gaps
from seatworthy.decide.jugs import Limits
from seatworthy.decide.sessions_ahead import until_covered
from seatworthy.stats.ability.glasses import NAMING, Blanks, Glasses
from seatworthy.stats.ability.next_answers import NextAnswers, next_answers
from seatworthy.stats.ability.present import Present

ROUNDS = 5
PEOPLE, COMPOUNDS, CRITICAL, EACH, TODAY = 30, 60, 12, 6, 300
LIMIT_S = 2.0  # asked of the next session for 30 people and 60 compounds
SLIDER_S = 0.15  # asked of whatever a leader slides


def best(work: Callable[[], object]) -> float:
    """Fastest of some runs, in seconds; the first, which builds tables, is not counted."""
    work()
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def panel() -> Present:
    """A panel with six glasses a cell and a dozen blanks each."""
    rng, number = np.random.default_rng(1), PEOPLE * COMPOUNDS * EACH
    zero = np.zeros(number, dtype=np.int64)
    glasses = Glasses(
        rng.integers(0, TODAY, number), np.arange(number) % PEOPLE,
        np.arange(number) // PEOPLE % COMPOUNDS, zero, np.full(number, NAMING),
        np.full(number, 3.0), np.zeros(number), rng.choice(3, number, p=[0.7, 0.1, 0.2]),
    )  # fmt: skip
    who = np.repeat(np.arange(PEOPLE), 12)
    blanks = Blanks(rng.integers(0, TODAY, who.size), who, rng.random(who.size) < 0.1)
    present = Present((PEOPLE, COMPOUNDS, 1))
    present.take_in(glasses, blanks)
    return present


def ahead(present: Present, compounds: int, most: int) -> NextAnswers:
    """What further answers would say."""
    return next_answers(present, np.arange(PEOPLE), np.arange(compounds), TODAY, 0, most)


def ground(present: Present) -> Ground:
    """The panel with a fifth of the pairs mixed up and everybody allowed everything."""
    rng, shape, seen = np.random.default_rng(2), (PEOPLE, COMPOUNDS), ahead(present, COMPOUNDS, 2)
    return Ground(
        ahead=seen,
        is_met=seen.met[:, :, 0] >= 0.85,
        is_insensitive=np.zeros(shape, dtype=np.bool_),
        glasses=np.full(shape, EACH),
        days_left=np.full(shape, 100.0),
        days_since=np.full(shape, 30.0),
        may_taste=np.ones(shape, dtype=np.bool_),
        is_nose=np.ones(PEOPLE, dtype=np.bool_),
        guesses=np.full(PEOPLE, 0.1),
        taken_for=np.where(rng.random((*shape, COMPOUNDS)) < 0.01, 0.3, 0.0),
        threshold=rng.normal(0, 1, shape),
        items=tuple((k,) for k in range(CRITICAL)),
    )


def asked(tells: float) -> Asked:
    """Eight glasses."""
    can, highest = np.ones(COMPOUNDS, dtype=np.bool_), np.full(COMPOUNDS, 10.0)
    return Asked(8, tells, 4, 3.0, can, highest)


def main() -> None:
    """Print the figures."""
    present = panel()
    reference = best(lambda: present.read(TODAY))
    print(f"{'reading 30 x 60 estimates of today':44} {reference:6.2f} s")

    def whole() -> object:
        own = ground(present)
        return choose(own, find_gaps(own), asked(0.6))

    own = ground(present)
    gaps, far = find_gaps(own), ahead(present, CRITICAL, 20)
    until = glasses_until(far, own.glasses[:, :CRITICAL], Limits())
    cut = own.of_compounds(np.arange(CRITICAL))
    for line, work in {
        "next session from the answers": whole,
        "the same once the slider moves": lambda: choose(own, gaps, asked(0.4)),
        "forecast of 12 compounds, 20 glasses ahead": lambda: glasses_until(
            ahead(present, CRITICAL, 20), own.glasses[:, :CRITICAL], Limits()
        ),
        "sessions until the panel is covered": lambda: until_covered(until, cut, 6),
    }.items():
        seconds = best(work)
        print(f"{line:44} {seconds:6.2f} s  {seconds / reference:5.2f} x reference")
    print(f"asked for: {LIMIT_S:g} s for the session, {SLIDER_S:g} s for the slider")


if __name__ == "__main__":
    main()
