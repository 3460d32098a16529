"""Phrases that hold a number."""

import pytest

from seatworthy.phrases import weighed_percent


@pytest.mark.parametrize(
    ("chance", "said"),
    [
        (0, "<1%"),
        (0.0099, "<1%"),
        (0.014, "1%"),
        (0.71, "71%"),
        (0.99, "99%"),
        (0.9999, ">99%"),
        (1, ">99%"),
    ],
)
def test_a_weighed_chance_is_never_certain(chance, said):
    assert weighed_percent(chance) == said
