import re
from collections import Counter
from itertools import pairwise

import pytest
from asked import unhurried
from hypothesis import given
from hypothesis import strategies as st

from seatworthy.sessions.draw import Draw
from seatworthy.sessions.orders import check_balance, serving_orders, together, williams

SIZES = range(1, 13)


@pytest.mark.parametrize("size", SIZES)
def test_a_williams_design_is_balanced_in_place_and_neighbour(size):
    check_balance(williams(size))


@pytest.mark.parametrize("size", SIZES)
def test_every_pair_of_neighbours_comes_equally_often(size):
    found = Counter(pair for row in williams(size) for pair in pairwise(row))
    wanted = {(a, b) for a in range(size) for b in range(size) if a != b}
    assert dict(found) == dict.fromkeys(wanted, 2 if size % 2 else 1)


@pytest.mark.parametrize("size", SIZES)
def test_every_square_holds_each_treatment_once_in_each_place(size):
    rows = williams(size)
    for start in range(0, len(rows), size):
        columns = zip(*rows[start : start + size], strict=True)
        assert all(sorted(column) == list(range(size)) for column in columns)


@pytest.mark.parametrize(("size", "rows"), [(1, 1), (2, 2), (5, 10), (6, 6), (7, 14), (12, 12)])
def test_an_odd_number_of_treatments_needs_two_squares(size, rows):
    assert len(williams(size)) == rows


def test_a_design_of_nothing_is_a_slip():
    with pytest.raises(ValueError, match="at least one treatment, got 0"):
        williams(0)


def cyclic(size):
    return [tuple((first + step) % size for step in range(size)) for first in range(size)]


@pytest.mark.parametrize("size", [3, 4, 5, 6])
def test_a_cyclic_square_is_caught(size):
    words = r"treatment 0 right before treatment 1 comes \d+ times in \d rows, and 1 would be even"
    with pytest.raises(ValueError, match=words):
        check_balance(cyclic(size))


@pytest.mark.parametrize("size", [4, 5, 8, 9])
def test_a_square_with_two_glasses_exchanged_in_one_row_is_caught(size):
    first, *others = williams(size)
    tampered = [(first[1], first[0], *first[2:]), *others]
    with pytest.raises(ValueError, match=f"treatment {first[0]} in place 1"):
        check_balance(tampered)


@pytest.mark.parametrize("size", [3, 5, 7])
def test_one_square_alone_is_caught_for_odd_numbers(size):
    with pytest.raises(ValueError, match="right before"):
        check_balance(williams(size)[:size])


@pytest.mark.parametrize("size", [4, 5])
def test_a_row_too_many_is_caught(size):
    with pytest.raises(ValueError, match=f"in place 1 comes 2 times in {size + 1} rows"):
        check_balance([williams(size)[0], *williams(size)[:size]])


def test_a_row_with_one_glass_twice_is_caught():
    with pytest.raises(ValueError, match=re.escape("row 2 does not hold each of 2 treatments")):
        check_balance([(0, 1), (1, 1)])


def test_no_rows_are_no_design():
    with pytest.raises(ValueError, match="without rows"):
        check_balance([])


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("rounds", [1, 2])
def test_orders_are_balanced_whenever_whole_designs_are_used(size, rounds):
    people = rounds * len(williams(size))
    check_balance(serving_orders(people, range(size), Draw(size)))


@pytest.mark.parametrize("marks", ["AAB", "AABBC", "AABCDD", "AABBCCD"])
def test_duplicates_do_not_break_the_balance(marks):
    check_balance(serving_orders(len(williams(len(marks))), marks, Draw(3)))


@unhurried
@given(st.integers(0, 30), st.integers(1, 9), st.integers(0, 2**31))
def test_no_order_is_used_again_before_all_are_used(people, size, seed):
    used = Counter(serving_orders(people, range(size), Draw(seed)))
    rows = len(williams(size))
    assert max(used.values(), default=0) - (min(used.values()) if len(used) == rows else 0) <= 1


@unhurried
@given(st.integers(1, 30), st.text("ABCDE", min_size=1, max_size=8), st.integers(0, 2**31))
def test_places_differ_by_one_at_most_for_any_number_of_people(people, marks, seed):
    for places in zip(*serving_orders(people, marks, Draw(seed)), strict=True):
        counts = [places.count(glass) for glass in range(len(marks))]
        assert max(counts) - min(counts) <= 1


@pytest.mark.parametrize(
    ("marks", "people"), [("ABCDD", 3), ("AABCDEF", 5), ("AABBCCDD", 5), ("AABBCCDE", 5)]
)
@pytest.mark.parametrize("seed", range(5))
def test_duplicates_stand_apart_while_there_are_orders_that_allow_it(marks, people, seed):
    rows = serving_orders(people, marks, Draw(seed))
    assert [together(row, marks) for row in rows] == [0] * people


def test_over_a_whole_square_balance_goes_before_keeping_duplicates_apart():
    rows = serving_orders(6, "AABCDE", Draw(1))
    assert sum(together(row, "AABCDE") for row in rows) == 2


def test_nothing_to_serve_gives_everybody_an_empty_order():
    assert serving_orders(2, "", Draw(1)) == ((), ())


def test_a_seed_gives_these_orders_in_every_version():
    rows = serving_orders(3, "AABC", Draw(2026))
    assert rows == ((0, 3, 1, 2), (2, 1, 3, 0), (3, 2, 0, 1))
