"""Two simulated breweries, one guided and one by rotation: a few panels of `tests/bench`.

The whole table is printed by tests/bench/two_breweries.py; here it is asked whether the loop still
does better on some panels, and whether the simulation counts what it says.
"""

from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

BENCH = Path(__file__).resolve().parents[1] / "bench"
SEEDS = range(1, 9)
FORTNIGHTLY = 2
AT_MOST = 0.75


@pytest.fixture(scope="module")
def bench():
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCH)
        import two_breweries
        import two_breweries_run
        import two_breweries_table
        import two_breweries_truth

        yield SimpleNamespace(
            lines=two_breweries,
            run=two_breweries_run,
            table=two_breweries_table,
            truth=two_breweries_truth,
        )


@pytest.fixture(scope="module")
def rows(bench):
    """The rotation and the guided brewery, a session every second week, by name."""
    lines = [line for line in bench.lines.LINES if line.group == "fortnightly"][:2]
    assert [line.every for line in lines] == [FORTNIGHTLY, FORTNIGHTLY]
    return [bench.lines.run(line, SEEDS) for line in lines]


@pytest.fixture(scope="module")
def truth(bench):
    return bench.truth.draw_truth(3)


class Everybody:
    """A brewery that seats all or nobody, and holds all or nothing."""

    def __init__(self, bench, *, seats, holds):
        self.bench, self.seats, self.holds = bench, seats, holds

    def pour(self, week, day):
        """A compound and a blank."""
        return self.bench.truth.Pour(np.array([0, -1]), np.array([3.0, 0.0]))

    def take_in(self, week, day, pour, said, is_here):
        """Look only at what comes in."""
        assert said.shape == (8, 2)

    def seat(self, week, day):
        """All or nobody."""
        return np.full(8, self.seats)

    def panel(self, seated, is_here):
        """The first two."""
        return np.flatnonzero(is_here)[:2]

    def release(self, panel, taste):
        """All tanks alike."""
        return self.bench.run.Release(self.holds, 1)

    def hear(self, tanks):
        """Look only at what comes in."""
        assert tanks.shape == (3,)


def test_the_guided_brewery_has_clearly_fewer_wrong_seats(rows):
    """The floor is half, on many panels; on eight the part is uncertain by some .15."""
    rotation, guided = rows
    assert rotation.total("wrong") > 0
    assert guided.total("wrong") <= AT_MOST * rotation.total("wrong")


def test_it_seats_people_all_the_same(rows):
    """A brewery that seats nobody has no wrong seats either."""
    rotation, guided = rows
    right = [row.total("seated") - row.total("wrong") for row in rows]
    assert right[1] >= 0.75 * right[0]
    assert guided.values("glasses") == pytest.approx(rotation.values("glasses"), rel=0.01)


def test_it_releases_few_faults_and_holds_little_good_beer(rows):
    """The whole table says how it compares; so few panels tell only what is plainly wrong."""
    rotation, guided = rows
    assert guided.total("faulty") == rotation.total("faulty") > 0
    assert guided.total("released") <= 0.15 * guided.total("faulty")
    assert guided.total("held") <= 0.01 * guided.total("good")


def test_chances_it_is_sure_of_come_true(rows):
    """Where it claims 90 % of a fault or more there is one, and hardly ever under 10 %."""
    pairs = np.array([pair for one in rows[1].outcomes for pair in one.weighed])
    claimed, true = pairs.T
    sure, unlikely = claimed >= 0.9, claimed < 0.1
    assert sure.sum() > 50
    assert true[sure].mean() == pytest.approx(claimed[sure].mean(), abs=0.05)
    assert true[unlikely].mean() == pytest.approx(claimed[unlikely].mean(), abs=0.02)


def test_seating_everybody_counts_who_does_not_deserve_it(bench, truth):
    found = bench.run.live(truth, Everybody(bench, seats=True, holds=True))
    undeserving = ~truth.deserves
    assert found.seated == 8 * 78
    assert found.wrong == undeserving.sum() > 0
    assert found.clearly_wrong == (undeserving & truth.is_clearly_wrong).sum()
    assert found.missing == found.missing_at_end == 0
    assert found.wrong_at_end == undeserving[-1].sum()
    assert (found.released, found.held) == (0, found.good)
    assert found.faulty + found.good == 3 * 78
    assert found.glasses == 2 * truth.is_here.sum()


