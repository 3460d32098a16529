"""Odds of counting rules against every sequence by itself, and against figures worked out before."""

from itertools import product

import numpy as np
import pytest
from scipy.stats import binom

from seatworthy.stats.looks import (
    apart_windows,
    running_count,
    running_share,
    sequential_run,
    sliding_window,
)
from seatworthy.stats.sequential import RunState, follow_run, wald_lines

RATES = np.array([0.0, 1 / 12, 0.5, 0.7, 0.85, 1.0])
MET, NOT_MET = "met", "not met"


def of_every_sequence(glasses, standings):
    """Odds by walking all 2^glasses sequences; `standings` gives where somebody stands at looks."""
    total = np.zeros((4, RATES.size))
    for answers in product((0, 1), repeat=glasses):
        right = sum(answers)
        seen = standings(answers)
        facts = (seen[-1] == MET, MET in seen, seen[-1] == NOT_MET, NOT_MET in seen)
        weight = RATES**right * (1 - RATES) ** (glasses - right)
        total += np.array(facts)[:, None] * weight
    return total


def stay(found, before):
    return before if found is None else found


def slide(window, right, leave_at, looks):
    def standings(answers):
        seen = [""]
        for number in looks:
            latest = answers[max(number - window, 0) : number]
            full = len(latest) == window
            found = MET if full and sum(latest) >= right else None
            found = NOT_MET if full and sum(latest) <= leave_at else found
            seen.append(stay(found, seen[-1]))
        return seen

    return standings


@pytest.mark.parametrize(
    ("glasses", "window", "right", "leave_at"),
    [(11, 6, 5, 3), (10, 4, 4, 0), (9, 1, 1, 0), (7, 7, 5, 4), (5, 6, 5, 1)],
)
def test_a_sliding_window_agrees_with_every_sequence_walked_by_itself(
    glasses, window, right, leave_at
):
    walked = of_every_sequence(glasses, slide(window, right, leave_at, range(1, glasses + 1)))
    odds = sliding_window(RATES, glasses, window, right, leave_at)
    assert np.allclose(odds, walked, rtol=0, atol=1e-12)


def test_a_sliding_window_is_not_seen_between_looks():
    walked = of_every_sequence(10, slide(5, 4, 2, (4, 7, 10)))
    assert np.allclose(sliding_window(RATES, 10, 5, 4, 2, (4, 7, 10)), walked, rtol=0, atol=1e-12)


@pytest.mark.parametrize(
    ("glasses", "window", "right", "leave_at"), [(12, 4, 3, 1), (11, 4, 4, 2), (3, 4, 3, 1)]
)
def test_windows_apart_agree_with_every_sequence_walked_by_itself(glasses, window, right, leave_at):
    def standings(answers):
        seen = [""]
        for start in range(0, glasses - window + 1, window):
            found = sum(answers[start : start + window])
            said = MET if found >= right else NOT_MET if found <= leave_at else None
            seen.append(stay(said, seen[-1]))
        return seen

    walked = of_every_sequence(glasses, standings)
    odds = apart_windows(RATES, glasses, window, right, leave_at)
    assert np.allclose(odds, walked, rtol=0, atol=1e-12)


LINES = wald_lines(0.5, 0.8, 0.2, 0.2)
SAID = {RunState.FINDS_IT: MET, RunState.DOES_NOT_FIND_IT: NOT_MET}


def test_sequential_runs_one_after_another_agree_with_every_sequence_walked_by_itself():
    def standings(answers):
        seen, left = [""], answers
        while left:
            run = follow_run(left, LINES)
            if run.decided_at is None:
                break
            seen.append(SAID[run.state])
            left = left[run.decided_at :]
        return seen

    walked = of_every_sequence(12, standings)
    assert np.allclose(sequential_run(RATES, LINES, 12), walked, rtol=0, atol=1e-12)


def test_a_single_sequential_run_agrees_with_every_sequence_walked_by_itself():
    walked = of_every_sequence(12, lambda answers: [SAID.get(follow_run(answers, LINES).state)])
    odds = sequential_run(RATES, LINES, 12, starts_anew=False)
    assert np.allclose(odds, walked, rtol=0, atol=1e-12)


def test_a_single_sequential_run_keeps_walds_promises():
    """Wald (1945): alpha' + beta' <= alpha + beta, and neither above alpha / (1 - beta) and so."""
    lines = wald_lines(1 / 3, 0.7, 0.05, 0.10)
    odds = sequential_run([1 / 3, 0.7], lines, 200, starts_anew=False)
    wrongly_met, wrongly_not = odds.ever_met[0], odds.ever_not_met[1]
    assert wrongly_met + wrongly_not <= 0.15
    assert wrongly_met <= 0.05 / 0.90
    assert wrongly_not <= 0.10 / 0.95


def test_a_running_share_agrees_with_every_sequence_walked_by_itself():
    looks = (2, 5, 5, 9, 11)

    def standings(answers):
        found = [(sum(answers[:number]), number) for number in looks]
        return ["" if n < 4 else MET if right >= 0.7 * n - 1e-9 else NOT_MET for right, n in found]

    walked = of_every_sequence(11, standings)
    assert np.allclose(running_share(RATES, looks, 0.7, 4), walked, rtol=0, atol=1e-12)


