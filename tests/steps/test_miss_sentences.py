"""How often, in words; and never less than it is."""

import pytest

from seatworthy.steps.miss_sentences import (
    at_most,
    ends_of_hundred,
    hundredths,
    level_words,
    of_hundred,
    times,
)
from seatworthy.steps.miss_views import Chance


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (1.0, "nearly always"),
        (0.95, "nearly always"),
        (0.949, "9 times in 10"),
        (0.58, "6 times in 10"),
        (0.096, "1 time in 10"),
        (0.094, "9 times in 100"),
        (0.0149, "1 time in 100"),
        (0.004, "less than once in 100"),
        (0.0, "less than once in 100"),
    ],
)
def test_how_often_in_words(chance, words):
    assert times(chance) == words


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.95, "up to nearly always"),
        (0.41, "at most 5 times in 10"),
        (0.40, "at most 4 times in 10"),
        (0.051, "at most 1 time in 10"),
        (0.05, "at most 5 times in 100"),
        (0.0101, "at most 2 times in 100"),
        (0.0, "at most 1 time in 100"),
    ],
)
def test_a_bound_is_rounded_up(chance, words):
    assert at_most(chance) == words


@pytest.mark.parametrize(
    ("level", "words"),
    [
        (1.0, "threshold itself"),
        (2.0, "twice the threshold"),
        (3.0, "three times threshold"),
        (2.5, "2.5 times threshold"),
    ],
)
def test_a_level_in_words(level, words):
    assert level_words(level) == words


def test_under_one_in_a_hundred_is_never_nought():
    assert (hundredths(0.001), hundredths(0.0), hundredths(0.006)) == ("<1", "0", "1")


def test_a_range_that_is_written_alike_is_one_number():
    assert ends_of_hundred(Chance(0.001, 0.0005, 0.002)) == "<1"
    assert of_hundred(Chance(0.001, 0.0005, 0.002)) == "fewer than 1"
    assert of_hundred(Chance(0.05, 0.02, 0.09)) == "5 (2 to 9)"
