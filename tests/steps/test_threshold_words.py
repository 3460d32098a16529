from decimal import Decimal

import pytest

from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.steps.threshold_words import concentration_text, threshold_text


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (-1, 1, "1× (0.5 to 2)"),
        (-6.1, 1, "below 2×"),
        (1, 6.1, "above 2×"),
        (-6.1, 6.1, "not known"),
    ],
)
def test_a_threshold_is_a_number_with_its_range_or_a_bound(low, high, words):
    assert threshold_text(0, low, high, DEFAULT) == words


@pytest.mark.parametrize(
    ("low", "high", "unit", "words"),
    [
        (-1, 1, "µg/l", "60 µg/l (30 to 120)"),
        (-1, 1, "mg/l", "0.06 mg/l (0.03 to 0.12)"),
        (-1, 5, "ng/l", "60000 ng/l (30000 to 1900000)"),
        (-6.1, 1, "µg/l", "below 120 µg/l"),
        (1, 6.1, "µg/l", "above 120 µg/l"),
        (-6.1, 6.1, "µg/l", ""),
    ],
)
def test_a_concentration_is_written_without_an_exponent(low, high, unit, words):
    assert concentration_text(0, low, high, Decimal(60), unit, DEFAULT) == words
