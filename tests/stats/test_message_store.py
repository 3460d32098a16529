"""How messages are kept and carried: against the walk taken apart into waves."""

import numpy as np
import pytest

from seatworthy.stats.ability.cells import portions
from seatworthy.stats.ability.families import evidence_on
from seatworthy.stats.ability.messages import (
    NEVER,
    MessageStore,
    absorb,
    advance,
    build_walk,
    from_waves,
    mix,
    to_waves,
)
from seatworthy.stats.ability.poured import days_of_row_before
from seatworthy.stats.ability.settings import DEFAULT

WALK = build_walk(DEFAULT)
ALL = np.arange(4)


def answers(rows, seed):
    """Smooth likelihoods of some rows; shape (N, 12, 49)."""
    smooth = np.cumsum(np.random.default_rng(seed).random((rows, 12, 49)), axis=-1)
    return smooth / smooth.max(axis=(1, 2), keepdims=True)


@pytest.fixture
def store():
    """Rows 1 and 2 with answers on days 100 and 130, row 3 on day 130 only; row 0 empty."""
    filled = MessageStore(4, DEFAULT)
    filled.add(np.array([1, 2]), 100, answers(2, seed=1))
    filled.add(np.array([1, 2, 3]), 130, answers(3, seed=2))
    return filled


def true_messages(store, rows, day):
    messages, scale = store.on(rows, np.full(rows.shape, day))
    return messages * np.exp(scale)[..., None, None]


@pytest.mark.parametrize("days", [1, 7, 400, 40_000])
def test_a_kernel_is_the_walk_over_its_days(days):
    messages, _ = absorb(np.ones((3, 2, 12, 49)), answers(2, seed=3))
    carried = messages @ WALK.kernel(days)[:, None]
    assert carried == pytest.approx(advance(messages, days, WALK), abs=1e-13)


def test_a_kernel_across_the_gap_is_the_walk_and_the_gap():
    messages = answers(2, seed=3)
    by_waves = from_waves(to_waves(messages, WALK) * WALK.gap, WALK)
    assert WALK.across_gap(messages) == pytest.approx(by_waves, abs=1e-13)


def test_kernels_of_more_days_than_are_kept_stay_right():
    first = WALK.kernel(3).copy()
    for days in range(1000, 1300):
        WALK.kernel(days)
    assert np.array_equal(WALK.kernel(3), first)


def test_answers_are_carried_from_day_to_day(store):
    first, second = answers(2, seed=1), answers(3, seed=2)[:2]
    expected = advance(advance(np.ones((3, 2, 12, 49)) * first, 30, WALK) * second, 70, WALK)
    assert true_messages(store, ALL[1:3], 200) == pytest.approx(expected, abs=1e-13)


def test_rows_read_on_days_of_their_own_read_as_each_alone(store):
    days = np.array([200, 130, 160, 200])
    together, scale = store.on(ALL, days)
    for row, day in enumerate(days.tolist()):
        alone, own_scale = store.on(np.array([row]), np.array([day]))
        assert np.array_equal(together[:, row], alone[:, 0])
        assert np.array_equal(scale[:, row], own_scale[:, 0])


def test_a_row_without_answers_says_nothing(store):
    messages, scale = store.on(np.array([0]), np.array([5000]), np.array([True]))
    assert messages == pytest.approx(np.ones_like(messages), abs=1e-13)
    assert not scale.any()
    assert store.last(ALL).tolist() == [NEVER, 130, 130, 130]


def test_bringing_rows_to_a_day_changes_no_later_reading(store):
    before = true_messages(store, ALL, 300)
    store.bring_to(210)
    assert true_messages(store, ALL, 300) == pytest.approx(before, abs=1e-13)
    assert store.last(ALL).tolist() == [NEVER, 210, 210, 210]


def test_a_forgotten_row_is_as_new_and_its_neighbours_are_not(store):
    before = true_messages(store, ALL, 200)
    store.forget(np.array([2]))
    after = true_messages(store, ALL, 200)
    assert np.array_equal(after[:, 2], np.ones((3, 12, 49)))
    assert store.has(ALL).tolist() == [False, True, False, True]
    assert np.array_equal(after[:, [0, 1, 3]], before[:, [0, 1, 3]])


def test_more_room_holds_empty_rows_and_leaves_the_others(store):
    before = true_messages(store, ALL, 200)
    store.grow(3)
    assert np.array_equal(true_messages(store, ALL, 200), before)
    assert store.has(np.arange(7)).tolist() == [False, True, True, True, False, False, False]


@pytest.mark.parametrize("read_for", [[0], [1], [2, 0], [0, 1, 2]])
def test_families_are_put_together_with_a_gap_between(store, read_for):
    rows = np.array([[1, 2, 0]])
    found = evidence_on(store, rows, np.array([200]), np.array(read_for))
    for place, here in enumerate(read_for):
        product, scale = np.ones((3, 1, 12, 49)), np.zeros((3, 1))
        for family, row in ((0, 1), (1, 2)):
            is_gap = np.array([family != here])
            messages, log_scale = store.on(np.array([row]), np.array([200]), is_gap)
            product, scale = product * messages, scale + log_scale
        expected = mix(product, scale, WALK)
        assert found[:, place] == pytest.approx(expected, rel=1e-9, abs=1e-13)


def test_one_family_alone_reads_as_its_own_mixture(store):
    found = evidence_on(store, np.array([[0, 3]]), np.array([200]), np.array([0, 1]))
    for here, is_gap in enumerate((True, False)):
        expected = store.mixed_on(np.array([3]), np.array([200]), np.array([is_gap]))
        assert found[:, here] == pytest.approx(expected, abs=1e-13)


def test_earlier_days_of_a_row_are_counted_once_each():
    row = np.array([1, 2, 1, 1, 2, 1])
    day = np.array([30, 10, 10, 30, 9, 20])
    assert days_of_row_before(row, day).tolist() == [2, 1, 0, 2, 0, 1]


@pytest.mark.parametrize(
    ("number", "runs"), [(0, []), (3, [(0, 3)]), (4, [(0, 3), (3, 4)]), (6, [(0, 3), (3, 6)])]
)
def test_portions_are_full_but_for_the_last(number, runs):
    assert [(one.start, one.stop) for one in portions(number, 3)] == runs
