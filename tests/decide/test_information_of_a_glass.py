"""What a glass tells of a verdict, against sums over every ability and against known channels.

Mutual information as in Lindley (1956), Ann. Math. Stat. 27:986-1005. The binary symmetric channel
holds 1 - h(e) bits a use (Shannon 1948, Bell Syst. Tech. J. 27:379-423, section 15), the erasure
channel 1 - e; the noise-free one all of it.
"""

from itertools import product

import numpy as np
import pytest
from panel_of_answers import ahead_of, some_answers

from seatworthy.decide.information import expected_information
from seatworthy.decide.telling import information_bits
from seatworthy.stats.ability.next_answers import NextAnswers, ways_to_answer


def channel(prior, given_yes, given_no, most=1):
    """Next answers of somebody who is good enough with a chance, answers being drawn alike."""
    ways = ways_to_answer(most)
    yes = prior * np.prod(np.array(given_yes) ** ways, axis=1)
    no = (1 - prior) * np.prod(np.array(given_no) ** ways, axis=1)
    seen = yes + no
    met = np.divide(yes, seen, out=np.zeros_like(yes), where=seen > 0)
    zero = np.zeros((1, 1))
    return NextAnswers(ways, seen[None, None], met[None, None], zero, zero)


def entropy(chance):
    return -chance * np.log2(chance) - (1 - chance) * np.log2(1 - chance)


@pytest.mark.parametrize("error", [0.01, 0.11, 0.25, 0.4])
def test_a_binary_symmetric_channel_holds_one_less_its_noise(error):
    ahead = channel(0.5, (1 - error, 0, error), (error, 0, 1 - error))
    assert information_bits(ahead, 1).item() == pytest.approx(1 - entropy(error))


@pytest.mark.parametrize("lost", [0.0, 0.3, 0.9])
def test_an_erasure_channel_loses_what_is_erased(lost):
    ahead = channel(0.5, (1 - lost, lost, 0), (0, lost, 1 - lost))
    assert information_bits(ahead, 1).item() == pytest.approx(1 - lost)


def test_answers_that_do_not_depend_on_the_verdict_tell_nothing():
    ahead = channel(0.3, (0.5, 0.2, 0.3), (0.5, 0.2, 0.3), most=2)
    assert information_bits(ahead, 1).item() == pytest.approx(0, abs=1e-12)
    assert information_bits(ahead, 2).item() == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("glasses", [1, 2])
@pytest.mark.parametrize("prior", [0.1, 0.5, 0.85])
def test_it_is_the_sum_over_every_order_of_answers(prior, glasses):
    """Brute force: every ordered answer, p log p / (p p), nothing collected into counts."""
    yes, no = np.array([0.7, 0.1, 0.2]), np.array([0.3, 0.2, 0.5])
    found = information_bits(channel(prior, yes, no, most=2), glasses).item()
    told = 0.0
    for order in product(range(3), repeat=glasses):
        both = prior * yes[list(order)].prod(), (1 - prior) * no[list(order)].prod()
        for own, verdict in zip(both, (prior, 1 - prior), strict=True):
            told += own * np.log2(own / (sum(both) * verdict))
    assert found == pytest.approx(told)


def test_it_is_what_the_other_module_says_of_the_same_glass():
    """The weighing of a call has a function of its own for the same thing, written differently."""
    yes, no = np.array([0.7, 0.1, 0.2]), np.array([0.3, 0.2, 0.5])
    found = information_bits(channel(0.4, yes, no), 1).item()
    said = expected_information(np.array([0.4, 0.6]), np.stack([yes, no], axis=1))
    assert found == pytest.approx(said)


def test_more_glasses_tell_more_and_never_more_than_is_open():
    ahead = ahead_of(some_answers(np.random.default_rng(6), 5, 5, 4), 5, 5)
    one, two = information_bits(ahead, 1), information_bits(ahead, 2)
    assert (one > 0).all()
    assert (two > one).all()
    assert (two < 2 * one + 1e-12).all()
    assert (two <= entropy(np.clip(ahead.met[:, :, 0], 1e-12, 1 - 1e-12)) + 1e-9).all()
