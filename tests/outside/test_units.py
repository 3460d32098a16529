"""Units of strength, and doses, compared with the library pint (0.25)."""

from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from seatworthy.sessions.doses.amounts import UG_PER_UL, ug_per_ul
from seatworthy.sessions.doses.dose import amount_for
from seatworthy.sessions.doses.recipe import Need
from seatworthy.sessions.doses.stock import SOLUTION, Stock

UNITS = pint.UnitRegistry(non_int_type=Decimal)
THEIRS = {"g": "gram", "mg": "milligram", "µg": "microgram", "ng": "nanogram",
          "l": "liter", "ml": "milliliter", "µl": "microliter"}  # fmt: skip


def quantity(value, unit):
    mass, volume = unit.split("/")
    return Decimal(value) * UNITS(THEIRS[mass]) / UNITS(THEIRS[volume])


@pytest.mark.parametrize("unit", sorted(UG_PER_UL))
def test_a_strength_is_converted_as_pint_converts_it(unit):
    theirs = quantity("2.5", unit).to("microgram / microliter").magnitude
    assert float(ug_per_ul(Decimal("2.5"), unit)) == pytest.approx(float(theirs), rel=1e-15)


@given(st.integers(1, 100), st.integers(1, 5000), st.integers(50, 20_000), st.integers(1, 1000))
def test_a_dose_is_what_pint_makes_of_it(tenths, threshold, volume, strength):
    level = Decimal(tenths) / 10
    need = Need("A", "x", "x", level, (1,), threshold_ug_l=Decimal(threshold))
    stock = Stock("s", "x", "x", "1", SOLUTION, ug_per_ul(Decimal(strength), "mg/l"))
    mass = level * quantity(threshold, "µg/l") * (volume * UNITS("milliliter"))
    theirs = (mass / quantity(strength, "mg/l")).to("microliter").magnitude
    found = amount_for(need, stock, Decimal(volume))
    assert float(found) == pytest.approx(float(theirs), rel=1e-12)
