"""Who takes which compound for which other."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import beta, dirichlet

from seatworthy.stats.ability.confusion import (
    LEAST_OWN,
    SURE_ENOUGH,
    WORTH_SAYING,
    Calls,
    chance_perceived,
    find_mix_ups,
)
from seatworthy.stats.ability.glasses import NOTHING, UNNAMED
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.settings import DEFAULT

SURE = 1.0  # every glass perceived, so that a weight is a plain count
OWN = DEFAULT.naming_prior[0] / sum(DEFAULT.naming_prior)


def call(rows, perceived=SURE):
    """Rows of person, served, said, how often."""
    each = np.array([row[:3] for row in rows for _ in range(row[3])], dtype=int).reshape(-1, 3)
    return Calls(*each.T, perceived=np.full(len(each), perceived))


def find(rows, people=1, compounds=4, perceived=SURE, **more):
    calls = call(rows, perceived)
    return find_mix_ups(calls, np.full(people, 0.1), (people, compounds), **more)


def test_what_is_surely_perceived_is_counted_plainly():
    seen = find([(0, 1, 1, 5), (0, 1, 3, 2)])
    assert seen.weight[0, 1].tolist() == [0, 5, 0, 2]
    assert seen.names[0, 1].tolist() == [0, 5, 0, 2]


def test_a_row_is_the_mean_of_its_dirichlet():
    seen = find([(0, 1, 1, 5), (0, 1, 3, 2)])
    other = (1 - OWN) / 3
    expected = dirichlet(
        [3 * other, 5 + 3 * OWN, 3 * other, 2 + 3 * other]
    ).mean()  # what is expected weighs three glasses
    assert seen.mean[0, 1] == pytest.approx(expected, abs=1e-12)


def test_a_chance_is_the_margin_of_the_dirichlet():
    seen = find([(0, 1, 1, 5), (0, 1, 3, 2)])
    mine = 2 + 3 * (1 - OWN) / 3
    assert seen.chance[0, 1, 3] == pytest.approx(beta(mine, 10 - mine).sf(WORTH_SAYING), abs=1e-12)


def test_a_chance_agrees_with_plain_sampling():
    seen = find([(0, 1, 1, 5), (0, 1, 3, 2)], perceived=0.8)
    rows = seen.weight[0, 1] + 3 * np.where(np.arange(4) == 1, OWN, (1 - OWN) / 3)
    drawn = dirichlet(rows).rvs(40_000, random_state=2)
    shares = (drawn > WORTH_SAYING).mean(axis=0)
    assert seen.chance[0, 1] == pytest.approx(shares, abs=0.01)


def test_guesses_are_taken_out_in_two_sweeps():
    """One wrong name, perceived with .5, false calls .1: both sweeps redone by hand."""
    seen = find([(0, 0, 1, 1)], compounds=2, perceived=0.5)
    first = 0.5 * (1 - OWN) / (0.5 * (1 - OWN) + 0.5 * 0.1 / 2)
    share = (first + 3 * (1 - OWN)) / (first + 3)
    second = 0.5 * share / (0.5 * share + 0.5 * 0.1 / 2)
    assert seen.weight[0, 0, 1] == pytest.approx(second, abs=1e-12)


def test_a_name_from_a_glass_that_cannot_be_perceived_weighs_nothing():
    assert find([(0, 0, 1, 6)], perceived=0.0).weight.sum() == 0


def test_a_popular_guess_weighs_less():
    popular = np.array([0.1, 0.7, 0.1, 0.1])
    rows = [(0, 0, 1, 3), (0, 0, 2, 3)]
    seen = find(rows, perceived=0.5, guesses=popular)
    assert seen.weight[0, 0, 1] < seen.weight[0, 0, 2]


@pytest.mark.parametrize(("silent", "number"), [(UNNAMED, 6), (NOTHING, 0)])
def test_answers_without_a_name_move_no_row(silent, number):
    rows = [(0, 1, 1, 5), (0, 1, 3, 2)]
    plain, more = find(rows), find([*rows, (0, 1, silent, 6)])
    assert np.array_equal(plain.mean, more.mean, equal_nan=True)
    assert more.unnamed[0].tolist() == [0, number, 0, 0]


def test_rows_without_a_name_are_unknown():
    seen = find([(0, 1, 1, 5)])
    assert np.isnan(seen.mean[0, 0]).all()
    assert np.isnan(seen.chance_pooled[0, 0]).all()
    assert not np.isnan(seen.mean[0, 1]).any()


def test_four_wrong_names_of_eight_are_a_mix_up():
    seen = find([(0, 1, 1, 4), (0, 1, 3, 4)])
    assert np.argwhere(seen.is_mixed_up).tolist() == [[0, 1, 3]]


def test_the_right_name_is_never_a_mix_up():
    assert not find([(0, 1, 1, 12)]).is_mixed_up.any()


@pytest.mark.parametrize(("own", "flagged"), [(LEAST_OWN - 1, False), (LEAST_OWN, True)])
def test_one_own_wrong_name_flags_nobody(own, flagged):
    """A single glass, misnamed, is sure enough by its chance alone when compounds are few."""
    settings = replace(DEFAULT, naming_prior=(1.0, 3.0))
    seen = find([(0, 0, 1, own)], compounds=2, settings=settings)
    assert seen.chance[0, 0, 1] > SURE_ENOUGH
    assert seen.is_mixed_up[0, 0, 1] == flagged


@pytest.mark.parametrize(("right", "flagged"), [(4, True), (5, False)])
def test_a_flag_needs_a_chance_above_the_limit(right, flagged):
    seen = find([(0, 0, 0, right), (0, 0, 1, 2)], compounds=10)
    assert (seen.chance[0, 0, 1] > SURE_ENOUGH) == flagged
    assert seen.is_mixed_up[0, 0, 1] == flagged


def all_mixed_up(people):
    return [(person, 0, 1, 20) for person in people]


def test_colleagues_alone_flag_nobody():
    seen = find([(0, 0, 0, 3), *all_mixed_up(range(1, 9))], people=9)
    assert not seen.is_mixed_up[0].any()
    assert seen.is_mixed_up[1:, 0, 1].all()


@pytest.mark.parametrize("own", [[], [(0, 0, 0, 7)], [(0, 0, 0, 9), (0, 0, 1, 2)]])
def test_colleagues_answers_turned_round_move_no_flag(own):
    right = [(person, 0, 0, 20) for person in range(1, 9)]
    one, other = find(own + right, people=9), find(own + all_mixed_up(range(1, 9)), people=9)
    assert np.array_equal(one.is_mixed_up[0], other.is_mixed_up[0])
    assert np.array_equal(one.chance[0], other.chance[0], equal_nan=True)


def test_colleagues_move_the_pooled_row():
    own = [(0, 0, 0, 3)]
    alone, beside = find(own, people=9), find(own + all_mixed_up(range(1, 9)), people=9)
    assert alone.mean_pooled == pytest.approx(alone.mean, abs=1e-12, nan_ok=True)
    assert beside.mean_pooled[0, 0, 1] > alone.mean_pooled[0, 0, 1] + 0.3


def test_a_pooled_row_leaves_out_the_own_answers():
    """Two people: each one's row leans on the other's glasses alone."""
    seen = find([(0, 0, 0, 5), (1, 0, 1, 6)], people=2, compounds=2)
    of_other = np.array([OWN, 1 - OWN + 6]) / 7
    assert seen.mean_pooled[0, 0] == pytest.approx((np.array([5, 0]) + 3 * of_other) / 8, abs=1e-12)


def invent(draw, people=9, compounds=10, glasses=12, share=0.4):
    """Answers of a panel with three known mix-ups; the truth as rows of names, (P, K, K)."""
    accuracy = draw.beta(18, 2, (people, compounds, 1))
    truth = np.repeat((1 - accuracy) / (compounds - 1), compounds, axis=2)
    own = np.arange(compounds)
    truth[:, own, own] = accuracy[:, :, 0]
    for person, served in zip(draw.integers(people, size=3), draw.permutation(compounds)[:3],
                              strict=True):  # fmt: skip
        truth[person, served] *= 1 - share
        truth[person, served, (served + 1 + draw.integers(compounds - 1)) % compounds] += share
    person, served = np.meshgrid(np.arange(people), np.repeat(own, glasses), indexing="ij")
    person, served = person.ravel(), served.ravel()
    perceived = draw.beta(8, 2, (people, compounds))[person, served]
    calls = draw.choice([0.03, 0.06, 0.10, 0.20], people)
    named = (truth[person, served].cumsum(axis=1) > draw.random((person.size, 1))).argmax(axis=1)
    guess = np.where(draw.random(person.size) < calls[person],
                     draw.integers(compounds, size=person.size), NOTHING)  # fmt: skip
    said = np.where(draw.random(person.size) < perceived, named, guess)
    return find_mix_ups(Calls(person, served, said, perceived), calls, truth.shape[:2]), truth


def test_known_mix_ups_are_found_and_hardly_any_invented():
    """Forty panels; expected 81 % found and .5 others a panel of 810 pairs, see `find_mix_ups`."""
    draw, found, invented = np.random.default_rng(6), [], []
    for _ in range(40):
        seen, truth = invent(draw)
        is_pair = ~np.eye(10, dtype=bool)
        found += seen.is_mixed_up[(truth > 0.35) & is_pair].tolist()
        invented.append(seen.is_mixed_up[(truth < 0.1) & is_pair].sum())
    assert len(found) >= 115
    assert np.mean(found) > 0.70
    assert np.mean(invented) < 1.0


def test_rows_come_near_the_truth():
    seen, truth = invent(np.random.default_rng(7), glasses=60)
    assert np.abs(seen.mean - truth).mean() < 0.02


def test_chance_perceived_is_the_mean_over_the_threshold(pour_glasses):
    grid = build_grid(DEFAULT)
    glasses = pour_glasses([(1, 0, 0, 0, "naming", level, 0.0, 0) for level in (1000.0, 0.001)])
    mass = np.tile(grid.own_prior * (np.abs(grid.theta) < 4), (2, 1))
    mass /= mass.sum(axis=1, keepdims=True)
    chances = chance_perceived(glasses, mass)
    assert chances == pytest.approx([1 - DEFAULT.lapse, 0.0], abs=0.01)


@pytest.mark.parametrize(("method", "level"), [("3afc", 3.0), ("naming", np.nan)])
def test_only_naming_glasses_of_known_level_are_perceived(method, level, pour_glasses):
    glasses = pour_glasses([(1, 0, 0, 0, method, level, 0.0, 0)])
    with pytest.raises(ValueError, match="Only naming glasses of known level"):
        chance_perceived(glasses, build_grid(DEFAULT).own_prior[None])


@pytest.mark.parametrize("shape", [(0, 0), (2, 3), (1, 1)])
def test_no_answers_flag_nobody(shape):
    seen = find_mix_ups(call([]), np.full(shape[0], 0.1), shape)
    assert seen.mean.shape == (*shape, shape[1])
    assert np.isnan(seen.mean).all()
    assert not seen.is_mixed_up.any()


def test_a_single_compound_is_never_mixed_up():
    seen = find([(0, 0, 0, 3)], compounds=1)
    assert seen.mean[0, 0, 0] == 1
    assert not seen.is_mixed_up.any()


@pytest.mark.parametrize(
    ("row", "name"), [((1, 0, 0), "person"), ((0, 4, 0), "served"), ((0, 0, 4), "said")]
)
def test_places_outside_the_axes_are_refused(row, name):
    with pytest.raises(ValueError, match=f"in {name} lies outside"):
        find([(*row, 1)])


def test_something_below_unnamed_is_refused():
    with pytest.raises(ValueError, match="got -3"):
        call([(0, 0, -3, 1)])


@pytest.mark.parametrize("perceived", [-0.1, 1.1, np.nan])
def test_a_chance_to_perceive_is_a_fraction(perceived):
    with pytest.raises(ValueError, match="between 0 and 1"):
        call([(0, 0, 0, 1)], perceived)


@pytest.mark.parametrize("calls", [np.array([0.0]), np.array([np.nan]), np.array([0.1, 0.1])])
def test_everybody_needs_a_false_call_rate(calls):
    with pytest.raises(ValueError, match="Each of 1 people needs a false-call rate"):
        find_mix_ups(call([]), calls, (1, 4))


@pytest.mark.parametrize("guesses", [np.array([0.0, 1.0]), np.array([1.0])])
def test_every_name_needs_a_share_of_the_guesses(guesses):
    with pytest.raises(ValueError, match="Each of 2 names needs a share"):
        find([], compounds=2, guesses=guesses)


def test_arrays_of_different_length_are_refused():
    with pytest.raises(ValueError, match="equally long"):
        replace(call([(0, 0, 0, 2)]), said=np.array([1]))
