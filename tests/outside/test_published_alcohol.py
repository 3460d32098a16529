"""Grams of alcohol, compared with published tables of units and standard drinks."""

from decimal import Decimal

import pytest

from seatworthy.sessions.alcohol import alcohol_g

UK_UNIT_G = alcohol_g(Decimal(10), Decimal(100))
AUSTRALIAN_DRINK_G = 10


@pytest.mark.parametrize(
    ("volume_ml", "abv", "units"), [(568, "4", 2.3), (568, "5.2", 3.0), (175, "13", 2.3)]
)
def test_units_match_the_british_tables(volume_ml, abv, units):
    """UK Chief Medical Officers' low risk drinking guidelines (2016) and its tables, from memory."""
    found = alcohol_g(Decimal(volume_ml), Decimal(abv)) / UK_UNIT_G
    assert float(found) == pytest.approx(units, abs=0.05)


def test_a_british_unit_is_about_eight_grams():
    """UK Chief Medical Officers' guidelines (2016): 10 ml or 8 g of pure alcohol, from memory."""
    assert float(UK_UNIT_G) == pytest.approx(8, abs=0.5)


@pytest.mark.parametrize(("fluid_ounces", "abv"), [(12, 5), (5, 12), (1.5, 40)])
def test_a_standard_drink_of_the_united_states_holds_14_grams(fluid_ounces, abv):
    """NIAAA, "What is a standard drink?": 12, 5 and 1.5 fl oz; from memory. 1 fl oz is 29.57 ml."""
    volume_ml = Decimal(str(fluid_ounces)) * Decimal("29.57")
    assert float(alcohol_g(volume_ml, Decimal(abv))) == pytest.approx(14, abs=0.5)


@pytest.mark.parametrize(
    ("volume_ml", "abv", "drinks"), [(375, "4.8", 1.4), (285, "4.8", 1.1), (425, "4.8", 1.6)]
)
def test_standard_drinks_match_the_australian_guide(volume_ml, abv, drinks):
    """Australian standard drinks guide (10 g; can, 285 ml and 425 ml of full strength), from memory."""
    found = alcohol_g(Decimal(volume_ml), Decimal(abv)) / AUSTRALIAN_DRINK_G
    assert float(found) == pytest.approx(drinks, abs=0.05)
