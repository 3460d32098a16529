"""Sequential tests against the examples of a standard and a handbook."""

from math import ceil, floor

import pytest

from seatworthy.stats.sequential import RunState, follow_run, wald_lines

# Answers behind the cumulative numbers right 0 0 0 1 1 2 2 3 3 4 4 of ISO 16820, Example 2.
DUO_TRIO = (0, 0, 0, 1, 0, 1, 0, 1, 0, 1, 0)


def test_lines_of_the_duo_trio_match_iso_16820():
    """ISO 16820, Example 2: -2.5932 + .6029 n and 2.5932 + .6029 n; results from a copy.

    The settings alpha = beta = .10, p0 = .5, p1 = .7 are from memory and give these lines.
    """
    lines = wald_lines(0.5, 0.7, 0.10, 0.10)
    assert lines == pytest.approx((-2.5932, 2.5932, 0.6029), abs=5e-5)


def test_duo_trio_is_decided_by_the_eleventh_answer():
    """As above: "similar" after 11 tests and not before; from a copy."""
    lines = wald_lines(0.5, 0.7, 0.10, 0.10)
    assert follow_run(DUO_TRIO, lines) == (RunState.DOES_NOT_FIND_IT, 11)
    assert follow_run(DUO_TRIO[:10], lines) == (RunState.STILL_OPEN, None)


def test_lines_against_a_guess_rate_of_a_third_match_walds_formulas():
    """Wald (1945), Ann. Math. Stat. 16:117: log 19 / log 4 and, by symmetry, 1/2; recomputed."""
    lines = wald_lines(1 / 3, 2 / 3, 0.05, 0.05)
    assert lines == pytest.approx((-2.1240, 2.1240, 0.5), abs=5e-5)


@pytest.mark.parametrize(
    ("number", "accept", "reject"),
    [
        (2, None, 2), (19, None, 2), (20, None, 3), (23, None, 3), (24, 0, 3), (29, 0, 3),
        (71, 1, 5), (73, 1, 5), (74, 2, 5), (95, 2, 5), (96, 2, 6), (99, 2, 6), (100, 3, 6),
    ],
)  # fmt: skip
def test_numbers_to_decide_match_the_table_of_the_nist_example(number, accept, reject):
    """NIST/SEMATECH e-Handbook, 6.2.6: p .01 against .10, risks .05 and .10.

    The table was read in the documentation of an open Python library for reliability, which
    recomputes the handbook's example. Failures count there as right answers do here: few accept
    (the lower line), many reject (the upper line).
    """
    lines = wald_lines(0.01, 0.10, 0.05, 0.10)
    lowest = floor(lines.low + lines.slope * number)
    assert (lowest if lowest >= 0 else None) == accept
    assert ceil(lines.high + lines.slope * number) == reject


def test_third_failure_ends_the_series_of_that_example():
    """As above: failures at 14, 32 and 38; "after our 3rd failure, the test should be stopped"."""
    failures = [number in (14, 32, 38) for number in range(1, 39)]
    assert follow_run(failures, wald_lines(0.01, 0.10, 0.05, 0.10)) == (RunState.FINDS_IT, 38)
