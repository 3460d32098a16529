"""What to pour next: the search, the uniform part, and what must never be proposed."""

from itertools import combinations_with_replacement

import numpy as np
import pytest
from panel_of_answers import NOTHING, RIGHT, WRONG, asked_for, ground_of, some_answers

from seatworthy.decide.choosing import (
    UNIFORM,
    Why,
    choose,
    people_decided,
    uniform_glasses,
)
from seatworthy.decide.gaps import find_gaps
from seatworthy.decide.lessons import STEPS, ladder
from seatworthy.decide.market import Market, Wanted


def session_of(ground, **asked):
    return choose(ground, find_gaps(ground), asked_for(ground.glasses.shape[1], **asked))


def market_of(ground, **asked):
    return Market.build(ground, find_gaps(ground), asked_for(ground.glasses.shape[1], **asked))


def best_of_all(market, glasses, want):
    """The most any basket is worth, by trying all of them."""
    parts = {(k, market.level) for k in range(len(market.tell))}
    parts |= {part for lesson in market.lessons for part in lesson.parts}
    best = 0.0
    for chosen in combinations_with_replacement(sorted(parts), glasses):
        basket = {part: chosen.count(part) for part in chosen}
        by_compound = {k: sum(n for (c, _), n in basket.items() if c == k) for k, _ in basket}
        if max(basket.values()) <= 2 and max(by_compound.values()) <= 4:
            best = max(best, market.value(basket, want))
    return best


def random_ground(rng):
    people, compounds = 3, 4
    answers = some_answers(rng, people, compounds, int(rng.integers(1, 6)), rng.uniform(0.3, 0.9))
    taken_for = np.where(rng.random((people, compounds, compounds)) < 0.15, 0.4, 0.0)
    taken_for[:, np.arange(compounds), np.arange(compounds)] = 0
    threshold = rng.normal(0.5, 1, (people, compounds))
    guesses = rng.choice([0.0, 0.9], people, p=[0.7, 0.3])
    return ground_of(
        answers, people, compounds, taken_for=taken_for, threshold=threshold, guesses=guesses
    )


def test_the_search_is_nearly_always_the_best_of_all_and_never_far_below():
    """Against every basket of four glasses, on 200 random panels of three with four compounds."""
    rng, shares = np.random.default_rng(8), []
    for _ in range(200):
        market = market_of(random_ground(rng))
        want = Wanted(
            float(rng.choice([0.0, 0.3, 0.6, 1.0])),
            market.told(market.fill(4, Wanted(1.0))) or 1.0,
            market.taught(market.fill(4, Wanted(0.0))) or 1.0,
        )
        best = best_of_all(market, 4, want)
        if best > 0:
            shares.append(market.value(market.fill(4, want), want) / best)
    assert len(shares) > 150
    assert max(shares) <= 1 + 1e-9
    assert min(shares) >= 0.95
    assert np.mean(np.array(shares) > 1 - 1e-9) >= 0.9


def test_what_tells_most_is_found_exactly():
    rng = np.random.default_rng(3)
    for _ in range(50):
        market = market_of(random_ground(rng))
        best = best_of_all(market, 4, Wanted(1.0))
        assert market.value(market.fill(4, Wanted(1.0)), Wanted(1.0)) == pytest.approx(best)


def test_a_second_glass_tells_less_than_the_first():
    market = market_of(ground_of(some_answers(np.random.default_rng(1), 3, 3, 4), 3, 3))
    for none, one, two in market.tell:
        assert none == 0
        assert 0 < two - one < one


@pytest.mark.parametrize("glasses", [6, 8, 10, 12])
def test_between_fifteen_and_twenty_percent_are_for_everybody_alike(glasses):
    shares = [uniform_glasses(glasses, turn) for turn in range(200)]
    assert min(shares) >= 1
    assert 0.15 <= np.mean(shares) / glasses <= 0.20
    assert np.mean(shares) / glasses == pytest.approx(UNIFORM, abs=0.005)


@pytest.mark.parametrize("turn", range(8))
@pytest.mark.parametrize("tells", [0.0, 0.5, 1.0])
def test_a_session_holds_what_was_asked_with_a_blank(tells, turn):
    ground = random_ground(np.random.default_rng(turn))
    chosen = session_of(ground, tells=tells, turn=turn)
    assert chosen.glasses == 8
    (blank,) = [jug for jug in chosen.jugs if jug.compound is None]
    assert blank.why is Why.BLANK
    assert all(1 <= jug.glasses <= 2 for jug in chosen.jugs)
    places = [(jug.compound, jug.level) for jug in chosen.jugs]
    assert len(set(places)) == len(places)


def test_the_slider_goes_from_what_teaches_most_to_what_tells_most():
    rng = np.random.default_rng(5)
    for _ in range(20):
        ground = random_ground(rng)
        ends = [session_of(ground, tells=mix) for mix in (0.0, 1.0)]
        assert ends[0].taught == pytest.approx(ends[0].most_taught)
        assert ends[1].told == pytest.approx(ends[1].most_told)
        assert ends[0].taught >= ends[1].taught - 1e-9
        assert ends[1].told >= ends[0].told - 1e-9


