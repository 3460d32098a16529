"""Exponentially weighted moving averages against printed charts."""

import numpy as np
import pytest

from seatworthy.stats.moving_average import control_limits, moving_average, settled_limits

SERIES = """
52.0 47.0 53.0 49.3 50.1 47.0 51.0 50.1 51.2 50.5 49.6 47.6 49.9 51.3 47.8 51.2 52.6 52.4 53.6 52.1
"""
AVERAGES = """
50.60 49.52 50.56 50.18 50.16 49.21 49.75 49.85 50.26 50.33
50.11 49.36 49.52 50.05 49.38 49.92 50.73 51.23 51.94 51.99
"""


def test_averages_match_the_nist_handbook():
    """NIST/SEMATECH e-Handbook, 6.3.2.4, weight .3, start 50; from a copy, two decimals."""
    found = moving_average(np.array(SERIES.split(), float), 50, 0.3)
    assert found == pytest.approx(np.array(AVERAGES.split(), float), abs=5e-3)


def test_settled_limits_match_the_nist_handbook():
    """As above, s 2.0539: 47.4115 and 52.5884.

    Computed are 47.41157 and 52.58843: the lower was cut off and not rounded, hence 1e-4.
    """
    low, high = settled_limits(50, 2.0539, 0.3)
    assert low == pytest.approx(47.4115, abs=1e-4)
    assert high == pytest.approx(52.5884, abs=5e-5)


@pytest.mark.parametrize(
    ("number", "low", "high"),
    [(1, 73.99986, 74.00623), (2, 73.99897, 74.00713), (25, 73.99774, 74.00835)],
)
def test_opening_limits_match_the_printed_output_of_r(number, low, high):
    """R's qcc, ewma(diameter[1:25,], lambda = .2, nsigmas = 3), piston rings in fives; read.

    Printed there: centre 74.00305, standard deviation .01186586. The centre is rounded in its
    fifth decimal itself, so a whole last digit is allowed for a limit and half for their distance.
    """
    found = control_limits(number, 74.00305, 0.01186586 / np.sqrt(5), 0.2)
    assert (found.low, found.high) == pytest.approx((low, high), abs=1e-5)
    assert found.high - found.low == pytest.approx(high - low, abs=1e-5)


def test_first_average_and_limits_match_montgomery():
    """Montgomery, Introduction to Statistical Quality Control, EWMA example: weight .1, L 2.7.

    Data 9.45, 7.99 (read in copies); averages 9.945, 9.7495, limits 9.73 to 10.27, 9.64 to 10.36
    and at last 9.38 to 10.62 from memory, recomputed.
    """
    assert moving_average([9.45, 7.99], 10, 0.1) == pytest.approx([9.945, 9.7495], abs=5e-5)
    low, high = control_limits([1, 2, 30], 10, 1, 0.1, width=2.7)
    assert low == pytest.approx([9.73, 9.64, 9.38], abs=5e-3)
    assert high == pytest.approx([10.27, 10.36, 10.62], abs=5e-3)