def test_seating_nobody_counts_who_would_deserve_it(bench, truth):
    found = bench.run.live(truth, Everybody(bench, seats=False, holds=False))
    assert (found.seated, found.wrong) == (0, 0)
    assert found.missing == truth.deserves.sum() > 0
    assert (found.released, found.held) == (found.faulty, 0)
    assert np.isnan(found.until_four)


def test_four_right_seats_are_counted_in_glasses(bench, truth):
    """All are seated from the first week on: the first week with four who deserve it."""
    found = bench.run.live(truth, Everybody(bench, seats=True, holds=False))
    week = int(np.argmax(truth.deserves.sum(axis=1) >= 4))
    assert truth.deserves[week].sum() >= 4
    assert found.until_four == 2 * truth.is_here[: week + 1].sum()


def test_people_name_as_often_as_is_true_of_them(bench):
    """At the reference level, over many weeks and panels; dosing errors take a little of it."""
    pour = bench.truth.Pour(np.arange(6), np.full(6, 3.0))
    named, rate = [], []
    for seed in range(20):
        truth = bench.truth.draw_truth(seed)
        for week in range(0, 78, 3):
            named.append(truth.answer(week, pour) == np.arange(6))
            rate.append(truth.rate[week, :, :6])
    assert np.mean(named) == pytest.approx(np.mean(rate), abs=0.01)
    by_cell, true = np.mean(named, axis=0).ravel(), np.mean(rate, axis=0).ravel()
    assert np.corrcoef(by_cell, true)[0, 1] > 0.8


def test_people_call_blanks_as_often_as_is_true_of_them(bench):
    blanks = bench.truth.Pour(np.full(8, -1), np.zeros(8))
    for seed in range(3):
        truth = bench.truth.draw_truth(seed)
        called = np.mean([truth.answer(w, blanks) >= 0 for w in range(78)], axis=(0, 2))
        error = np.sqrt(truth.cells.calls[0, :, 0] * (1 - truth.cells.calls[0, :, 0]) / (78 * 8))
        assert (np.abs(called - truth.cells.calls[0, :, 0]) < 4 * error + 1e-9).all()


def test_both_breweries_hear_the_same_of_the_same_tank(truth):
    again = [truth.taste(7, 1, 0) for _ in range(2)]
    assert (again[0] == again[1]).all()
    many = np.array([truth.taste(w, t, p) for w in range(78) for t in range(3) for p in (0, 1)])
    first, second = many[::2], many[1::2]
    assert (first != second).any()
    faulty = truth.tank.ravel() >= 0
    names_it = first[faulty] == truth.tank.ravel()[faulty][:, None]
    assert names_it.mean() > 0.4
    assert (first[~faulty] >= 0).mean() < 0.2


def test_half_of_them_notice_a_taint_and_most_of_those_give_it_one_name(bench):
    kind, taint = bench.truth.AS_ASSUMED, bench.truth.TAINT
    said, names = [], []
    for seed in range(20):
        truth = bench.truth.draw_truth(seed, kind)
        for week, tank in np.argwhere(truth.tank == taint):
            said.append(truth.taste(week, tank, 0))
            names.append(truth.taint_name[week, tank])
    said, names = np.array(said), np.array(names)[:, None]
    assert len(said) == pytest.approx(20 * 234 * 0.02, rel=0.4)
    assert (said == names).mean() == pytest.approx(0.35, abs=0.05)
    assert (said == taint).mean() == pytest.approx(0.15, abs=0.05)


def test_a_third_fewer_sessions_are_a_third_fewer(bench):
    line = next(line for line in bench.lines.LINES if line.group == "weekly" and line.skips)
    assert sum(line.has_session(week) for week in range(78)) == 52
    line = next(line for line in bench.lines.LINES if line.group == "fortnightly" and line.skips)
    assert sum(line.has_session(week) for week in range(78)) == 26


def test_a_part_of_another_and_its_error(bench):
    """Ratios of sums, and the jackknife by hand for three panels."""

    def row(*wrong):
        outcomes = tuple(bench.run.Outcome(wrong=w) for w in wrong)
        return bench.table.Row("g", "guided", outcomes)

    part, error = bench.table.ratio(row(1, 2, 3), row(4, 4, 4), "wrong")
    assert part == pytest.approx(0.5)
    left = np.array([5 / 8, 4 / 8, 3 / 8])
    assert error == pytest.approx(np.sqrt(2 / 3 * ((left - left.mean()) ** 2).sum()))
    assert np.isnan(bench.table.ratio(row(1, 2), row(0, 0), "wrong")).all()
