from decimal import Decimal

import dose_bench
import numpy as np
import pytest

from seatworthy.sessions.doses.recipe import Shots
from seatworthy.sessions.doses.uncertainty import (
    expanded,
    pipetting_uncertainty,
    relative_uncertainty,
)

FILLED = dose_bench.bottle(fill_off_ml=Decimal(5))
CASES = [
    (dose_bench.MIDDLE, "165", 2, 5.0),
    (dose_bench.FINE, "82.5", 4, 3.0),
    (dose_bench.LARGE, "330", 1, 0),
]


def simulated(pipette, setting, count, off_percent, draws=200_000):
    """Levels by Monte Carlo (JCGM 101), in shares of the nominal level; limits as in the test of them."""
    rng = np.random.default_rng(20)
    systematic = {100: 0.8, 200: 1.6, 1000: 8.0}[int(pipette.largest_ul)]
    random = {100: 0.3, 200: 0.6, 1000: 3.0}[int(pipette.largest_ul)]
    bias = rng.uniform(-systematic, systematic, draws)
    shots = float(setting) + bias[:, None] + rng.normal(0, random, (draws, count))
    strength = 1 + rng.uniform(-off_percent, off_percent, draws) / 100
    volume = 330 + rng.uniform(-5, 5, draws)
    return shots.sum(axis=1) * strength / volume * 330 / (float(setting) * count)


@pytest.mark.parametrize(("pipette", "setting", "count", "off_percent"), CASES)
def test_the_uncertainty_is_that_of_a_simulation(pipette, setting, count, off_percent):
    found = relative_uncertainty(Shots(pipette, Decimal(setting), count), FILLED, off_percent)
    assert found == pytest.approx(simulated(pipette, setting, count, off_percent).std(), rel=0.01)


@pytest.mark.parametrize(("pipette", "setting", "count", "off_percent"), CASES)
def test_the_range_holds_about_95_percent_of_simulated_levels(pipette, setting, count, off_percent):
    half = expanded(
        1, relative_uncertainty(Shots(pipette, Decimal(setting), count), FILLED, off_percent)
    )
    inside = np.abs(simulated(pipette, setting, count, off_percent) - 1) <= half
    assert 0.94 <= inside.mean() <= 0.99


def test_a_systematic_error_does_not_average_out_over_shots():
    """Arithmetic: bias 0.8 µl / sqrt(3) of 50 µl, the same share whether once or nine times."""
    exact = dose_bench.Pipette(
        "x", "x", Decimal(10), Decimal(100), Decimal(1), spread_ul=Decimal(0)
    )
    shares = [pipetting_uncertainty(Shots(exact, Decimal(50), count)) for count in (1, 9)]
    assert shares == pytest.approx([0.8 / 3**0.5 / 50] * 2)


def test_a_random_error_averages_out_over_shots():
    """Arithmetic: nine shots are three times as sure as one."""
    steady = dose_bench.Pipette("x", "x", Decimal(10), Decimal(100), Decimal(1), bias_ul=Decimal(0))
    one, nine = (pipetting_uncertainty(Shots(steady, Decimal(50), count)) for count in (1, 9))
    assert one / nine == pytest.approx(3)


def test_whole_units_are_as_sure_as_their_strength_and_the_filling():
    """Arithmetic: sqrt((5/330)² + 0.1²) / sqrt(3)."""
    assert relative_uncertainty(None, FILLED, 10) == pytest.approx(
        ((5 / 330) ** 2 + 0.01) ** 0.5 / 3**0.5
    )
