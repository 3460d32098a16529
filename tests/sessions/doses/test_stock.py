from datetime import date
from decimal import Decimal

import dose_bench
import pytest

from seatworthy.sessions.doses.stock import stock_fault

DAY = date(2026, 3, 12)


def test_a_lot_may_be_used_on_its_last_day():
    assert stock_fault(dose_bench.solution(expires_on=DAY), DAY, "yes") == ""


@pytest.mark.parametrize(
    ("changed", "serve", "said"),
    [({"is_used_up": True}, "yes", "is used up"),
     ({"expires_on": date(2026, 3, 11)}, "yes", "its last day is 11 March 2026"),
     ({"left": Decimal(30), "dead_ul": Decimal(30)}, "yes", "nothing left"),
     ({"is_food_grade": False}, "yes", "not food grade"),
     ({}, "prediluted", "bought food-grade dilution"),
     ({"is_bought_dilution": True}, "no", "not for serving")],
)  # fmt: skip
def test_a_lot_that_may_not_be_used_says_why_and_what_to_do(changed, serve, said):
    fault = stock_fault(dose_bench.solution(**changed), DAY, serve)
    assert said in fault
    assert fault.startswith("Diacetyl 1 g/l, lot 7")
    assert ": " in fault or ";" in fault


def test_a_bought_dilution_may_be_served_where_only_dilutions_may():
    assert stock_fault(dose_bench.solution(is_bought_dilution=True), DAY, "prediluted") == ""


def test_a_lot_of_which_nobody_knows_what_is_left_is_not_empty():
    assert stock_fault(dose_bench.solution(left=None, dead_ul=Decimal(30)), DAY, "yes") == ""
