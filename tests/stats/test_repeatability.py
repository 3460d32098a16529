"""Edges of the spreads and their coverage; published values stand in tests/outside."""

import numpy as np
import pytest

from seatworthy.stats.repeatability import moderated_sd, panel_sd, precision, within_variance


def simulated_panels(panels, people, pairs, seed=11):
    """True spreads that differ by .35 (log), and the variances that the pairs show."""
    draw = np.random.default_rng(seed)
    spread = np.exp(draw.normal(0, 0.35, (panels, people)))
    differences = draw.normal(0, np.sqrt(2), (panels, people, pairs)) * spread[..., None]
    return spread, (differences**2).mean(axis=2) / 2


def test_variance_of_pairs_is_that_within_groups_of_two():
    ratings = np.array([[3, 4], [6, 6], [2, 5.0]])
    expected = np.mean(np.var(ratings, axis=1, ddof=1))
    assert within_variance(ratings[:, 0] - ratings[:, 1]) == pytest.approx(expected)


def test_the_order_within_a_pair_does_not_matter():
    assert within_variance([1, -2, 3]) == within_variance([-1, 2, -3])


@pytest.mark.parametrize("differences", [[], [np.nan]])
def test_no_pairs_are_no_variance(differences):
    assert np.isnan(within_variance(differences))


def test_a_pair_with_one_rating_is_no_pair():
    assert within_variance([2, np.nan, 4]) == within_variance([2, 4])


def test_an_infinite_difference_is_refused():
    with pytest.raises(ValueError, match="must be finite, or nan"):
        within_variance([1, np.inf])


def test_moderated_variance_lies_between_the_own_and_the_panels():
    """(4 x 4 + 6 x 1) / 10 by hand."""
    assert moderated_sd(1.0, 6, 2.0).sd == pytest.approx(np.sqrt(2.2))


def test_many_pairs_speak_for_themselves():
    assert moderated_sd(1.0, 10_000, 3.0).sd == pytest.approx(1, abs=0.002)


def test_without_pairs_the_panels_value_is_all_there_is():
    found = moderated_sd([np.nan, 1.0], [0, 3], 1.5)
    assert found.sd[0] == 1.5
    assert found.interval.low[0] < 1.5 < found.interval.high[0]


def test_an_unknown_panel_leaves_everybody_unknown():
    found = moderated_sd([np.nan, 1.0], [0, 3], np.nan)
    assert np.isnan([*found.sd, *found.interval.low, *found.interval.high]).all()


def test_more_pairs_narrow_the_interval():
    few, many = moderated_sd(1.0, 3, 1.0).interval, moderated_sd(1.0, 30, 1.0).interval
    assert few.low < many.low < 1 < many.high < few.high


def test_more_confidence_widens_the_interval():
    narrow, wide = moderated_sd(1.0, 3, 1.0, 0.5), moderated_sd(1.0, 3, 1.0, 0.95)
    assert wide.interval.low < narrow.interval.low < narrow.interval.high < wide.interval.high


@pytest.mark.parametrize(
    ("pairs", "error", "coverage"), [(3, 0.32, 0.87), (6, 0.25, 0.88), (12, 0.19, 0.89)]
)
def test_error_and_coverage_are_those_of_the_design(pairs, error, coverage):
    """Simulated when the method was chosen: panels of eight, RMSE of the log and 90 % interval."""
    spread, variances = simulated_panels(400, 8, pairs)
    panels = [panel_sd(row, np.full(8, pairs)) for row in variances]
    found = [moderated_sd(row, pairs, panel) for row, panel in zip(variances, panels, strict=True)]
    low, high = (np.array([getattr(one.interval, end) for one in found]) for end in ("low", "high"))
    miss = np.log([one.sd for one in found]) - np.log(spread)
    assert np.sqrt(np.mean(miss**2)) == pytest.approx(error, abs=0.012)
    assert np.mean((low <= spread) & (spread <= high)) == pytest.approx(coverage, abs=0.02)


def test_moderated_spreads_lie_nearer_to_the_truth_than_the_own():
    spread, variances = simulated_panels(300, 8, 3)
    panels = np.array([panel_sd(row, np.full(8, 3)) for row in variances])
    drawn = np.sqrt((4 * panels[:, None] ** 2 + 3 * variances) / 7)
    own_miss, miss = (np.std(np.log(one / spread)) for one in (np.sqrt(variances), drawn))
    assert miss < 0.7 * own_miss


