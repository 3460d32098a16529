import pytest
from asked import unhurried
from hypothesis import given
from hypothesis import strategies as st

from seatworthy.errors import PlanRefused
from seatworthy.sessions.codes import CODES, draw_codes, says_something
from seatworthy.sessions.draw import Draw


@pytest.mark.parametrize("code", ["111", "999", "123", "789", "321", "210", "987", "112", "911"])
def test_a_code_people_read_something_into_is_never_drawn(code):
    assert code not in CODES


@pytest.mark.parametrize("code", ["100", "113", "121", "124", "135", "246", "810", "910", "998"])
def test_an_ordinary_code_may_be_drawn(code):
    assert not says_something(code)


def test_there_are_874_codes():
    """900 of three digits, less 9 alike, 7 runs up, 8 runs down and 2 emergency calls."""
    assert len(CODES) == 900 - 9 - 7 - 8 - 2


@unhurried
@given(st.integers(0, 100), st.sets(st.sampled_from(CODES), max_size=700), st.integers(0, 2**31))
def test_codes_differ_and_none_is_taken(count, taken, seed):
    drawn = draw_codes(count, taken, Draw(seed))
    assert len(set(drawn) - taken) == count


def test_the_last_code_left_can_be_drawn():
    assert draw_codes(1, CODES[1:], Draw(1)) == ("100",)


def test_one_code_too_many_is_refused_with_the_numbers():
    words = r"needs 3 codes and 2 of 874 are left.*30 days: plan fewer glasses"
    with pytest.raises(PlanRefused, match=words):
        draw_codes(3, CODES[2:], Draw(1))


def test_codes_from_elsewhere_take_nothing_away():
    assert len(draw_codes(874, ["A17", "0042", "111"], Draw(1))) == 874


def test_every_code_comes_about_equally_often():
    """40 draws of 100 of 874: 4.6 each, so none 20 times and few never."""
    drawn = [code for seed in range(40) for code in draw_codes(100, (), Draw(seed))]
    assert max(map(drawn.count, CODES)) < 20
    assert sum(code not in drawn for code in CODES) < 40


def test_a_seed_gives_these_codes_in_every_version():
    assert draw_codes(5, (), Draw(2026)) == ("170", "746", "227", "144", "494")
