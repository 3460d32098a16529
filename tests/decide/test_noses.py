"""What everybody says to a compound: the ground of the decisions."""

import numpy as np
import pytest
from known_noses import noses_of

from seatworthy.decide.noses import named_draws, named_mean, perceived_mean

LEVELS = (0.25, 1, 3, 12)


def test_more_of_it_is_named_more_often():
    found = named_mean(noses_of([[0.0, 2.0]]), LEVELS)
    assert np.all(np.diff(found, axis=2) > 0)
    assert np.all(found[0, 0] > found[0, 1])


def test_plain_beer_is_called_by_guess_alone():
    found = named_mean(noses_of([[0.0]], calls=0.12), [0.0])
    assert found[0, 0, 0] == pytest.approx(0.12 / 12, abs=1e-12)


def test_whoever_never_had_it_says_what_they_say_of_plain_beer():
    noses = noses_of([[0.0, 0.0]], tested=[[True, False]])
    found, drawn = named_mean(noses, LEVELS), named_draws(noses, LEVELS)
    assert found[0, 1] == pytest.approx(np.full(4, 0.05 / 12))
    assert np.allclose(drawn[:, 0, 1], 0.05 / 12)
    assert perceived_mean(noses, LEVELS)[0][0, 1] == pytest.approx(np.zeros(4))


def test_draws_of_a_certain_nose_are_its_mean():
    noses = noses_of([[0.5, -1.0], [1.5, 3.0]])
    assert named_draws(noses, LEVELS).mean(axis=0) == pytest.approx(
        named_mean(noses, LEVELS), abs=0.02
    )


def test_some_people_are_the_same_people():
    noses = noses_of([[0.0, 1.0], [2.0, -1.0], [4.0, 0.5]], calls=[0.02, 0.1, 0.3])
    some = noses.of([2, 0])
    assert some.people == ("p2", "p0")
    assert np.array_equal(named_mean(some, LEVELS), named_mean(noses, LEVELS)[[2, 0]])
    assert np.array_equal(named_draws(some, LEVELS), named_draws(noses, LEVELS)[:, [2, 0]])
