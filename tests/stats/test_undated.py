"""The undated thresholds: arithmetic that can be redone, properties, and the dated model beside."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from scipy.special import ndtr, ndtri

from seatworthy.stats import undated
from seatworthy.stats.ability.edges import Edge
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.undated import UNDATED, estimate_undated, undated_posteriors
from seatworthy.stats.undated_curves import Curves, GlassKinds, thurstone_curves

EXACT_DOSE = replace(UNDATED, dose_sd=0.0)
LEVELS = np.array([0.25, 0.5, 1.0, 2.0, 4.0, 8.0])
THETA = build_grid(UNDATED).theta


def kinds_of(method, level, background=0.0):
    method, level, background = np.broadcast_arrays(method, np.asarray(level, float), background)
    return GlassKinds(method, level, background.astype(float))


CURVES = thurstone_curves(kinds_of("3afc", LEVELS), UNDATED, undated.SLOPES)


def drawn_counts(people=6, compounds=5, most=4, seed=3):
    """Counts of people with thresholds from 1/8 to 8, each compound's cells side by side."""
    draw = np.random.default_rng(seed)
    compound = np.repeat(np.arange(compounds), people)
    place = draw.integers(24, 73, compound.size)
    total = draw.integers(1, most + 1, (compound.size, LEVELS.size))
    return draw.binomial(total, CURVES.chance[3][:, place].T), total, compound


def pooled_means(right, total, compound, settings=UNDATED):
    return estimate_undated(right, total, compound, CURVES, settings).pooled.mean


@pytest.fixture(name="by_both_models")
def _by_both_models(pour_glasses, pour_blanks):
    """Five people's forced choices, one sitting so many days after the other, by either model."""
    draw = np.random.default_rng(8)
    methods = np.repeat(["3afc", "triangle", "2afc", "duo_trio"], 3)
    kinds = kinds_of(methods, np.tile([1.0, 2.0, 6.0], 4), np.tile([0, 0.5, 0], 4))
    total = draw.integers(1, 4, (5, methods.size))
    right = draw.binomial(total, 0.7)

    def estimates(days_between):
        rows = [
            (x * days_between, person, 0, 0, methods[x], kinds.level[x], kinds.background[x], kind)
            for person, x in product(range(5), range(methods.size))
            for kind, number in (
                (Outcome.RIGHT, right[person, x]),
                (Outcome.WRONG, total[person, x] - right[person, x]),
            )
            for _ in range(number)
        ]
        settings = replace(UNDATED, slope_log_sd=0.0, pooling_doubt=0.0)
        today = days_between * methods.size
        dated = follow(pour_glasses(rows), pour_blanks([]), (5, 1, 1), today, settings).today
        curves = thurstone_curves(kinds, settings, 1)
        return dated, estimate_undated(right, total, np.zeros(5, dtype=int), curves, settings)

    return estimates


def test_own_thresholds_of_one_day_are_those_of_the_dated_model(by_both_models):
    dated, here = by_both_models(days_between=0)
    ends = dated.threshold_low_own, dated.threshold_mean_own, dated.threshold_high_own
    found = np.stack([here.own.low, here.own.mean, here.own.high])
    assert found == pytest.approx(np.stack(ends)[:, :, 0, 0], abs=1e-9)


def test_pooled_thresholds_of_one_day_are_those_of_the_dated_model_but_for_its_coarser_panels(
    by_both_models,
):
    dated, here = by_both_models(days_between=0)
    expected = dated.threshold_mean_pooled[:, 0, 0]
    assert here.pooled.mean == pytest.approx(expected, abs=0.01)


def test_old_glasses_count_like_new_ones_and_in_the_dated_model_they_do_not(by_both_models):
    dated, here = by_both_models(days_between=365)
    width = (dated.threshold_high_own - dated.threshold_low_own)[:, 0, 0]
    assert np.all(here.own.high - here.own.low < 0.9 * width)


