import numpy as np
import pytest
from known_noses import noses_of

from seatworthy.decide.ladder import ladder
from seatworthy.decide.said import NOTHING
from seatworthy.decide.weighing import Prior, weigh

PRIOR = Prior(np.array([0.1, 0.02]), 0.02)
NOSES = noses_of(np.array([[-1.0, 0], [0.0, 0], [0.0, 0], [5.5, 0]]))
SAID = np.array([0, 0, NOTHING, NOTHING])


def test_it_starts_from_what_was_known_and_ends_with_the_weighing():
    start, rungs = ladder(NOSES, SAID, PRIOR, [1])
    assert start == pytest.approx(0.1)
    assert rungs[-1].chance == pytest.approx(weigh(NOSES, SAID, PRIOR).chances[1], abs=1e-12)
    assert {rung.taster for rung in rungs} == {0, 1, 2, 3}


def test_callers_come_first_and_those_set_apart_last():
    _, rungs = ladder(NOSES, SAID, PRIOR, [1], set_apart=frozenset({1}))
    assert [rung.taster for rung in rungs] == [0, 2, 3, 1]


def test_a_call_speaks_for_it_a_silence_against_it_and_a_dead_nose_for_nothing():
    _, rungs = ladder(NOSES, SAID, PRIOR, [1])
    moved = {rung.taster: rung.moved for rung in rungs}
    assert moved[0] > 0.5
    assert moved[1] > 0.5
    assert moved[2] < -0.5
    assert abs(moved[3]) < 0.02


def test_one_taster_alone_is_weighed_against_what_was_known():
    start, (rung,) = ladder(NOSES.of([0]), np.array([0]), PRIOR, [1])
    odds = np.log(rung.chance / (1 - rung.chance)) - np.log(start / (1 - start))
    assert rung.moved == pytest.approx(odds)


def test_those_set_apart_move_it_nowhere_and_it_ends_where_everybody_is_weighed():
    _, rungs = ladder(NOSES, SAID, PRIOR, [1], set_apart=frozenset({1}))
    last = [rung for rung in rungs if rung.taster != 1][-1]
    assert {rung.chance for rung in rungs if rung.taster == 1} == {last.chance}
    assert last.chance == pytest.approx(float(weigh(NOSES, SAID, PRIOR).chances[1]))
