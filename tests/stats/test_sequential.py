"""Edges of the sequential test and its chances; published values stand in tests/outside."""

import numpy as np
import pytest

from seatworthy.stats.sequential import Lines, RunState, follow_run, wald_lines

ROUND_LINES = Lines(low=-1.0, high=1.0, slope=0.5)


def test_lines_lie_where_the_ratio_of_likelihoods_reaches_walds_bounds():
    """On a line p1^r (1-p1)^(n-r) is (1-beta)/alpha, or beta/(1-alpha), times the same with p0."""
    p0, p1, alpha, beta, answers = 1 / 3, 0.7, 0.05, 0.10, 12
    lines = wald_lines(p0, p1, alpha, beta)
    for start, ratio in ((lines.high, (1 - beta) / alpha), (lines.low, beta / (1 - alpha))):
        right = start + lines.slope * answers
        found = right * np.log(p1 / p0) + (answers - right) * np.log((1 - p1) / (1 - p0))
        assert found == pytest.approx(np.log(ratio))


def test_slope_lies_between_the_two_shares():
    assert 0.5 < wald_lines(0.5, 0.8, 0.05, 0.05).slope < 0.8


def test_equal_risks_give_lines_alike_far_from_the_middle():
    lines = wald_lines(0.4, 0.7, 0.1, 0.1)
    assert lines.low == pytest.approx(-lines.high)


def test_no_answers_leave_everything_open():
    assert follow_run([], ROUND_LINES) == (RunState.STILL_OPEN, None)


def test_a_run_on_the_upper_line_finds_it():
    assert follow_run([1, 1], ROUND_LINES) == (RunState.FINDS_IT, 2)


def test_a_run_on_the_lower_line_does_not_find_it():
    assert follow_run([0, 0], ROUND_LINES) == (RunState.DOES_NOT_FIND_IT, 2)


def test_a_run_between_the_lines_is_open():
    assert follow_run([1, 0, 1, 0, 0, 1, 1], ROUND_LINES) == (RunState.STILL_OPEN, None)


def test_later_answers_do_not_undo_a_decision():
    assert follow_run([1, 1, 0, 0, 0, 0, 0, 0], ROUND_LINES) == (RunState.FINDS_IT, 2)


def test_rounding_does_not_keep_a_run_off_its_line():
    """p0 1/3, p1 2/3, both risks .2: intercepts 1 and slope 1/2 but for the last binary digit."""
    lines = wald_lines(1 / 3, 2 / 3, 0.2, 0.2)
    assert lines == pytest.approx((-1, 1, 0.5))
    assert follow_run([1, 0, 1, 1], lines).decided_at == 4
    assert follow_run([0, 1, 0, 0], lines).decided_at == 4


def test_one_answer_less_is_open():
    assert follow_run([1, 0, 1], ROUND_LINES).state is RunState.STILL_OPEN


@pytest.mark.parametrize(
    ("share", "state", "risk"),
    [(1 / 3, RunState.FINDS_IT, 0.05), (0.7, RunState.DOES_NOT_FIND_IT, 0.10)],
)
def test_wrong_decisions_are_as_rare_as_asked(share, state, risk):
    """3,000 runs of 150 answers; the risks are upper limits but for the overshoot."""
    lines = wald_lines(1 / 3, 0.7, 0.05, 0.10)
    answers = np.random.default_rng(9).random((3000, 150)) < share
    states = [follow_run(row, lines).state for row in answers]
    assert states.count(RunState.STILL_OPEN) == 0
    assert states.count(state) / 3000 <= risk + 0.01


@pytest.mark.parametrize(("p0", "p1"), [(0.5, 0.5), (0.7, 0.5), (0, 0.5), (0.5, 1), (50, 70)])
def test_impossible_shares_are_refused(p0, p1):
    with pytest.raises(ValueError, match="0 < p0 < p1 < 1"):
        wald_lines(p0, p1, 0.05, 0.05)


@pytest.mark.parametrize(("alpha", "beta"), [(0, 0.1), (0.1, 0), (0.5, 0.5), (5, 10)])
def test_impossible_risks_are_refused(alpha, beta):
    with pytest.raises(ValueError, match="above 0 and their sum below 1"):
        wald_lines(0.5, 0.7, alpha, beta)


@pytest.mark.parametrize("answers", [[0, 2], [0.5], [np.nan], [[0, 1]]])
def test_answers_that_are_neither_right_nor_wrong_are_refused(answers):
    with pytest.raises(ValueError, match="one row of right"):
        follow_run(answers, ROUND_LINES)