def test_panels_spread_balances_everybodys_share():
    """Its definition: (d0 + m) s0^2 / (d0 s0^2 + m v) is 1 on average over people."""
    variances, pairs = np.array([0.5, 1.0, 2.5]), np.array([3, 8, 5])
    square = panel_sd(variances, pairs) ** 2
    shares = (4 + pairs) * square / (4 * square + pairs * variances)
    assert shares.mean() == pytest.approx(1, abs=1e-12)


def test_equal_spreads_are_the_panels():
    assert panel_sd([2.25, 2.25, 2.25], [2, 5, 9]) == pytest.approx(1.5)


def test_people_without_pairs_do_not_count_for_the_panel():
    assert panel_sd([1.0, np.nan, 2.0], [4, 0, 4]) == panel_sd([1.0, 2.0], [4, 4])


@pytest.mark.parametrize("pairs", [[0, 0], []])
def test_a_panel_without_pairs_has_no_spread(pairs):
    assert np.isnan(panel_sd(np.full(len(pairs), np.nan), pairs))


def test_a_panel_that_mostly_repeats_exactly_has_the_mean_of_all_pairs():
    assert panel_sd([0, 0, 0, 0.5], [6, 6, 6, 6]) == pytest.approx(np.sqrt(0.5 / 4))


def test_a_few_exact_pairs_leave_the_most_likely_value_above_nothing():
    """Two people with one exact pair each weigh 2 x 5 / 4 against three: below the limit."""
    assert 0 < panel_sd([0, 0, 0.5], [1, 1, 6]) < np.sqrt(0.5 * 6 / 8)


def test_a_panel_that_always_repeats_exactly_has_no_spread():
    assert panel_sd([0, 0], [3, 5]) == 0


def test_the_unit_carries_through():
    variances, pairs = np.array([0.5, 1.0, 2.5]), np.array([3, 8, 5])
    assert panel_sd(100 * variances, pairs) == pytest.approx(10 * panel_sd(variances, pairs))


@pytest.mark.parametrize(("variances", "pairs"), [([-1], [2]), ([1], [-2]), ([np.nan], [2])])
def test_impossible_variances_are_refused(variances, pairs):
    with pytest.raises(ValueError, match="known and not negative"):
        panel_sd(variances, pairs)
    with pytest.raises(ValueError, match="known and not negative"):
        moderated_sd(variances, pairs, 1.0)


def test_impossible_settings_are_refused():
    with pytest.raises(ValueError, match="Confidence is a fraction"):
        moderated_sd(1.0, 2, 1.0, 90)
    with pytest.raises(ValueError, match="panel's standard deviation must not be negative"):
        moderated_sd(1.0, 2, -1.0)
    with pytest.raises(ValueError, match="freedom must be above 0"):
        moderated_sd(1.0, 2, 1.0, prior_freedom=0)
    with pytest.raises(ValueError, match="freedom must be above 0"):
        panel_sd([1.0], [2], prior_freedom=-1)


def test_precision_by_hand():
    """Means 2 and 6 of three ratings each: s_r^2 = 1, s_L^2 = (24 - 1) / 3."""
    found = precision([1, 2, 3, 5, 6, 7], [0, 0, 0, 1, 1, 1])
    assert found == pytest.approx((4, 1, np.sqrt(23 / 3), np.sqrt(26 / 3)))


def test_people_who_do_not_differ_add_nothing():
    found = precision([1, 3, 0, 4], [0, 0, 1, 1])
    assert found.between_sd == 0
    assert found.reproducibility_sd == found.repeatability_sd == pytest.approx(np.sqrt(5))


def test_one_person_has_repeatability_alone():
    found = precision([1, 2, 3], [0, 0, 0])
    assert found.repeatability_sd == pytest.approx(1)
    assert np.isnan([found.between_sd, found.reproducibility_sd]).all()


def test_without_repeats_no_spread_is_known():
    found = precision([1, 2, 4], [0, 1, 2])
    assert found.mean == pytest.approx(7 / 3)
    assert np.isnan(found[1:]).all()


@pytest.mark.parametrize("ratings", [[], [np.nan]])
def test_no_ratings_are_no_precision(ratings):
    assert np.isnan(precision(ratings, np.zeros(len(ratings)))).all()
