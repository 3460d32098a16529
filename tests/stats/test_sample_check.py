"""Whether a sample was made as stated."""

import numpy as np
import pytest

from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.sample_check import (
    NOT_DOSED_ABOVE,
    SampleCheck,
    SlipChances,
    add_by_stock,
    check_samples,
    limit_for,
    log_evidence,
    weigh_slips,
)
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


@pytest.mark.parametrize("part", [1.0, 2.0, 0.5, 0.0])
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


def test_a_weak_sample_that_everybody_finds_speaks_for_twice_the_dose(check_last):
    found, missed = (
        check_last([outcome] * PEOPLE, level=0.5) for outcome in (Outcome.RIGHT, Outcome.NONE)
    )
    assert found.log_twice_dosed[-1] > 0.5
    assert missed.log_twice_dosed[-1] < 0


def test_twice_the_dose_is_what_a_sample_of_twice_the_level_would_be(pour_glasses):
    grid = build_grid(DEFAULT)
    joint = (grid.naming_mass[:, None] * grid.own_prior)[None]
    once, twice = (
        pour_glasses([(1, 0, 0, 0, "naming", level, 0.0, Outcome.NONE)]) for level in (1.5, 3.0)
    )
    node = np.array([3])
    doubled = log_evidence(joint, node, once, 2.0, DEFAULT)
    assert doubled == pytest.approx(log_evidence(joint, node, twice, 1.0, DEFAULT), abs=1e-12)


def test_a_background_is_not_doubled(pour_glasses):
    grid = build_grid(DEFAULT)
    joint = (grid.naming_mass[:, None] * grid.own_prior)[None]
    both = pour_glasses([(1, 0, 0, 0, "naming", 3.0, 1.0, Outcome.NONE)])
    alike = pour_glasses([(1, 0, 0, 0, "naming", 5.0, 1.0, Outcome.NONE)])
    node = np.array([3])
    doubled = log_evidence(joint, node, both, 2.0, DEFAULT)
    assert doubled == pytest.approx(log_evidence(joint, node, alike, 1.0, DEFAULT), abs=1e-12)


def test_chances_of_slips_are_bayes_rule():
    """Factors 1, 1 and 1: what was thought before; factor 31: odds 93 to 100 times the share."""
    slips = SlipChances(not_dosed=0.03, half_dosed=0.02, twice_dosed=0.02)
    factors = np.array([[0.0, np.log(31)], [0.0, -np.inf], [0.0, -np.inf]])
    chances = weigh_slips(factors, slips)
    assert chances[:, 0] == pytest.approx([0.93, 0.03, 0.02, 0.02], abs=1e-12)
    assert chances[:, 1] == pytest.approx([0.5, 0.5, 0, 0], abs=1e-12)


def test_an_undosed_sample_is_the_likeliest_cause_of_misses_all_round(check_last):
    seen = check_last([Outcome.NONE] * PEOPLE)
    assert seen.chance_not_dosed[-1] > 0.5
    assert np.all(seen.chance_as_stated[:-1] > 0.9)


def test_chances_of_a_sample_sum_to_one(check_last):
    seen = check_last([Outcome.NONE, Outcome.RIGHT] * 3)
    total = (
        seen.chance_as_stated
        + seen.chance_not_dosed
        + seen.chance_half_dosed
        + seen.chance_twice_dosed
    )
    assert total == pytest.approx(np.ones(6), abs=1e-12)


@pytest.mark.parametrize("shares", [(0.0, 0.02, 0.02), (0.5, 0.3, 0.2)])
def test_slips_that_leave_nothing_or_never_happen_are_refused(shares):
    with pytest.raises(ValueError, match="above 0 and together below 1"):
        SlipChances(*shares)


def check_of(log_not_dosed, tasters=4):
    number = len(log_not_dosed)
    factors = np.array(log_not_dosed)
    many, none = np.full(number, tasters), np.zeros(number)
    return SampleCheck(
        np.arange(number), many, many, factors, factors / 2, -factors, none, none, none, none
    )


def test_factors_of_one_stock_add_up():
    seen = add_by_stock(check_of([1.0, 2.0, 4.0, 8.0]), [7, -1, 7, 3])
    assert seen.stock.tolist() == [3, 7]
    assert seen.samples.tolist() == [1, 2]
    assert seen.tasters.tolist() == [4, 8]
    assert seen.log_not_dosed.tolist() == [8.0, 5.0]
    assert seen.log_half_dosed.tolist() == [4.0, 2.5]
    assert seen.log_twice_dosed.tolist() == [-8.0, -5.0]


def test_samples_without_a_stock_add_up_to_nothing():
    assert add_by_stock(check_of([1.0, 2.0]), [-1, -1]).stock.size == 0


def test_a_stock_is_asked_of_every_sample():
    with pytest.raises(ValueError, match="Each of 2 samples needs a stock"):
        add_by_stock(check_of([1.0, 2.0]), [1])


def test_a_limit_is_that_of_the_largest_number_of_tasters_reached():
    limits = ((6, 1.0), (3, 2.5))
    assert limit_for([2, 3, 5, 6, 12], limits).tolist() == [np.inf, 2.5, 2.5, 1.0, 1.0]


def test_two_tasters_never_make_a_sample_suspect():
    assert limit_for(2, NOT_DOSED_ABOVE) == np.inf
    assert limit_for(3, NOT_DOSED_ABOVE) < np.inf


@pytest.mark.parametrize(
    ("method", "level", "background"),
    [("intensity", 3.0, 0.0), ("naming", np.nan, 0.0), ("naming", 3.0, np.nan)],
)
def test_a_sample_that_the_model_cannot_read_is_left_out(
    method, level, background, pour_glasses, pour_blanks
):
    rows = [
        (100, 0, 0, 0, "naming", 3.0, 0.0, Outcome.NONE),
        (100, 0, 0, 0, method, level, background, Outcome.RIGHT),
    ]
    seen = check_samples(pour_glasses(rows), pour_blanks([]), np.array([4, 5]), (1, 1, 1))
    assert seen.sample.tolist() == [4]
    assert np.isfinite(seen.log_not_dosed).all()


def test_one_person_alone_can_be_asked(pour_glasses, pour_blanks):
    rows = [(100, 0, 0, 0, "naming", 3.0, 0.0, Outcome.NONE)]
    seen = check_samples(pour_glasses(rows), pour_blanks([]), np.array([1]), (1, 1, 1))
    assert seen.tasters.tolist() == [1]
    assert seen.log_not_dosed[0] > 0


def test_a_sample_poured_twice_to_everybody_has_as_many_tasters_as_people(
    pour_glasses, pour_blanks
):
    rows = [(100, person, 0, 0, "naming", 3.0, 0.0, 2) for person in (0, 1, 0, 1)]
    seen = check_samples(pour_glasses(rows), pour_blanks([]), np.full(4, 1), (2, 1, 1))
    assert (seen.glasses.tolist(), seen.tasters.tolist()) == ([4], [2])


def test_a_no_to_a_not_a_speaks_too(check_last):
    seen = check_last([Outcome.WRONG] * PEOPLE, method="a_not_a")
    assert seen.log_not_dosed[-1] > 3
