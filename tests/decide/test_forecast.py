"""How many more glasses and sessions, against arithmetic and against simulation."""

from dataclasses import replace

import numpy as np
import pytest
from panel_of_answers import NOTHING, RIGHT, ahead_of, ground_of, some_answers

from seatworthy.decide.forecast import Until, glasses_until
from seatworthy.decide.jugs import Limits
from seatworthy.decide.sessions_ahead import (
    SeatNow,
    Sessions,
    until_covered,
    until_decided,
    until_seat,
)

LIMITS = Limits()
MOST = 10


def until_of(answers, people, compounds):
    ground = ground_of(answers, people, compounds)
    return glasses_until(ahead_of(answers, people, compounds, MOST), ground.glasses, LIMITS)


def certain(met_after, most=MOST, compounds=1, people=1):
    """Everybody is met for sure after so many more glasses; never where it is None."""
    met = np.zeros((people, compounds, most + 1))
    for person, own in enumerate(met_after):
        for compound, glasses in enumerate(own):
            if glasses is not None:
                met[person, compound, glasses] = 1.0
    return Until(met, np.zeros_like(met), np.zeros((people, compounds)))


def simulated(answers, draws, rng):
    """Glasses until the verdict, one answer drawn after the other; shape (draws,), -1 for never."""
    ahead = ahead_of(answers, 1, 1, MOST)
    place = {tuple(way): n for n, way in enumerate(ahead.ways.tolist())}
    seen, met, first = ahead.seen[0, 0], ahead.met[0, 0], len(answers)
    found = []
    for _ in range(draws):
        way = (0, 0, 0)
        while True:
            more, glasses = sum(way), first + sum(way)
            here = met[place[way]]
            if (here >= 0.85 and glasses >= 4) or (here <= 0.05 and glasses >= 6):
                found.append((more, here >= 0.85))
                break
            if more == MOST:
                found.append((-1, False))
                break
            steps = [tuple(np.add(way, np.eye(3, dtype=int)[n]).tolist()) for n in range(3)]
            chances = np.array([seen[place[step]] for step in steps]) / seen[place[way]]
            way = steps[int(rng.choice(3, p=chances / chances.sum()))]
    return found


@pytest.mark.parametrize("own", [[0, 0], [0, 2, 0], [2, 2, 1], []])
def test_the_distribution_of_further_glasses_is_that_of_simulated_answers(own):
    answers = [(0, 0, outcome) for outcome in own]
    until = until_of(answers, 1, 1)
    found = simulated(answers, 3000, np.random.default_rng(4))
    met = np.bincount([n for n, is_met in found if is_met], minlength=MOST + 1) / len(found)
    not_met = np.bincount([n for n, is_met in found if n >= 0 and not is_met], minlength=MOST + 1)
    # four standard errors of a share among 3,000
    assert until.met[0, 0] == pytest.approx(met, abs=4 * 0.5 / 3000**0.5)
    assert until.not_met[0, 0] == pytest.approx(not_met / len(found), abs=4 * 0.5 / 3000**0.5)


def test_what_is_decided_takes_no_more_glasses():
    until = until_of([(0, 0, RIGHT)] * 9 + [(0, 1, NOTHING)] * 9, 1, 2)
    assert until.met[0, 0, 0] == pytest.approx(1)
    assert until.not_met[0, 1, 0] == pytest.approx(1)


def test_too_few_glasses_are_never_met_whatever_the_chance():
    until = until_of([(0, 0, RIGHT)], 1, 1)
    assert until.met[0, 0, :3].sum() == 0  # four glasses are asked for
    assert until.met[0, 0, 3] > 0.1


def test_chances_never_exceed_one_and_who_stays_open_names_it_sometimes():
    until = until_of(some_answers(np.random.default_rng(2), 3, 3, 4), 3, 3)
    ever = until.ever_met + until.ever_not_met
    assert (ever <= 1 + 1e-9).all()
    assert (ever < 0.99).any()
    rate = until.rate_if_open[ever < 0.99]
    assert ((rate > 0.3) & (rate < 0.9)).all()


