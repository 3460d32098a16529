from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seatworthy.intake.cells import (
    HIGHEST_LEVEL,
    exact_number,
    read_aside,
    read_code,
    read_dose,
    read_level,
    read_number,
    read_position,
    read_rating,
    read_volume,
)
from seatworthy.intake.words import Unreadable


@pytest.mark.parametrize("text", ["3", "3x", "3×", "3 x", "x3", "3.0", "3,0", "３", "3X", " 3 "])
def test_a_level_of_three_in_every_dress(text):
    assert read_level(text) == 3


@pytest.mark.parametrize("text", ["2.5", "2,5", "2,5x", "2.50×"])
def test_a_decimal_comma_is_a_decimal_point(text):
    assert read_level(text) == Decimal("2.5")


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("-3", "above 0"),
        ("\u22123", "above 0"),  # a minus sign
        ("nan", "must be a number"),
        ("NaN", "must be a number"),
        ("inf", "must be a number"),
        ("-Infinity", "must be a number"),
        ("three", "must be a number"),
        ("x", "must be a number"),
        ("3xx", "must be a number"),
        ("2-4", "must be a number"),
        ("1e-30", "above 0"),
        ("1e99", "up to 1000"),
        ("1001", "up to 1000"),
        ("1 000", "must be a number"),
        ("1,234.5", "must be a number"),
        ("2,500", "may mean 2.500 or 2500"),
    ],
)
def test_levels_that_are_none_are_refused(text, reason):
    with pytest.raises(Unreadable, match=reason):
        read_level(text)


@pytest.mark.parametrize(
    "text", ["²", "10²", "10⁻²", "1₀", "①", "½", "1½", "⒈", "𝟐", "🄂", "Ⅳ", "٣", "१", "二"]
)
def test_only_plain_digits_are_digits(text):
    """Raised, lowered, circled, broken, styled and other scripts' digits, by Unicode's names of them."""
    for read in (read_number, exact_number, read_level, read_rating):
        with pytest.raises(Unreadable, match="must be a number"):
            read(text)
    for read, unit in ((read_dose, "ug"), (read_volume, "ml")):
        with pytest.raises(Unreadable, match="must be a"):
            read(f"{text} {unit}")


@pytest.mark.parametrize(
    ("text", "number"), [("１０", "10"), ("２．５", "2.5"), ("２，５", "2.5"), ("１ｅ２", "100")]
)
def test_full_width_digits_are_what_some_keyboards_write(text, number):
    assert read_number(text) == read_level(text) == Decimal(number)
    assert read_dose(f"{text}　ｕｇ") == Decimal(number)


def test_an_exact_number_keeps_what_is_rounded_elsewhere():
    assert exact_number("1e30") == Decimal("1e30")
    assert exact_number("-1e-30") == Decimal("-1e-30")
    assert exact_number("0.1234567891234") == Decimal("0.1234567891234")
    assert read_number("0.1234567891234") == Decimal("0.123456789")


def test_the_highest_level_is_still_a_level():
    assert read_level("1000") == HIGHEST_LEVEL


def test_a_level_of_nought_is_read_since_it_fits_a_blank():
    assert read_level("0") == 0


def test_a_comma_before_three_digits_is_plain_when_nothing_stands_before_it():
    assert read_number("0,033") == Decimal("0.033")


@settings(deadline=None)
@given(st.decimals(min_value=0, max_value=999, places=4, allow_nan=False))
def test_point_and_comma_mean_the_same(number):
    text = f"{number:f}"
    assert read_number(text) == read_number(text.replace(".", ",")) == number


@settings(deadline=None)
@given(st.text(max_size=30))
def test_any_text_is_a_finite_number_or_refused(text):
    try:
        number = read_number(text)
    except Unreadable:
        return
    assert number.is_finite()
    assert number.as_tuple().exponent >= -9


@pytest.mark.parametrize(
    ("text", "micrograms"),
    [
        ("33 ug", "33"),
        ("33 µg", "33"),  # micro sign
        ("33 μg", "33"),  # Greek mu
        ("33ug", "33"),
        ("33 mcg", "33"),
        ("0.033 mg", "33"),
        ("0,033 mg", "33"),
        ("40 ng", "0.04"),
        ("0.000033 g", "33"),
        ("33 UG", "33"),
        ("0.0000123456789 ug", "0.000012346"),
    ],
)
def test_doses_are_micrograms(text, micrograms):
    assert read_dose(text) == Decimal(micrograms)


@pytest.mark.parametrize(
    ("text", "millilitres"),
    [("330 ml", "330"), ("33 cl", "330"), ("0,33 l", "330"), ("0.5 L", "500"), ("1 hl", "100000")],
)
def test_volumes_are_millilitres(text, millilitres):
    assert read_volume(text) == Decimal(millilitres)


def test_the_heading_s_unit_serves_cells_without_one():
    assert read_dose("33", "mg") == 33_000
    assert read_dose("33 ug", "mg") == 33


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("33", "has no unit"),
        ("33 ml", "must be an amount like 33 ug"),
        ("60 ug/l", "must be an amount like 33 ug"),
        ("-33 ug", "above 0"),
        ("nan ug", "must be an amount"),
        ("ug", "must be an amount"),
        ("101 g", "believable"),
        ("0.0000001 ng", "believable"),
    ],
)
def test_doses_that_are_none_are_refused(text, reason):
    with pytest.raises(Unreadable, match=reason):
        read_dose(text)


def test_a_rating_may_be_nought_but_not_below():
    assert read_rating("0") == 0
    with pytest.raises(Unreadable, match="between 0 and 1000"):
        read_rating("-1")
    with pytest.raises(Unreadable, match="between 0 and 1000"):
        read_rating("1001")


@pytest.mark.parametrize("text", ["0", "1000", "-1", "1.5", "first", ""])
def test_positions_outside_the_order_are_refused(text):
    with pytest.raises(Unreadable, match="whole number from 1 to 999"):
        read_position(text)


def test_positions_and_codes_survive_a_detour_through_floats():
    assert read_position("7.0") == 7
    assert read_code("351.0") == "351"
    assert read_code("007") == "007"


def test_a_glass_is_set_aside_by_a_reason_and_not_by_no():
    assert read_aside("spilled") == "spilled"
    assert read_aside("No") is None