def test_a_running_count_may_fall_back_to_open():
    def standings(answers):
        first, last = sum(answers[:3]), sum(answers)
        before = MET if first >= 2 else NOT_MET if first <= 0 else ""
        return [before, MET if last >= 6 else NOT_MET if last <= 2 else ""]

    walked = of_every_sequence(8, standings)
    odds = running_count(RATES, [3, 8], [2, 6], [0, 2])
    assert np.allclose(odds, walked, rtol=0, atol=1e-12)


def test_a_running_share_looked_at_once_is_a_binomial_tail():
    odds = running_share(RATES, [20], 0.65, 10)
    assert np.allclose(odds.met_at_end, binom.sf(12, 20, RATES), rtol=0, atol=1e-12)


def test_one_window_apart_is_a_binomial_tail():
    odds = apart_windows(RATES, 12, 12, 10, 7)
    assert np.allclose(odds.met_at_end, binom.sf(9, 12, RATES), rtol=0, atol=1e-12)
    assert np.allclose(odds.not_met_at_end, binom.cdf(7, 12, RATES), rtol=0, atol=1e-12)


def test_nine_of_fifteen_is_reached_by_guessing_among_three_in_fewer_than_five_of_a_hundred():
    """The least score better than 1/3 at 5 %, as in the tables of ISO 4120; recomputed here."""
    assert running_share(1 / 3, [15], 9 / 15, 15).met_at_end < 0.05
    assert running_share(1 / 3, [15], 8 / 15, 15).met_at_end > 0.05


@pytest.mark.parametrize(("rate", "passes"), [(0.6, 0.61), (0.5, 0.30)])
def test_who_passes_nine_of_fifteen(rate, passes):
    """Our own earlier figures, two decimals, nothing published; the binomial tail gives them."""
    assert running_share(rate, [15], 9 / 15, 15).met_at_end == pytest.approx(passes, abs=0.005)


@pytest.mark.parametrize(
    ("right", "glasses", "good", "poor"),
    [(4, 5, 0.74, 0.19), (7, 10, 0.88, 0.17), (14, 20, 0.91, 0.06)],
)
def test_who_passes_seventy_in_a_hundred(right, glasses, good, poor):
    """Our own earlier figures for a true 80 % and a true 50 %, whole percents, not published."""
    odds = running_share([0.8, 0.5], [glasses], right / glasses, glasses)
    assert odds.met_at_end == pytest.approx([good, poor], abs=0.005)


@pytest.mark.parametrize(("rate", "within"), [(0.80, 0.29), (0.85, 0.14)])
def test_three_misses_running_within_54_glasses(rate, within):
    """Our own earlier figure of 29 % of good tasters is that of a true 80 %; not published."""
    odds = sliding_window(rate, 54, 3, 3, 0)
    assert odds.ever_not_met == pytest.approx(within, abs=0.005)


def test_looking_after_every_glass_lets_three_times_as_many_pass_five_of_six():
    """A true 60 % taster passes one look with .233 (binomial), one of the fifteen with .77."""
    odds = sliding_window(0.6, 20, 6, 5, 2)
    assert binom.sf(4, 6, 0.6) == pytest.approx(0.2333, abs=5e-5)
    assert odds.ever_met == pytest.approx(0.77, abs=0.005)


def test_five_of_the_last_six_passes_a_third_of_those_between_30_and_70_percent():
    """An earlier figure of our own is 34 % of the unqualified, without saying who they were.

    True rates spread evenly over .30 to .70 and the standing after 20 glasses give it; no single
    rate of .60 (.55 at the end) or .65 (.68) does.
    """
    rates = np.linspace(0.30, 0.70, 401)
    odds = sliding_window(rates, 20, 6, 5, 2)
    assert odds.met_at_end.mean() == pytest.approx(0.34, abs=0.005)


def test_a_window_of_fourteen_is_exact_and_one_of_fifteen_refused():
    assert sliding_window(1.0, 14, 14, 12, 8).met_at_end == 1
    with pytest.raises(ValueError, match="up to 14 answers, got 15"):
        sliding_window(1.0, 20, 15, 12, 8)


def test_chances_are_shaped_like_the_rates():
    rates = np.full((2, 3), 0.7)
    for odds in (
        sliding_window(rates, 8, 4, 3, 1),
        apart_windows(rates, 8, 4, 3, 1),
        sequential_run(rates, LINES, 8),
        running_share(rates, [4, 8], 0.7, 4),
    ):
        assert {chances.shape for chances in odds} == {(2, 3)}


def test_without_answers_everybody_is_open():
    for odds in (
        sliding_window(RATES, 0, 4, 3, 1),
        apart_windows(RATES, 0, 4, 3, 1),
        sequential_run(RATES, LINES, 0),
        running_share(RATES, [], 0.7, 4),
    ):
        assert not np.any(odds)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: sliding_window(1.1, 8, 4, 3, 1), "must be a fraction from 0 to 1"),
        (lambda: sliding_window(0.5, 8, 4, 3, 3), "leave_at < right <= window, got 3, 3 and 4"),
        (lambda: apart_windows(0.5, 8, 4, 5, 3), "leave_at < right <= window, got 3, 5 and 4"),
        (lambda: sequential_run(0.5, LINES, -1), "must not be negative, got -1"),
        (lambda: running_count(0.5, [3, 2], [1, 1], [0, 0]), "must not fall"),
        (lambda: running_count(0.5, [3], [1, 1], [0]), "One number and two limits a look"),
        (lambda: running_share(0.5, [3], 1.5, 1), "A share is a fraction from 0 to 1, got 1.5"),
    ],
)
def test_impossible_arguments_are_refused(call, said):
    with pytest.raises(ValueError, match=said):
        call()
