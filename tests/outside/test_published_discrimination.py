"""One-way analyses and intraclass correlations against certified and printed values."""

import numpy as np
import pytest

from seatworthy.stats.discrimination import analyse_one_way, intraclass_correlations

SIRSTV = """
196.3052 196.1240 196.1890 196.2569 196.3403
196.3042 196.3825 196.1669 196.3257 196.0422
196.1303 196.2005 196.2889 196.0343 196.1811
196.2795 196.1748 196.1494 196.1485 195.9885
196.2119 196.1051 196.1850 196.0052 196.2090
"""
ATMWTAG = """
1568 1465 1572 1785 1446 1903 1526 1494 1616 1587 1519 1486
1419 1569 1508 1672 1385 1518 1662 1424 1360 1333 1610 1477
1079 1344 1513 1197 1604 1385 1642 1365 1151 1082 1517 1448
1198 1482 1334 1609 1101 1512 1469 1360 1254 1261 1450 1368
"""
SHROUT_FLEISS = [
    [9, 2, 5, 8],
    [6, 1, 3, 2],
    [8, 4, 6, 8],
    [7, 1, 2, 6],
    [10, 5, 6, 9],
    [6, 2, 4, 7],
]


def test_silicon_resistivity_matches_the_certified_analysis():
    """NIST StRD, one-way ANOVA, SiRstv; data and certified values read (they ship with SciPy).

    The data as binary numbers carry about 13 digits of their spread, so 12 are asked for.
    """
    found = analyse_one_way(np.array(SIRSTV.split(), float), np.repeat(np.arange(5), 5))
    assert (found.between_freedom, found.within_freedom) == (4, 20)
    assert found.between == pytest.approx(1.27865654e-2, rel=1e-12)
    assert found.within == pytest.approx(1.08318280e-2, rel=1e-12)
    assert found.ratio == pytest.approx(1.18046237440255, rel=1e-12)


def test_silver_with_seven_leading_digits_matches_the_certified_analysis():
    """NIST StRD, one-way ANOVA, AtmWtAg ("average difficulty"); read as above.

    Stored as binary numbers, 107.8681568 keeps about nine digits of what differs.
    """
    weights = [float(f"107.868{digits}") for digits in ATMWTAG.split()]
    found = analyse_one_way(weights, np.repeat([1, 2], 24))
    assert found.between == pytest.approx(3.63834187500000e-09, rel=1e-8)
    assert found.within == pytest.approx(2.28155932971014e-10, rel=1e-8)
    assert found.ratio == pytest.approx(1.59467335677930e01, rel=1e-8)


def test_mussels_of_five_places_match_the_printed_output():
    """McDonald et al. (1991), shell lengths, unequal numbers; F and p read in SciPy's f_oneway."""
    places = (
        [0.0571, 0.0813, 0.0831, 0.0976, 0.0817, 0.0859, 0.0735, 0.0659, 0.0923, 0.0836],
        [0.0873, 0.0662, 0.0672, 0.0819, 0.0749, 0.0649, 0.0835, 0.0725],
        [0.0974, 0.1352, 0.0817, 0.1016, 0.0968, 0.1064, 0.105],
        [0.1033, 0.0915, 0.0781, 0.0685, 0.0677, 0.0697, 0.0764, 0.0689],
        [0.0703, 0.1026, 0.0956, 0.0973, 0.1039, 0.1045],
    )
    found = analyse_one_way(np.concatenate(places), np.repeat(range(5), [*map(len, places)]))
    assert found.ratio == pytest.approx(7.121019471642447, rel=1e-12)
    assert found.p == pytest.approx(0.0002812242314534544, rel=1e-11)


def test_all_six_forms_match_shrout_and_fleiss_1979():
    """Psychol. Bull. 86:420-428, Tables 2 and 4; data read in copies, coefficients from memory."""
    expected = (0.17, 0.29, 0.71, 0.44, 0.62, 0.91)
    assert intraclass_correlations(SHROUT_FLEISS) == pytest.approx(expected, abs=5e-3)


def test_two_way_forms_match_a_third_digit():
    """The same data in the help of an R package for reliability (read): .290, .620, .715, .909.

    The consistency form of one judge is .71484, so its .715 and the .71 above are both rounded.
    """
    found = intraclass_correlations(SHROUT_FLEISS)
    two_way = (found.random_single, found.random_mean, found.fixed_single, found.fixed_mean)
    assert two_way == pytest.approx((0.290, 0.620, 0.715, 0.909), abs=5e-4)


def test_agreement_of_three_raters_matches_r():
    """R's irr, icc(anxiety, "twoway", "agreement"): ICC(A,1) = .198, printed in an open textbook.

    Twenty people rated by three; value read there, data read in statsmodels' tests.
    """
    raters = [
        [3, 3, 3, 4, 5, 5, 2, 3, 5, 2, 2, 6, 1, 5, 2, 2, 1, 2, 4, 3],
        [3, 6, 4, 6, 2, 4, 2, 4, 3, 3, 2, 3, 3, 3, 2, 2, 1, 3, 3, 4],
        [2, 1, 4, 4, 3, 2, 1, 6, 1, 1, 1, 2, 3, 3, 1, 1, 3, 3, 2, 2],
    ]
    found = intraclass_correlations(np.transpose(raters))
    assert found.random_single == pytest.approx(0.198, abs=5e-4)