def test_a_pair_that_is_mixed_up_is_poured_side_by_side_with_a_blank():
    answers = [(0, k, outcome) for k in (0, 1) for outcome in (RIGHT, *[WRONG] * 7)]
    answers += [(0, k, RIGHT) for k in (2, 3) for _ in range(3)]
    taken_for = np.zeros((1, 4, 4))
    taken_for[0, 0, 1] = taken_for[0, 1, 0] = 0.5
    chosen = session_of(ground_of(answers, 1, 4, taken_for=taken_for), tells=0.0)
    pair = {jug.compound: jug.other for jug in chosen.jugs if jug.why is Why.PAIR}
    assert pair == {0: 1, 1: 0}
    assert any(jug.compound is None for jug in chosen.jugs)


def test_a_ladder_stands_around_the_own_threshold():
    answers = [(0, 0, NOTHING)] * 9
    ground = ground_of(answers, 1, 1, threshold=np.array([[2.0]]))  # four times
    chosen = session_of(ground, tells=0.0)
    levels = sorted(jug.level for jug in chosen.jugs if jug.why is Why.LADDER)
    assert levels == [2.0, 4.0, 8.0] == [4 * step for step in STEPS]
    assert ladder(np.array([2.0, 2.0, 9.0])) == (2.0, 4.0, 8.0)


@pytest.mark.parametrize(
    "changed", [{"highest": np.array([7.9])}, {"cannot": frozenset({(0, 2.0)})}]
)
def test_no_ladder_where_a_step_may_not_be_served_or_made(changed):
    ground = ground_of([(0, 0, NOTHING)] * 9, 1, 1, threshold=np.array([[2.0]]))
    assert all(jug.why is not Why.LADDER for jug in session_of(ground, tells=0.0, **changed).jugs)


@pytest.mark.parametrize("tells", [0.0, 0.5, 1.0])
def test_what_somebody_does_not_smell_is_never_trained(tells):
    answers = [(0, 0, NOTHING)] * 9 + [(0, 1, RIGHT)] * 2
    ground = ground_of(answers, 1, 2, is_insensitive=np.array([[True, False]]))
    assert 0 not in {jug.compound for jug in session_of(ground, tells=tells).jugs}


def test_where_nobody_smells_anything_only_blanks_are_left():
    ground = ground_of([(0, 0, NOTHING)] * 9, 1, 1, is_insensitive=np.array([[True]]))
    assert {jug.compound for jug in session_of(ground).jugs} == {None}


def test_what_nobody_had_is_poured_first():
    answers = [(p, k, RIGHT) for p in range(3) for k in range(4) for _ in range(2)]
    chosen = session_of(ground_of(answers, 3, 5), tells=1.0, glasses=3)
    assert 4 in {jug.compound for jug in chosen.jugs}


def test_what_is_not_served_or_cannot_be_poured_is_not_proposed():
    ground = ground_of([], 2, 3)
    chosen = session_of(ground, can_pour=np.array([True, False, True]))
    assert 1 not in {jug.compound for jug in chosen.jugs}
    kept_from = ground_of([], 1, 2, may_taste=np.array([[True, False]]))
    assert 1 not in {jug.compound for jug in session_of(kept_from).jugs}


def test_nobody_and_nothing_to_pour_make_no_session():
    assert session_of(ground_of([], 0, 3)).jugs == ()
    assert session_of(ground_of([], 3, 3), can_pour=np.zeros(3, dtype=np.bool_)).jugs == ()


def test_what_is_uniform_takes_turns():
    ground = ground_of(
        some_answers(np.random.default_rng(2), 3, 12, 3), 3, 12,
        items=tuple((k,) for k in range(9)),
        days_since=np.where(np.arange(12) >= 10, 300.0, 10.0) * np.ones((3, 1)),
    )  # fmt: skip
    seen = set()
    for turn in range(24):
        chosen = session_of(ground, turn=turn, tells=1.0, glasses=12)
        seen |= {jug.why for jug in chosen.jugs}
        seen |= {Why.HIDDEN_PAIR for jug in chosen.jugs if jug.is_hidden_pair}
    assert {Why.LONG_AGO, Why.HIDDEN_PAIR, Why.BLANK} <= seen


def test_where_blanks_are_missing_the_second_uniform_glass_is_one():
    ground = ground_of(some_answers(np.random.default_rng(2), 3, 12, 3), 3, 12)
    for turn in range(6):
        chosen = session_of(ground, turn=turn, glasses=12, blanks_missing=True)
        assert chosen.jugs[-1].glasses == 2


def test_people_decided_is_the_chance_that_a_glass_settles_something():
    """Five of five: a sixth right name meets the rule of .85, a miss doesn't."""
    ground = ground_of([(0, 0, RIGHT)] * 3, 1, 1)
    chosen = session_of(ground, tells=1.0, glasses=2)
    ahead = ground.ahead
    settles = [ahead.seen[0, 0, way] for way in range(1, 4) if ahead.met[0, 0, way] >= 0.85]
    asked = asked_for(1, glasses=2)
    assert people_decided(ground, chosen, asked) == pytest.approx(sum(settles))
    assert sum(settles) > 0.3