@pytest.mark.parametrize(
    ("met_after", "per_session", "sessions"),
    [
        ([[6]], 6, 3),  # one compound: two a session
        ([[6]], 1, 6),
        ([[4, 4, 4]], 6, 2),  # three: two of each a session
        ([[4, 4, 4]], 3, 4),  # three: one of each a session
        ([[2, 8]], 2, 5),  # one of each twice, then two of the other: 2 + 6 / 2
        ([[0, 0]], 4, 0),
    ],
)
def test_sessions_share_out_glasses_among_what_is_open(met_after, per_session, sessions):
    compounds = len(met_after[0])
    until = certain(met_after, compounds=compounds)
    cells = np.array([(0, k) for k in range(compounds)])
    assert until_decided(until, cells, per_session) == Sessions(sessions, sessions, 1.0)


def test_a_rule_that_asks_for_days_asks_for_sessions():
    assert until_decided(certain([[2]]), np.array([(0, 0)]), 6, least=2).low == 2


def test_what_never_comes_is_no_number():
    assert until_decided(certain([[None]]), np.array([(0, 0)]), 6) == Sessions(0, 0, 0.0)


def test_nothing_open_is_decided_now():
    none = np.zeros((0, 2), dtype=np.int64)
    assert until_decided(certain([[3]]), none, 6) == Sessions(0, 0, 1.0)


def test_chances_mix_what_comes_and_what_does_not():
    until = certain([[4]])
    half = Until(until.met / 2, until.not_met, until.rate_if_open)
    found = until_decided(half, np.array([(0, 0)]), 6)
    assert (found.low, found.high) == (2, 2)
    assert found.chance == pytest.approx(0.5, abs=4 * 0.5 / 1000**0.5)


def test_a_seat_is_granted_once_enough_are_met():
    until, cells = certain([[2, 8]], compounds=2), np.array([(0, 0), (0, 1)])
    one_more = until_seat(until, cells, SeatNow(3, 0, 4, 1), per_session=2)
    assert (one_more.sessions, one_more.granted) == (Sessions(2, 2, 1.0), 1.0)
    both = until_seat(until, cells, SeatNow(3, 0, 5, 1), per_session=2)
    assert (both.sessions, both.granted) == (Sessions(5, 5, 1.0), 1.0)
    now = until_seat(until, cells, SeatNow(4, 0, 4, 1), per_session=2)
    assert (now.sessions, now.granted) == (Sessions(0, 0, 1.0), 1.0)


def test_a_seat_that_cannot_be_granted_any_more_is_settled():
    until, cells = certain([[2]]), np.array([(0, 0)])
    never = until_seat(until, cells, SeatNow(1, 0, 4, 1), per_session=2)
    assert (never.sessions, never.granted) == (Sessions(0, 0, 1.0), 0.0)
    bad = Until(np.zeros_like(until.met), until.met, until.rate_if_open)
    later = until_seat(bad, cells, SeatNow(3, 1, 4, 1), per_session=2)
    assert (later.sessions, later.granted) == (Sessions(1, 1, 1.0), 0.0)


def test_the_panel_is_covered_by_whoever_is_met_first():
    ground = ground_of([], 3, 1)
    until = certain([[2], [4], [8]], people=3)
    assert until_covered(until, ground, 6) == Sessions(2, 2, 1.0)  # the second nose after four
    one_is = np.array([[True], [False], [False]])
    assert until_covered(until, replace(ground, is_met=one_is), 6).low == 2
    both_are = np.array([[True], [True], [False]])
    assert until_covered(until, replace(ground, is_met=both_are), 6) == Sessions(0, 0, 1.0)


def test_those_who_do_not_smell_it_or_have_no_seat_never_cover_it():
    until = certain([[2], [4], [8]], people=3)
    ground = ground_of([], 3, 1, is_insensitive=np.array([[True], [False], [False]]))
    assert until_covered(until, ground, 6).low == 4
    no_seat = ground_of([], 3, 1, is_nose=np.array([False, True, False]))
    assert until_covered(until, no_seat, 6) == Sessions(0, 0, 0.0)


def test_the_same_question_has_the_same_answer():
    until = until_of(some_answers(np.random.default_rng(2), 1, 3, 4), 1, 3)
    cells = np.array([(0, 0), (0, 1), (0, 2)])
    assert until_decided(until, cells, 4) == until_decided(until, cells, 4)
