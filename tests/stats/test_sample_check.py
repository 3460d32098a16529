"""Whether a sample was made as stated."""

import numpy as np
import pytest

from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.sample_check import check_samples, log_evidence
from seatworthy.stats.ability.settings import DEFAULT

PEOPLE = 6
BEFORE = [(19_900 + 10 * day, person) for day in range(5) for person in range(PEOPLE)]


@pytest.fixture
def check_last(pour_glasses, pour_blanks):
    """Five right glasses a person, then a sample with the answers given; its check."""

    def run(answers, level=3.0, method="naming"):
        rows = [(day, person, 0, 0, "naming", 3.0, 0.0, 0) for day, person in BEFORE]
        rows += [(19_960, p, 0, 0, method, level, 0.0, a) for p, a in enumerate(answers)]
        sample = [day for day, _ in BEFORE] + [19_960] * len(answers)
        shape = (PEOPLE, 1, 1)
        return check_samples(pour_glasses(rows), pour_blanks([]), np.array(sample), shape)

    return run


def test_a_sample_that_everybody_misses_was_hardly_dosed(check_last):
    seen = check_last([Outcome.NONE] * PEOPLE)
    assert seen.sample.tolist() == [19_900, 19_910, 19_920, 19_930, 19_940, 19_960]
    assert seen.glasses.tolist() == [PEOPLE] * 6
    assert seen.log_not_dosed[-1] > 3
    assert seen.log_half_dosed[-1] > 0
    assert np.all(seen.log_not_dosed[:-1] < 0)


def test_a_sample_that_everybody_names_was_dosed(check_last):
    assert check_last([Outcome.RIGHT] * PEOPLE).log_not_dosed[-1] < -10


def test_one_miss_among_six_raises_no_alarm(check_last):
    seen = check_last([Outcome.NONE] + [Outcome.RIGHT] * (PEOPLE - 1))
    assert seen.log_not_dosed[-1] < -5


def test_every_further_miss_speaks_for_a_slip(check_last):
    factors = [
        check_last([Outcome.NONE] * misses + [Outcome.RIGHT] * (PEOPLE - misses)).log_not_dosed[-1]
        for misses in range(PEOPLE + 1)
    ]
    assert np.all(np.diff(factors) > 0)


def test_forced_choices_speak_too(check_last):
    seen = check_last([Outcome.WRONG] * PEOPLE, method="3afc")
    assert seen.log_not_dosed[-1] > 3


def test_later_answers_do_not_change_an_earlier_check(check_last):
    one, other = (check_last([outcome] * PEOPLE) for outcome in (Outcome.NONE, Outcome.RIGHT))
    assert one.log_not_dosed[:-1] == pytest.approx(other.log_not_dosed[:-1], abs=1e-10)


def test_colleagues_who_were_away_are_read_as_of_that_day(pour_glasses, pour_blanks):
    """Person 1 tastes first and last, with false calls between; the middle sample is person 0's."""
    first = [(100, person, 0, 0, "naming", 3.0, 0.0, 0) for person in (0, 1)]
    middle, late = (110, 0, 0, 0, "naming", 3.0, 0.0, 2), (130, 1, 0, 0, "naming", 3.0, 0.0, 0)
    calls = [(105, 1, True)] * 3
    later_calls = [(120, 1, True)] * 9

    def check(glasses, blanks):
        sample = np.array([glass[0] for glass in glasses])
        seen = check_samples(pour_glasses(glasses), pour_blanks(blanks), sample, (2, 1, 1))
        return seen.log_not_dosed[seen.sample == 110]

    then = check([*first, middle], calls)
    assert check([*first, middle, late], calls + later_calls) == pytest.approx(then, abs=1e-10)


@pytest.mark.parametrize("part", [1.0, 0.5, 0.0])
def test_all_answers_two_people_can_give_have_probability_one(part, pour_glasses):
    draw, size = np.random.default_rng(3), build_grid(DEFAULT).theta.size
    joint = draw.random((2, 12, size))
    joint /= joint.sum(axis=(1, 2), keepdims=True)
    answers = [Outcome.RIGHT, Outcome.WRONG, Outcome.NONE]
    total = 0.0
    for first in answers:
        for second in answers:
            rows = [
                (1, p, 0, 0, "naming", 3.0, 0.5, answer) for p, answer in enumerate((first, second))
            ]
            nodes = np.array([0, 5])
            total += np.exp(log_evidence(joint, nodes, pour_glasses(rows), part, DEFAULT))
    assert total == pytest.approx(1.0, abs=1e-10)


def test_two_glasses_of_one_person_are_weighed_together(pour_glasses):
    """Agreement within a person is likelier than the product of two people's chances."""
    grid = build_grid(DEFAULT)
    joint = np.ones((2, 12, grid.theta.size)) * grid.own_prior * grid.naming_mass[:, None]
    joint /= joint.sum(axis=(1, 2), keepdims=True)
    nodes = np.array([3, 3])
    same, different = (
        pour_glasses([(1, person, 0, 0, "naming", 3.0, 0.0, 0) for person in people])
        for people in ((0, 0), (0, 1))
    )
    together = log_evidence(joint, nodes, same, 1.0, DEFAULT)
    assert together > log_evidence(joint, nodes, different, 1.0, DEFAULT)


def test_nothing_poured_gives_nothing(pour_glasses, pour_blanks):
    seen = check_samples(pour_glasses([]), pour_blanks([]), np.array([], dtype=int), (1, 1, 1))
    assert seen.sample.size == seen.log_not_dosed.size == 0