def test_probabilities_of_all_possible_answers_sum_to_one():
    """Two people with two kinds of glasses each: sixteen sets of answers."""
    curves = Curves(CURVES.chance[:, 1:3], CURVES.slope_weight)
    answers = np.array(list(product([0, 1], repeat=4))).reshape(-1, 2)
    compound = np.repeat(np.arange(16), 2)
    found = estimate_undated(answers, np.ones_like(answers), compound, curves)
    assert np.exp(found.pooled_evidence).sum() == pytest.approx(1, abs=1e-9)
    assert np.exp(found.own_evidence[::2]).sum() == pytest.approx(4, abs=1e-9)


def test_own_evidence_of_one_right_answer_is_its_mean_chance():
    one = np.eye(6)[[2]]
    chance = CURVES.slope_weight @ CURVES.chance[:, 2] @ build_grid(UNDATED).own_prior
    found = estimate_undated(one, one, [0], CURVES)
    assert found.own_evidence[0] == pytest.approx(np.log(chance), abs=1e-12)


def test_colleagues_change_no_own_threshold():
    right, total, compound = drawn_counts()
    alone = estimate_undated(right[:1], total[:1], compound[:1], CURVES)
    among = estimate_undated(right, total, compound, CURVES)
    assert among.own.mean[0] == pytest.approx(alone.own.mean[0], abs=1e-12)


def test_colleagues_pull_a_pooled_threshold_their_way():
    """One right of two at 4 x the working threshold, beside four who are right at 1 x."""
    total = np.zeros((5, 6))
    total[0, 4], total[1:, 2] = 2, 8
    right = total.copy()
    right[0, 4] = 1
    hears = pooled_means(right, total, np.zeros(5))[0]
    alone = pooled_means(right[:1], total[:1], np.zeros(1))[0]
    assert hears < alone - 0.3


def test_somebody_who_only_guesses_is_pulled_less_where_there_are_nontasters():
    total = np.full((9, 6), 4.0)
    right = np.tile([1.0, 2, 2, 4, 4, 4], (9, 1))
    right[0] = [1, 2, 1, 1, 2, 1]
    everybody_tastes = replace(UNDATED, nontaster_share=0.0)
    without = pooled_means(right, total, np.zeros(9), everybody_tastes)[0]
    assert pooled_means(right, total, np.zeros(9))[0] > without + 0.2


def test_another_compound_changes_nothing():
    right, total, compound = drawn_counts()
    first = compound == 0
    alone = pooled_means(right[first], total[first], compound[first])
    assert pooled_means(right, total, compound)[first] == pytest.approx(alone, abs=1e-6)


@pytest.mark.parametrize("people", [8, 9, 50, 51])
def test_the_size_of_the_blocks_changes_nothing(monkeypatch, people):
    counts = drawn_counts(people=people, compounds=3)
    at_once = pooled_means(*counts)
    monkeypatch.setattr(undated, "_CELLS_AT_ONCE", 1)
    assert pooled_means(*counts) == pytest.approx(at_once, abs=1e-6)


def test_cells_come_back_in_the_order_in_which_they_were_given():
    right, total, compound = drawn_counts()
    order = np.random.default_rng(1).permutation(compound.size)
    mixed = estimate_undated(right[order], total[order], compound[order], CURVES)
    sorted_ = estimate_undated(right, total, compound, CURVES)
    assert mixed.own.mean == pytest.approx(sorted_.own.mean[order], abs=1e-12)
    assert mixed.pooled.mean == pytest.approx(sorted_.pooled.mean[order], abs=1e-9)
    assert mixed.pooled_evidence == pytest.approx(sorted_.pooled_evidence, abs=1e-9)


