from datetime import timedelta

import pytest

from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.judging import judge_day
from seatworthy.steps.own_history import NEWEST_SHARE, own_history
from seatworthy.steps.ratings import rating_rows

NAMING = "date,panellist,code,compound,level,answer,duplicate"
RATING = "date,panellist,code,method,compound,level,sample,rating,duplicate"


@pytest.fixture
def ada(desk, tmp_path):
    """Bring in rows below a head; what is found of Ada then."""

    def bring_in(find, head, lines):
        path = tmp_path / "results.csv"
        path.write_text("\n".join([head, *lines]), encoding="utf-8")
        bring_in_results(desk, path)
        judged = judge_day(desk)
        (person,) = [key for key, name in judged.people.items() if name == "Ada"]
        return find(desk, judged, person)

    return bring_in


@pytest.fixture
def history(ada):
    return lambda *lines: ada(own_history, NAMING, lines)


@pytest.fixture
def ratings(ada):
    return lambda *lines: ada(rating_rows, RATING, lines)


def days(desk, *shares):
    """Naming glasses of Ada, a week apart up to last week: hits of how many each day."""
    lines = []
    for place, (hits, glasses) in enumerate(shares):
        day = desk.today() - timedelta(weeks=len(shares) - place)
        lines += [
            f"{day},Ada,{100 + glass},dms,3,{'dms' if glass < hits else 'nothing'},"
            for glass in range(glasses)
        ]
    return lines


def test_the_average_moves_a_fifth_of_the_way_to_each_days_share(history, desk):
    found = history(*days(desk, (4, 4), (0, 4)))
    assert [(day.named_right, day.glasses) for day in found.days] == [(4, 4), (0, 4)]
    after_first = 0.5 + NEWEST_SHARE * 0.5
    assert [day.average for day in found.days] == pytest.approx([after_first, after_first * 0.8])


def test_the_limits_are_those_of_a_share_that_stands_still(history, desk):
    """Three standard deviations of the average after one value: 3 x .2 x sqrt(.25 / 4) = .15."""
    (first, _) = history(*days(desk, (4, 4), (0, 4))).days
    assert (first.low, first.high) == pytest.approx((0.35, 0.65))


def test_a_slope_needs_six_days(history, desk):
    assert history(*days(desk, *[(2, 2)] * 5)).slope is None


def test_falling_shares_have_a_falling_slope(history, desk):
    found = history(*days(desk, (5, 5), (4, 5), (3, 5), (2, 5), (1, 5), (0, 5)))
    assert found.slope == pytest.approx(-0.2 * 365.25 / 7)
    assert found.chance_falling == pytest.approx(1 / 720)


def test_pairs_are_the_same_answer_twice_and_agreement_is_beside_what_is_usual(history, desk):
    day = desk.today() - timedelta(days=7)
    found = history(
        f"{day},Ada,101,dms,3,dms,a",
        f"{day},Ada,102,dms,3,dms,a",
        f"{day},Ada,103,diacetyl,3,dms,b",
        f"{day},Ada,104,diacetyl,3,nothing,b",
        f"{day},Ada,105,acetaldehyde,3,nothing,c",
        f"{day},Ada,106,acetaldehyde,3,nothing,c",
    )
    assert (found.pairs, found.same, found.agreed) == (3, 2, 3)
    value, _ = found.kappa
    assert value == pytest.approx((2 / 3 - 4 / 9) / (1 - 4 / 9))


def test_one_answer_alone_says_nothing_of_agreement(history, desk):
    found = history(f"{desk.today() - timedelta(days=1)},Ada,101,dms,3,dms,")
    assert (found.pairs, found.kappa, found.d_prime) == (0, None, None)


def test_calls_in_spiked_glasses_stand_against_calls_in_blanks(history, desk):
    """20 of 25 and 10 of 25 with the log-linear correction: d' 1.0445, c -.27885 (recomputed)."""
    day = desk.today() - timedelta(days=1)
    spiked = [f"{day},Ada,{100 + n},dms,3,{'dms' if n < 20 else 'nothing'}," for n in range(25)]
    blanks = [f"{day},Ada,{200 + n},blank,,{'dms' if n < 10 else 'nothing'}," for n in range(25)]
    found = history(*spiked, *blanks)
    assert (found.calls, found.spiked, found.false_calls, found.blanks) == (20, 25, 10, 25)
    assert (found.d_prime, found.criterion) == pytest.approx((1.0445, -0.27885), abs=5e-5)
    assert found.d_prime_range[0] < found.d_prime < found.d_prime_range[1]
    mean, low, high = found.false_call_rate
    assert low < mean < high


def test_ratings_show_repeats_and_samples_told_apart(ratings, desk):
    """Pairs 5, 6 and 8, 9: v = (1 + 1) / 4; F = (9 / 1) / (1 / 2) = 18 on 1 and 2."""
    day = desk.today() - timedelta(days=1)
    (row,) = ratings(
        f"{day},Ada,101,intensity,dms,2,weak,5,a",
        f"{day},Ada,102,intensity,dms,2,weak,6,a",
        f"{day},Ada,103,intensity,dms,4,strong,8,b",
        f"{day},Ada,104,intensity,dms,4,strong,9,b",
    )
    assert (row.label, row.ratings, row.pairs, row.samples) == ("DMS", 4, 2, 2)
    assert row.panel_sd == pytest.approx(0.5**0.5)
    assert row.sd == pytest.approx(row.panel_sd)
    assert row.f_ratio == pytest.approx(18)
    assert (row.correlation, row.raters) == (None, 1)


def test_a_panels_precision_needs_repeats_by_two_people(ratings, desk):
    """Ada 5, 6 and Bo 8, 9: s_r^2 = .5, s_L^2 = (9 - .5) / 2, s_R^2 = 4.75."""
    day = desk.today() - timedelta(days=1)
    (row,) = ratings(
        f"{day},Ada,101,intensity,dms,2,weak,5,a",
        f"{day},Ada,102,intensity,dms,2,weak,6,a",
        f"{day},Bo,103,intensity,dms,2,weak,8,a",
        f"{day},Bo,104,intensity,dms,2,weak,9,a",
    )
    assert (row.repeatability_sd, row.reproducibility_sd) == pytest.approx((0.5**0.5, 4.75**0.5))


def test_a_single_rating_leaves_every_spread_unknown(ratings, desk):
    (row,) = ratings(f"{desk.today() - timedelta(days=1)},Ada,101,intensity,dms,2,weak,5,")
    assert (row.sd, row.panel_sd, row.f_ratio, row.repeatability_sd) == (None,) * 4
