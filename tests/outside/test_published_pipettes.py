"""Limits of piston pipettes, compared with ISO 8655-2."""

from decimal import Decimal

import pytest

from seatworthy.sessions.doses.equipment import Pipette
from seatworthy.sessions.doses.pipette_limits import errors_ul, limits_ul

# Nominal µl, then greatest systematic and random error in µl, as the table of the standard prints them.
CHECKED = [(10, 0.12, 0.08), (20, 0.2, 0.1), (100, 0.8, 0.3), (1000, 8, 3)]
FROM_MEMORY = [
    (1, 0.05, 0.05), (2, 0.08, 0.04), (5, 0.125, 0.075), (50, 0.5, 0.2), (200, 1.6, 0.6),
    (500, 4, 1.5), (2000, 16, 6), (5000, 40, 15), (10000, 60, 30),
]  # fmt: skip


@pytest.mark.parametrize(("nominal", "systematic", "random"), CHECKED)
def test_limits_match_the_checked_lines_of_the_table(nominal, systematic, random):
    """ISO 8655-2, piston pipettes: greatest permissible errors."""
    assert [float(limit) for limit in limits_ul(Decimal(nominal))] == [systematic, random]


@pytest.mark.parametrize(("nominal", "systematic", "random"), FROM_MEMORY)
def test_limits_match_the_other_lines_of_the_table(nominal, systematic, random):
    """ISO 8655-2, piston pipettes: greatest permissible errors; from memory."""
    assert [float(limit) for limit in limits_ul(Decimal(nominal))] == [systematic, random]


def test_a_nominal_volume_between_two_takes_the_limits_of_the_larger():
    """ISO 8655-2, from memory; 250 µl lies between 200 and 500 µl."""
    assert limits_ul(Decimal(250)) == limits_ul(Decimal(500))


def test_the_limit_of_the_nominal_volume_holds_at_every_setting():
    """ISO 8655-2: a pipette of 1000 µl that is set to 200 µl may be off by 8 µl, 4%."""
    pipette = Pipette("p", "p", Decimal(100), Decimal(1000), Decimal(1))
    assert errors_ul(pipette)[0] / 200 == Decimal("0.04")


def test_its_own_calibration_stands_before_the_limits():
    pipette = Pipette("p", "p", Decimal(100), Decimal(1000), Decimal(1), bias_ul=Decimal(2))
    assert errors_ul(pipette) == (2, 3)


def test_a_nominal_volume_of_nothing_is_refused():
    with pytest.raises(ValueError, match="more than 0"):
        limits_ul(Decimal(0))
