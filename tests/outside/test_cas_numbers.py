"""CAS registry numbers of the vocabulary carry the right check digit.

Chemical Abstracts Service: the digits before the last, counted from the right and each times its place,
add up to the check digit modulo 10 (from memory). It finds slips of the pen; it doesn't prove that a number
belongs to the name.
"""

import re

import pytest

from seatworthy.intake.tables import vocabulary_rows

NUMBERS = {
    str(row["compound"]): str(row["cas"])
    for table, row in vocabulary_rows()
    if table == "compound" and row["cas"]
}


def check_digit(number):
    digits = [int(digit) for digit in re.sub(r"\D", "", number)[:-1]]
    return sum(place * digit for place, digit in enumerate(reversed(digits), start=1)) % 10


@pytest.mark.parametrize(
    ("number", "right"), [("7732-18-5", True), ("64-17-5", True), ("64-17-6", False)]
)
def test_the_sum_is_that_of_numbers_everybody_knows(number, right):
    """Water and ethanol, from memory."""
    assert (check_digit(number) == int(number[-1])) is right


@pytest.mark.parametrize("compound", NUMBERS)
def test_the_check_digit_is_right(compound):
    number = NUMBERS[compound]
    assert re.fullmatch(r"\d{2,7}-\d{2}-\d", number)
    assert check_digit(number) == int(number[-1])


def test_no_two_compounds_bear_one_number():
    assert len(set(NUMBERS.values())) == len(NUMBERS) > 40
