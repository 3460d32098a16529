from decimal import Decimal

import dose_bench
import pytest

from seatworthy.sessions.doses.amounts import strength_words, ug_per_ul, ul_words


@pytest.mark.parametrize(
    ("microlitres", "words"),
    [("330", "330 µl"), ("82.5", "82.5 µl"), ("2400", "2.4 ml"), ("12000", "12 ml"),
     ("112.5", "112.5 µl"), ("327.27272", "327 µl"), ("999.96", "1 ml"), ("10000", "10 ml")],
)  # fmt: skip
def test_a_volume_is_said_as_one_says_it(microlitres, words):
    assert ul_words(Decimal(microlitres)) == words


def test_nothing_is_said_in_microlitres():
    assert ul_words(Decimal(0)) == "0 µl"


def test_a_unit_that_asks_for_a_density_is_refused():
    with pytest.raises(ValueError, match="ppm"):
        ug_per_ul(Decimal(1), "ppm")


@pytest.mark.parametrize(
    ("stock", "words"),
    [(dose_bench.solution(), "1 g/l"), (dose_bench.solution(strength=Decimal("0.00001")), "10 µg/l"),
     (dose_bench.reference(), "1 ml in 1 l gives 3×"), (dose_bench.unit(), "one unit in 1 l gives 3×")],
)  # fmt: skip
def test_a_strength_is_said_as_its_kind_asks(stock, words):
    assert strength_words(stock) == words
