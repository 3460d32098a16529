"""Whether something was in a glass that should have held plain beer."""

from dataclasses import replace

import numpy as np
import pytest

from seatworthy.stats.ability.blank_check import BLANK_ABOVE, PARTS, PouredBlanks, check_blanks
from seatworthy.stats.ability.glasses import NOTHING, UNNAMED
from seatworthy.stats.ability.sample_check import limit_for
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.tables import perceived

PEOPLE, COMPOUNDS = 8, 3
DAY = 19_960
BEFORE = [
    (19_900 + 10 * day, person, compound, 0, "naming", 3.0, 0.0, 0)
    for day in range(5)
    for person in range(PEOPLE)
    for compound in range(COMPOUNDS)
]


def pour(said, day=DAY, people=None, sample=1):
    number = len(said)
    return PouredBlanks(
        day=np.full(number, day),
        person=np.arange(number) if people is None else np.array(people),
        family=np.zeros(number, dtype=int),
        sample=np.full(number, sample),
        said=np.array(said, dtype=int),
    )


@pytest.fixture
def look_at(pour_glasses, pour_blanks):
    """The check of blanks after five right glasses a cell, or after other glasses and blanks."""

    def run(poured, glasses=BEFORE, blanks=(), shape=(PEOPLE, COMPOUNDS, 1), settings=DEFAULT):
        return check_blanks(
            pour_glasses(list(glasses)), pour_blanks(list(blanks)), poured, shape, settings
        )

    return run


def is_suspect(seen):
    return bool(seen.log_something[0] > limit_for(seen.tasters[0], BLANK_ABOVE))


def test_a_blank_called_by_four_of_eight_under_one_name_is_suspect(look_at):
    seen = look_at(pour([1] * 4 + [NOTHING] * 4))
    assert is_suspect(seen)
    assert seen.compound.tolist() == [1]
    assert seen.calls.tolist() == [4]


def test_a_blank_called_by_four_of_eight_without_a_name_is_suspect(look_at):
    seen = look_at(pour([UNNAMED] * 4 + [NOTHING] * 4))
    assert is_suspect(seen)
    assert seen.log_spiked[0] == -np.inf
    assert seen.compound.tolist() == [-1]


def test_a_blank_called_by_one_of_eight_is_not_suspect(look_at):
    assert not is_suspect(look_at(pour([1] + [NOTHING] * 7)))


def test_what_was_carried_over_is_found_though_most_miss_it(look_at):
    """Three of eight give one name; at the reference level all eight would have named it."""
    assert is_suspect(look_at(pour([1] * 3 + [NOTHING] * 5)))


def test_a_blank_called_by_two_of_eight_under_two_names_is_not_suspect(look_at):
    assert not is_suspect(look_at(pour([0, 1] + [NOTHING] * 6)))


def test_a_blank_that_nobody_calls_holds_nothing(look_at):
    assert look_at(pour([NOTHING] * 8)).log_something[0] < -4


def test_every_further_call_speaks_for_something(look_at):
    factors = [
        look_at(pour([2] * calls + [NOTHING] * (8 - calls))).log_something[0] for calls in range(9)
    ]
    assert np.all(np.diff(factors) > 0)


def test_one_name_speaks_louder_than_several(look_at):
    same, different = look_at(pour([0] * 3 + [NOTHING] * 5)), look_at(pour([0, 1, 2] + [-1] * 5))
    assert same.log_spiked[0] > different.log_spiked[0] + 3


def test_calls_of_frequent_callers_say_little(look_at):
    said = [1] * 4 + [NOTHING] * 4
    calls = [(19_930, person, True) for person in range(4) for _ in range(10)]
    assert look_at(pour(said), blanks=calls).log_something < look_at(pour(said)).log_something - 3


def test_a_name_of_people_who_cannot_smell_it_says_little(look_at):
    missed = [(*row[:7], 2) if row[1] < 3 and row[2] == 1 else row for row in BEFORE]
    said = [1] * 3 + [NOTHING] * 5
    deaf = look_at(pour(said), glasses=missed)
    assert deaf.log_spiked[0] < look_at(pour(said)).log_spiked[0]


