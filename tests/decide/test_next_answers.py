"""What further answers would say, against answers that were really given."""

import numpy as np
import pytest
from panel_of_answers import RIGHT, TODAY, ahead_of, glasses_of, no_blanks, some_answers

from seatworthy.stats.ability.glasses import NAMING, Glasses
from seatworthy.stats.ability.next_answers import ways_to_answer
from seatworthy.stats.ability.present import Present


def one_more(answers, outcomes):
    """Answers of one person to one compound, and more of today."""
    before = glasses_of(answers)
    number = len(outcomes)
    today = Glasses(
        np.full(number, TODAY), *np.zeros((3, number), dtype=np.int64), np.full(number, NAMING),
        np.full(number, 3.0), np.zeros(number), np.array(outcomes, dtype=np.int64),
    )  # fmt: skip
    present = Present((1, 1, 1))
    present.take_in(before, no_blanks())
    present.take_in(today, no_blanks())
    return float(present.read(TODAY).chance_met_own.item())


@pytest.mark.parametrize("outcomes", [(0,), (1,), (2,), (0, 0), (0, 1), (1, 2), (2, 2), (0, 2)])
def test_it_foretells_what_the_model_says_once_the_answers_are_there(outcomes):
    answers = [(0, 0, outcome) for outcome in (0, 0, 2, 0, 1)]
    ahead = ahead_of(answers, 1, 1)
    way = [outcomes.count(n) for n in range(3)]
    place = ahead.ways.tolist().index(way)
    assert ahead.met[0, 0, place] == pytest.approx(one_more(answers, outcomes), abs=2e-3)


def test_chances_of_the_next_answer_sum_to_one_and_the_verdict_is_a_fair_game():
    ahead = ahead_of(some_answers(np.random.default_rng(1), 3, 4, 5), 3, 4, most=3)
    total = ahead.ways.sum(axis=1)
    assert np.allclose(ahead.seen[:, :, total == 1].sum(axis=2), 1)
    expected = (ahead.seen * ahead.met)[:, :, total == 1].sum(axis=2)
    assert expected == pytest.approx(ahead.met[:, :, 0])


def test_right_names_raise_the_chance_and_misses_lower_it():
    ahead = ahead_of([(0, 0, RIGHT)] * 2, 1, 1, most=4)
    by_way = {
        tuple(way): met for way, met in zip(ahead.ways.tolist(), ahead.met[0, 0], strict=True)
    }
    right = [by_way[n, 0, 0] for n in range(5)]
    missed = [by_way[0, 0, n] for n in range(5)]
    assert right == sorted(right)
    assert missed == sorted(missed, reverse=True)


def test_ways_are_every_count_up_to_the_sum():
    for most in range(5):
        ways = ways_to_answer(most)
        assert len(ways) == (most + 1) * (most + 2) * (most + 3) // 6  # stars and bars
        assert len({tuple(way) for way in ways.tolist()}) == len(ways)
        assert (np.diff(ways.sum(axis=1)) >= 0).all()
