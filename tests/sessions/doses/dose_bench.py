"""Stocks, pipettes, vessels and needs that the tests of doses share; all invented."""

from datetime import datetime
from decimal import Decimal

from seatworthy.sessions.doses.equipment import BOTTLE, Container, Pipette
from seatworthy.sessions.doses.recipe import Bench, Need
from seatworthy.sessions.doses.stock import REFERENCE, SOLUTION, UNIT, Stock

STARTS = (datetime(2026, 3, 12, 14, 0), datetime(2026, 3, 12, 16, 0))
FINE = Pipette("fine", "fine 100", Decimal(10), Decimal(100), Decimal("0.5"), is_fine=True)
MIDDLE = Pipette("middle", "yellow 200", Decimal(20), Decimal(200), Decimal("0.5"))
LARGE = Pipette("large", "blue 1000", Decimal(100), Decimal(1000), Decimal(5))


def solution(**changed):
    """Diacetyl, 1 g/l."""
    own = {"stock_id": "s1", "compound": "diacetyl", "label": "diacetyl 1 g/l, lot 7", "lot": "7",
           "kind": SOLUTION, "strength": Decimal(1)}  # fmt: skip
    return Stock(**(own | changed))


def reference(**changed):
    """Diacetyl, of which 1 ml in 1 l gives 3×."""
    own = {"kind": REFERENCE, "strength": Decimal("0.003"), "label": "diacetyl reference, lot 8"}
    return solution(**(own | changed))


def unit(**changed):
    """Diacetyl in whole units, of which one in 1 l gives 3×."""
    own = {"kind": UNIT, "strength": Decimal(3), "label": "diacetyl in whole units, lot 9"}
    return solution(**(own | changed))


def bottle(content_ml=330, **changed):
    """A bottle with room for a dose."""
    own = {"container_id": "b", "label": "bottle", "kind": BOTTLE, "content_ml": Decimal(content_ml),
           "headspace_ml": Decimal(10)}  # fmt: skip
    return Container(**(own | changed))


def need(level="3", **changed):
    """Three times the threshold of 100 µg/l, six glasses at each of two sittings."""
    own = {"mark": "B", "compound": "diacetyl", "label": "diacetyl", "level": Decimal(level),
           "glasses": (6, 6), "threshold_ug_l": Decimal(100), "keeps_h": Decimal(24)}  # fmt: skip
    return Need(**(own | changed))


def blank(**changed):
    """A blank, six glasses at each of two sittings."""
    return Need(
        **({"mark": "A", "compound": None, "label": "", "level": None, "glasses": (6, 6)} | changed)
    )


def bench(*stocks, **changed):
    """All three pipettes, bottles of 330 ml, 50 ml a glass, two sittings."""
    own = {"stocks": stocks, "pipettes": (FINE, MIDDLE, LARGE), "container": bottle(),
           "pour_ml": Decimal(50), "starts": STARTS}  # fmt: skip
    return Bench(**(own | changed))
