from decimal import Decimal

import dose_bench
import pytest

from seatworthy.sessions.doses.equipment import KEG
from seatworthy.sessions.doses.vessels import glasses_in, vessel_counts, vessel_fault, vessels_for

POUR = Decimal(40)


def test_a_bottle_serves_up_to_7_or_8_people():
    """Common practice, no source: 330 to 355 ml, about 45 ml a glass."""
    assert [glasses_in(Decimal(ml), Decimal(45), dose_bench.bottle(ml)) for ml in (330, 355)] == [
        7,
        7,
    ]
    assert glasses_in(Decimal(330), POUR, dose_bench.bottle()) == 8


def test_no_glass_is_poured_from_two_vessels():
    """330 ml give 8 glasses of 40 ml and 10 ml over; 9 glasses take two bottles though 360 ml do."""
    assert [vessels_for(count, POUR, dose_bench.bottle()) for count in (0, 8, 9, 17)] == [
        0,
        1,
        2,
        3,
    ]


def test_what_cannot_be_poured_out_stays_behind():
    assert vessels_for(8, POUR, dose_bench.bottle(dead_ml=Decimal(11))) == 2


def test_one_keg_serves_all_sittings():
    keg = dose_bench.bottle(20_000, kind=KEG)
    assert vessel_counts((6, 8), POUR, keg) == (1,)
    assert vessel_counts((6, 8), POUR, dose_bench.bottle()) == (1, 1)


@pytest.mark.parametrize(
    ("container", "pour", "said"),
    [(dose_bench.bottle(30), 40, "less than one glass"), (dose_bench.bottle(), 0, "more than 0"),
     (dose_bench.bottle(0), 40, "more than 0"), (dose_bench.bottle(500, kind=KEG), 40, "12 glasses of 40 ml")],
)  # fmt: skip
def test_vessels_that_will_not_do_say_why(container, pour, said):
    assert said in vessel_fault((7, 7), Decimal(pour), container)


def test_a_vessel_without_a_glass_in_it_gives_no_number():
    with pytest.raises(ValueError, match="does not give one glass"):
        vessels_for(1, POUR, dose_bench.bottle(30))
