"""Do weighed calls keep their word? The whole table is printed by tests/bench/weighed_calls.py."""

from pathlib import Path

import numpy as np
import pytest

BENCH = Path(__file__).resolve().parents[1] / "bench"
WITHIN = 0.05
LEAST_CALLS = 40


@pytest.fixture(scope="module")
def bench():
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCH)
        import weighed_calls

        yield weighed_calls


def test_calls_of_independent_tasters_keep_their_word(bench):
    """Every decile within 5 points, and three standard errors for the few calls of a test."""
    told = bench.simulated(bench.World(), 14, 250, 11)
    rows = [row for row in bench.by_decile(told) if row[2] >= LEAST_CALLS]
    assert len(rows) >= 6
    for given, right, _, error in rows:
        assert abs(given - right) <= WITHIN + 3 * error
    off = sum(number * abs(given - right) for given, right, number, _ in rows)
    assert off / sum(row[2] for row in rows) < WITHIN


def test_calls_of_people_who_copy_do_not_and_the_page_says_so(bench):
    told = bench.simulated(bench.World(copying=0.5), 5, 200, 12)
    given, right = np.array(told.given), np.array(told.right)
    high = given > 0.7
    assert given[high].mean() - right[high].mean() > WITHIN


def test_people_whose_noses_are_known_exactly_are_weighed_exactly(bench):
    """The world and the weighing share every number: no decile may be off beyond chance."""
    told = bench.known_exactly(10, 300, 13)
    for given, right, number, error in bench.by_decile(told):
        if number >= LEAST_CALLS:
            assert abs(given - right) <= 3.5 * error