def test_a_kind_of_glass_counted_in_two_parts_comes_to_the_same():
    right, total, compound = drawn_counts()
    twice = Curves(np.repeat(CURVES.chance, 2, axis=1), CURVES.slope_weight)
    parts = [np.stack([part // 2, part - part // 2], axis=2) for part in (right, total - right)]
    right_apart, wrong_apart = (part.reshape(len(part), -1) for part in parts)
    apart = estimate_undated(right_apart, right_apart + wrong_apart, compound, twice)
    assert apart.pooled.mean == pytest.approx(pooled_means(right, total, compound), abs=1e-9)


def test_without_own_glasses_nothing_is_known():
    right, total, compound = drawn_counts(people=4, compounds=1)
    right[0] = total[0] = 0
    found = estimate_undated(right, total, compound, CURVES)
    for thresholds in (found.own, found.pooled):
        assert np.isnan([thresholds.mean[0], thresholds.low[0], thresholds.high[0]]).all()
        assert thresholds.edge[0] == Edge.ANYWHERE


def test_somebody_without_glasses_changes_nothing_for_the_others():
    right, total, compound = drawn_counts(people=4, compounds=1)
    right[0] = total[0] = 0
    others = pooled_means(right[1:], total[1:], compound[1:])
    assert pooled_means(right, total, compound)[1:] == pytest.approx(others, abs=1e-9)


def test_a_compound_without_cells_has_evidence_of_nothing():
    found = estimate_undated(np.ones((2, 6)), np.ones((2, 6)), [0, 2], CURVES)
    assert found.pooled_evidence[1] == 0
    assert np.all(found.pooled_evidence[[0, 2]] < 0)


def test_no_cells_make_no_estimates():
    found = estimate_undated(np.empty((0, 6)), np.empty((0, 6)), [], CURVES)
    assert found.own.mean.shape == found.pooled.edge.shape == found.pooled_evidence.shape == (0,)


@pytest.mark.parametrize(
    ("level", "is_right", "edge"),
    [
        (2.0**-4, 1.0, Edge.BELOW),
        (2.0**-3, 1.0, Edge.WITHIN),
        (2.0**3, 0.3, Edge.ABOVE),
        (2.0**2, 0.4, Edge.WITHIN),
    ],
)
def test_an_interval_that_touches_the_end_of_the_grid_is_marked(level, is_right, edge):
    """Forty glasses at one level."""
    curves = thurstone_curves(kinds_of("3afc", [level]), EXACT_DOSE, 1)
    found = estimate_undated([[40 * is_right]], [[40]], [0], curves)
    assert found.pooled.edge[0] == edge


def test_posteriors_are_those_behind_the_estimates():
    right, total, compound = drawn_counts()
    found = undated_posteriors(right, total, compound, CURVES)
    assert found.pooled.sum(axis=1) == pytest.approx(1, abs=1e-12)
    assert found.own.sum(axis=1) == pytest.approx(1, abs=1e-12)
    assert found.pooled @ THETA == pytest.approx(pooled_means(right, total, compound), abs=1e-9)


@pytest.fixture(name="simulated", scope="module")
def _simulated():
    """1,200 people in panels of six, drawn from the model: true thresholds and estimates."""
    draw = np.random.default_rng(5)
    panels, people = 200, 6
    spread = 0.8 * np.exp(draw.normal(0, 0.5, (panels, 1)))
    theta = draw.normal(draw.normal(0, 1, (panels, 1)), spread, (panels, people)).ravel()
    place = np.clip(np.rint((theta + 6) * 8), 0, 96).astype(int)
    slope = draw.choice(undated.SLOPES, place.size, p=CURVES.slope_weight)
    total = np.full((place.size, 6), 2)
    right = draw.binomial(total, CURVES.chance[slope, :, place])
    compound = np.repeat(np.arange(panels), people)
    settings = replace(UNDATED, nontaster_share=0.0)
    return THETA[place], estimate_undated(right, total, compound, CURVES, settings)


def test_pooled_intervals_hold_what_they_claim(simulated):
    """90 %; with 1,200 people in 200 panels .02 are two standard errors."""
    theta, found = simulated
    inside = (found.pooled.low <= theta) & (theta <= found.pooled.high)
    assert inside.mean() == pytest.approx(0.90, abs=0.02)


def test_pooling_brings_thresholds_nearer_to_the_truth(simulated):
    theta, found = simulated
    own, pooled = (np.sqrt(np.mean((one.mean - theta) ** 2)) for one in (found.own, found.pooled))
    assert pooled < 0.95 * own


@pytest.mark.parametrize("slopes", [1, 7])
def test_at_ones_threshold_a_third_and_half_of_the_rest_are_right(slopes):
    """3-AFC: two thirds, less lapses of two in a hundred, which are guessed."""
    curves = thurstone_curves(kinds_of("3afc", [4.0]), EXACT_DOSE, slopes)
    at_threshold = curves.chance[:, 0, np.searchsorted(THETA, 2.0)]
    assert at_threshold == pytest.approx(0.02 / 3 + 0.98 * 2 / 3, abs=1e-6)


def test_naming_is_perceiving_and_naming_or_a_lucky_false_call():
    """D' 1.1159 x 4 / 2**(1 + .25); criterion .05, lapse .02, accuracy 3.5 / 4.1, calls .1."""
    curves = thurstone_curves(kinds_of("naming", [4.0]), EXACT_DOSE, 1)
    clear = 1.11590 * 4 / 2**1.25
    seen = 0.98 * (ndtr(clear + ndtri(0.05)) - 0.05) / 0.95
    expected = 3.5 / 4.1 * seen + (1 - seen) * 0.1 / 12
    assert curves.chance[0, 0, np.searchsorted(THETA, 1.0)] == pytest.approx(expected, abs=1e-5)


def test_what_was_in_the_beer_already_cannot_be_picked_out():
    curves = thurstone_curves(kinds_of("triangle", [3.0], 3.0), UNDATED, 1)
    assert curves.chance == pytest.approx(1 / 3, abs=1e-9)


def test_a_steeper_slope_helps_above_ones_threshold_and_harms_below():
    curves = thurstone_curves(kinds_of("3afc", [2.0, 0.5]), EXACT_DOSE, 3)
    flat, _, steep = curves.chance[:, :, np.searchsorted(THETA, 0.0)]
    assert steep[0] > flat[0] + 0.02
    assert steep[1] < flat[1] - 0.02


@pytest.mark.parametrize(
    ("right", "total", "compound", "words"),
    [
        (np.ones((2, 5)), np.ones((2, 5)), [0, 0], r"shape \(cells, 6\) are needed"),
        (np.ones((2, 6)), np.ones((1, 6)), [0, 0], r"got \(2, 6\) and \(1, 6\)"),
        (np.full((1, 6), 2), np.ones((1, 6)), [0], "between 0 and the number of answers"),
        (np.full((1, 6), -1), np.ones((1, 6)), [0], "between 0 and the number of answers"),
        (np.full((1, 6), np.nan), np.ones((1, 6)), [0], "between 0 and the number of answers"),
        (np.ones((1, 6)), np.full((1, 6), np.inf), [0], "between 0 and the number of answers"),
        (np.ones((2, 6)), np.ones((2, 6)), [0], "One compound for each of 2 cells"),
        (np.ones((2, 6)), np.ones((2, 6)), [0, -1], "must not be below 0, got -1"),
    ],
)
def test_impossible_counts_are_refused(right, total, compound, words):
    with pytest.raises(ValueError, match=words):
        estimate_undated(right, total, compound, CURVES)


def test_curves_on_other_thresholds_are_refused():
    coarser = replace(UNDATED, theta_step=0.25)
    with pytest.raises(ValueError, match="got 97 thresholds"):
        estimate_undated(np.ones((1, 6)), np.ones((1, 6)), [0], CURVES, coarser)
