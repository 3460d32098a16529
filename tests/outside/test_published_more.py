"""More printed numbers for intervals, guessing and false calls."""

import pytest
from scipy.stats import binom

from seatworthy.stats.false_calls import chance_false_calls_within, false_call_rate
from seatworthy.stats.guessing import binomial_tail, p_against_guessing, smallest_right
from seatworthy.stats.proportions import exact_interval, wilson_interval

# R's binom.confint(x, n, tol = 1e-8), methods "wilson" and "exact".
BINOM_CONFINT = {
    (18, 20): (
        (0.6989663547715128, 0.972133518786232),
        (0.6830172859809176, 0.9876514728297052),
    ),
    (4, 20): (
        (0.0806576625797981, 0.4160174322518935),
        (0.05733399705003284, 0.436614002996668),
    ),
    (4, 200): (
        (0.00780442641634947, 0.05028708690582643),
        (0.005475565879556443, 0.05041360908989634),
    ),
}
# ISO 4120:2004, Table A.1, alpha .10, .05, .01, .001.
TRIANGLE = {
    30: (14, 15, 17, 19),
    36: (17, 18, 20, 22),
    42: (19, 20, 22, 25),
    48: (21, 22, 25, 27),
    60: (26, 27, 30, 33),
    72: (30, 32, 34, 38),
    90: (37, 38, 42, 45),
}


@pytest.mark.parametrize("counts", BINOM_CONFINT)
def test_wilson_and_exact_intervals_match_the_output_of_r(counts):
    """R's binom, values to sixteen digits; read in statsmodels' tests (results_proportion.py)."""
    wilson, exact = BINOM_CONFINT[counts]
    assert wilson_interval(*counts) == pytest.approx(wilson, rel=1e-13)
    assert exact_interval(*counts) == pytest.approx(exact, rel=1e-12)


def test_exact_interval_of_51_sixes_matches_rs_binom_test():
    """R: binom.test(51, 235, 1/6), 95 % interval; read in statsmodels' tests."""
    expected = (0.1660633298083073, 0.2752683640289254)
    assert exact_interval(51, 235) == pytest.approx(expected, rel=1e-13)


def test_chance_of_51_sixes_in_235_throws_matches_rs_binom_test():
    """R: binom.test(51, 235, 1/6, alternative = "greater"); read in statsmodels' tests."""
    assert binomial_tail(51, 235, 1 / 6) == pytest.approx(0.02654424571169085, rel=1e-13)


@pytest.mark.parametrize(
    ("hits", "trials", "low", "high"), [(0, 20, 0.0000, 0.1611), (1, 29, 0.0061, 0.1718)]
)
def test_wilson_interval_matches_two_more_rows_of_newcombe_1998(hits, trials, low, high):
    """Newcombe (1998), Stat. Med. 17:857-872, Table I, method 3; from memory, recomputed."""
    assert wilson_interval(hits, trials) == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize(
    ("hits", "trials", "low", "high"),
    [
        (81, 263, 0.2527, 0.3676), (15, 148, 0.0578, 0.1617),
        (0, 20, 0.0000, 0.1684), (1, 29, 0.0009, 0.1776),
    ],
)  # fmt: skip
def test_exact_interval_matches_newcombe_1998(hits, trials, low, high):
    """Newcombe (1998), Table I, method 5 (Clopper & Pearson); from memory, recomputed."""
    assert exact_interval(hits, trials) == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize("trials", TRIANGLE)
def test_smallest_number_right_in_larger_triangles_matches_iso_4120(trials):
    """ISO 4120:2004, Table A.1; from memory, recomputed by SciPy's binomial distribution."""
    alphas = (0.10, 0.05, 0.01, 0.001)
    assert tuple(smallest_right(trials, 1 / 3, alpha) for alpha in alphas) == TRIANGLE[trials]
    for right, alpha in zip(TRIANGLE[trials], alphas, strict=True):
        assert binom.sf(right - 1, trials, 1 / 3) <= alpha < binom.sf(right - 2, trials, 1 / 3)


@pytest.mark.parametrize(("right", "p"), [(7, 0.172), (8, 0.055), (9, 0.011), (10, 0.001)])
def test_chances_of_ten_pairs_match_the_tables_of_the_sign_test(right, p):
    """One-sided binomial tails for n = 10, p = 1/2, three decimals; arithmetic: k / 1024."""
    assert p_against_guessing(right, 10, "2afc") == pytest.approx(p, abs=5e-4)


@pytest.mark.parametrize(("calls", "limit"), [(0, 0.292), (1, 0.501), (2, 0.648)])
def test_chance_of_few_false_calls_matches_the_limits_of_brown_cai_dasgupta(calls, limit):
    """Stat. Sci. 16:101-133 (2001), Table 5, n = 7: .975 lie below the limit; from memory.

    The limit is printed to three decimals, so .975 must lie between the chances half a digit off.
    """
    below, above = (chance_false_calls_within(calls, 7, limit + half) for half in (-0.0005, 0.0005))
    assert below < 0.975 < above


@pytest.mark.parametrize(("calls", "low", "high"), [(1, 0.016, 0.501), (2, 0.065, 0.648)])
def test_false_call_rate_has_the_limits_of_brown_cai_dasgupta(calls, low, high):
    """As above, both limits; 95 %."""
    found = false_call_rate(calls, 7, 0.95).interval
    assert (found.low, found.high) == pytest.approx((low, high), abs=5e-4)
