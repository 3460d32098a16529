"""Agreement beyond chance, compared with printed tables and with other programs' output."""

import numpy as np
import pytest

from seatworthy.stats.agreement import agreed_share, agreement_table, kappa

# Three people's ratings of the anxiety of twenty, 1 to 6; data of an R package for agreement among
# raters, read in statsmodels' tests (test_inter_rater.py).
ANXIETY = np.array(
    [
        [3, 3, 3, 4, 5, 5, 2, 3, 5, 2, 2, 6, 1, 5, 2, 2, 1, 2, 4, 3],
        [3, 6, 4, 6, 2, 4, 2, 4, 3, 3, 2, 3, 3, 3, 2, 2, 1, 3, 3, 4],
        [2, 1, 4, 4, 3, 2, 1, 6, 1, 1, 1, 2, 3, 3, 1, 1, 3, 3, 2, 2],
    ]
)


@pytest.mark.parametrize(
    ("weights", "value", "error"), [("none", 0.4842, 0.1380), ("linear", 0.4701, 0.1457)]
)
def test_kappa_matches_the_printed_output_of_sas(weights, value, error):
    """SAS FREQ, simple and weighted kappa with ASE; read in statsmodels' tests."""
    found = kappa([(0, 4, 1), (0, 8, 0), (0, 1, 5)], weights)
    assert found == pytest.approx((value, error), abs=5e-5)


@pytest.mark.parametrize(
    ("weights", "value", "error"), [("none", 0.1293, 0.06860), ("linear", 0.2374, 0.07832)]
)
def test_kappa_of_couples_matches_the_printed_output_of_r(weights, value, error):
    """Husbands' and wives' answers of Hout, Duncan & Sobel (1987), in Agresti (1990).

    Kappa and its error were read in the output printed with R's vcdExtra (function Kappa of vcd,
    equal spacing); the counts are from memory, and sum to the 91 couples stated there.
    """
    table = [(7, 7, 2, 3), (2, 8, 3, 7), (1, 5, 4, 9), (2, 8, 9, 14)]
    found = kappa(table, weights)
    assert found.value == pytest.approx(value, abs=5e-5)
    assert found.standard_error == pytest.approx(error, abs=5e-6)


def test_kappa_of_two_pathologists_matches_agresti():
    """Agresti, Categorical Data Analysis, section on agreement: 118 slides; .493, .057.

    Counts (Landis & Koch 1977) and results from memory, the one recomputed from the other.
    """
    table = [(22, 2, 2, 0), (5, 7, 14, 0), (0, 2, 36, 0), (0, 1, 17, 10)]
    assert np.sum(table) == 118
    assert kappa(table) == pytest.approx((0.493, 0.057), abs=5e-4)


@pytest.mark.parametrize(("weights", "value"), [("none", -0.006289308), ("linear", 0.1459075)])
def test_kappa_from_pairs_of_codes_matches_r(weights, value):
    """R's irr, kappa2 of the second and third person; values read in statsmodels' tests.

    That function drops the category that neither of the two used, so codes are renumbered here.
    """
    first, second = (np.searchsorted([1, 2, 3, 4, 6], row) for row in ANXIETY[1:])
    half_last_digit = 0.5 * 10.0 ** -(len(str(value).split(".")[1]))
    found = kappa(agreement_table(first, second, 5), weights).value
    assert found == pytest.approx(value, abs=half_last_digit)


def test_share_of_agreement_behind_that_kappa_is_four_in_twenty():
    """Counted by hand: the third, 13th, 14th and 18th of the twenty."""
    assert agreed_share(ANXIETY[1], ANXIETY[2]) == 4 / 20


@pytest.mark.parametrize("weights", ["none", "linear"])
def test_kappa_and_error_agree_with_statsmodels(weights):
    """By statsmodels 0.15, cohens_kappa(table, wt=None or "linear")."""
    from statsmodels.stats.inter_rater import cohens_kappa

    for seed in range(5):
        table = np.random.default_rng(seed).integers(0, 12, (4, 4))
        expected = cohens_kappa(table, wt=None if weights == "none" else weights)
        assert kappa(table, weights) == pytest.approx((expected.kappa, expected.std_kappa))