def test_no_call_explains_itself_away(look_at):
    """The answers to the sample, given among the blanks as well, change nothing."""
    poured = pour([1] * 4 + [NOTHING] * 4)
    own = [(DAY, person, person < 4) for person in range(PEOPLE)]
    with_own, without = look_at(poured, blanks=own), look_at(poured)
    assert with_own.log_tainted == pytest.approx(without.log_tainted, abs=1e-12)


def test_later_answers_do_not_change_an_earlier_check(look_at):
    poured = pour([1] * 4 + [NOTHING] * 4)
    later = [(*row[:7], 2) for row in BEFORE]
    later = [(row[0] + 100, *row[1:]) for row in later]
    calls = [(DAY + 5, person, True) for person in range(PEOPLE)]
    then = look_at(poured)
    seen = look_at(poured, glasses=BEFORE + later, blanks=calls)
    assert seen.log_something == pytest.approx(then.log_something, abs=0.1)
    assert seen.log_tainted == pytest.approx(then.log_tainted, abs=1e-12)


@pytest.mark.parametrize("day", [19_880, 19_920, 19_925, 19_960])
def test_a_blank_may_be_poured_on_any_day(day, look_at):
    seen = look_at(pour([1] * 4 + [NOTHING] * 4, day=day))
    assert np.isfinite(seen.log_something).all()


def test_what_is_known_grows_from_day_to_day(look_at):
    """The more often people found a compound, the more their silence says."""
    factors = [
        look_at(pour([1] + [NOTHING] * 7, day=day)).log_spiked[0]
        for day in (19_880, 19_905, 19_925, 19_960)
    ]
    assert np.all(np.diff(factors) < 0)


def test_one_taster_is_arithmetic(look_at):
    """One person without answers, one compound: every chance by plain sums over the prior."""
    settings = replace(DEFAULT, panel_mean_sd=1e-3, panel_spread_log_sd=1e-3, nontaster_share=0.0)
    seen = look_at(pour([0]), glasses=[], shape=(1, 1, 1), settings=settings)
    draw, number = np.random.default_rng(3), 200_000
    theta = draw.normal(0, settings.panel_spread_median, number)
    level = settings.reference_level * draw.choice(PARTS, number)
    level *= 2 ** draw.normal(0, settings.dose_sd, number)
    found = perceived(np.ones(1), theta - np.log2(level), settings).mean()
    accuracy = settings.naming_prior[0] / sum(settings.naming_prior)
    named = accuracy * found + (1 - found) * 0.10 / settings.names
    assert seen.log_spiked[0] == pytest.approx(np.log(named * settings.names / 0.10), abs=0.01)
    assert seen.log_tainted[0] == pytest.approx(np.log((0.5 + 0.5 * 0.10) / 0.10), abs=1e-12)


def test_samples_come_in_the_order_of_their_numbers(look_at):
    one, other = pour([1] * 8, sample=9), pour([NOTHING] * 8, day=DAY - 30, sample=20)
    both = PouredBlanks(*(np.concatenate(pair) for pair in zip(
        vars(one).values(), vars(other).values(), strict=True)))  # fmt: skip
    seen = look_at(both)
    assert seen.sample.tolist() == [9, 20]
    assert seen.log_something[0] > 3
    assert seen.log_something[1] < 0
    assert seen.log_something[:1] == pytest.approx(look_at(one).log_something, abs=1e-12)


def test_samples_without_a_number_are_not_looked_at(look_at):
    assert look_at(pour([1] * 8, sample=-1)).sample.size == 0


def test_no_blanks_give_nothing(look_at):
    seen = look_at(pour([]), glasses=[], shape=(1, 1, 1))
    assert seen.sample.size == seen.log_something.size == 0


def test_a_name_outside_the_compounds_is_refused(look_at):
    with pytest.raises(ValueError, match="outside 0 to 2"):
        look_at(pour([COMPOUNDS]))


def test_a_word_that_stands_for_nothing_is_refused():
    with pytest.raises(ValueError, match="got -3"):
        pour([-3])


def test_arrays_of_different_length_are_refused():
    with pytest.raises(ValueError, match="equally long"):
        replace(pour([1, 1]), said=np.array([1]))
