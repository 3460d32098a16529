"""What is kept up to date session by session must be what a full recompute says."""

from dataclasses import fields, replace

import numpy as np
import pytest

from seatworthy.stats.ability.call_nodes import nearest_node
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.followed import Today
from seatworthy.stats.ability.glasses import Blanks, Outcome
from seatworthy.stats.ability.present import Present
from seatworthy.stats.ability.settings import DEFAULT

NAMES = [field.name for field in fields(Today)]
DAY = 19_900
OWN = [name for name in NAMES if "pooled" not in name]


def blanks_where(blanks, chosen):
    return Blanks(*(getattr(blanks, field.name)[chosen] for field in fields(Blanks)))


def sessions_of(panel):
    """Each session's glasses and blanks, by day."""
    for day in np.unique(panel.glasses.day).tolist():
        yield (
            panel.glasses.where(panel.glasses.day == day),
            blanks_where(panel.blanks, panel.blanks.day == day),
        )


def taken_in(panel, sessions):
    present = Present(panel.shape)
    for glasses, blanks in sessions:
        present.take_in(glasses, blanks)
    return present


def at_once(panel):
    return taken_in(panel, [(panel.glasses, panel.blanks)])


def assert_alike(one, other, tolerance):
    for name in NAMES:
        values, expected = getattr(one, name), getattr(other, name)
        assert np.allclose(values, expected, atol=tolerance, rtol=0), name


@pytest.fixture
def nothing(pour_glasses, pour_blanks):
    return pour_glasses([]), pour_blanks([])


@pytest.mark.parametrize("families", [1, 2, 3])
def test_session_by_session_comes_to_the_full_recompute(families, invent_panel):
    panel = invent_panel(families=families, sessions=12)
    step_by_step = taken_in(panel, sessions_of(panel))
    assert_alike(step_by_step.read(panel.today), at_once(panel).read(panel.today), 1e-6)


@pytest.mark.parametrize("families", [1, 2, 3])
def test_the_present_is_the_today_of_those_who_are_followed(families, invent_panel):
    panel = invent_panel(families=families, sessions=12)
    followed = follow(panel.glasses, panel.blanks, panel.shape, panel.today).today
    present = taken_in(panel, sessions_of(panel))
    assert_alike(present.read(panel.today), followed, 1e-9)


def test_sessions_may_come_in_any_order(invent_panel):
    panel = invent_panel(sessions=10)
    sessions = list(sessions_of(panel))
    order = np.random.default_rng(4).permutation(len(sessions))
    mixed = taken_in(panel, [sessions[place] for place in order])
    assert_alike(mixed.read(panel.today), at_once(panel).read(panel.today), 1e-6)


@pytest.mark.parametrize("days_earlier", [0, 1])
def test_a_glass_may_come_in_after_one_of_the_same_or_a_later_day(
    days_earlier, pour_glasses, pour_blanks
):
    first = pour_glasses([(DAY, 0, 0, 0, "naming", 3.0, 0.0, Outcome.RIGHT)])
    second = pour_glasses([(DAY - days_earlier, 0, 0, 0, "naming", 2.0, 0.0, Outcome.NONE)])
    as_they_come, in_order = Present((1, 1, 1)), Present((1, 1, 1))
    for present, glasses in ((as_they_come, (first, second)), (in_order, (second, first))):
        for one in glasses:
            present.take_in(one, pour_blanks([]))
    assert_alike(as_they_come.read(DAY), in_order.read(DAY), 1e-9)


def test_two_halves_of_one_day_are_one_session(invent_panel):
    panel = invent_panel()
    half = np.arange(panel.glasses.day.size) % 2 == 0
    first = panel.glasses.where(half), blanks_where(panel.blanks, panel.blanks.person == 0)
    second = panel.glasses.where(~half), blanks_where(panel.blanks, panel.blanks.person != 0)
    halves = taken_in(panel, [first, second])
    assert_alike(halves.read(panel.today), at_once(panel).read(panel.today), 1e-6)


def test_a_person_whose_false_call_rate_moves_is_run_through_again(
    invent_panel, pour_glasses, pour_blanks
):
    panel = invent_panel()
    calls = pour_blanks([(panel.today, 1, True)] * 12)
    everything = Blanks(
        *(
            np.concatenate([getattr(panel.blanks, field.name), getattr(calls, field.name)])
            for field in fields(Blanks)
        )
    )
    present = at_once(panel)
    before = present.read(panel.today)
    present.take_in(pour_glasses([]), calls)
    after = present.read(panel.today)
    expected = follow(panel.glasses, everything, panel.shape, panel.today).today
    assert_alike(after, expected, 1e-9)
    assert np.abs(after.chance_met_own[1] - before.chance_met_own[1]).max() > 0.001


def test_blanks_that_move_no_rate_move_no_estimate(invent_panel, pour_glasses, pour_blanks):
    calls, answered = (nearest_node(*counts, DEFAULT) for counts in ((0, 1), (0, 2)))
    assert calls == answered
    panel = invent_panel()
    quiet = replace(panel, blanks=pour_blanks([(panel.today, 1, False)]))
    present = at_once(quiet)
    before = present.read(panel.today)
    present.take_in(pour_glasses([]), pour_blanks([(panel.today, 1, False)]))
    assert_alike(present.read(panel.today), before, 0)


def test_a_session_leaves_the_own_estimates_of_all_other_cells(invent_panel, pour_glasses):
    panel = invent_panel()
    present = at_once(panel)
    before = present.read(panel.today)
    late = pour_glasses([(panel.today, 1, 2, 0, "naming", 3.0, 0.0, Outcome.NONE)])
    present.take_in(late, blanks_where(panel.blanks, panel.blanks.day < 0))
    after = present.read(panel.today)
    others = np.ones(panel.shape[:2], dtype=bool)
    others[1, 2] = False
    for name in OWN:
        assert np.array_equal(getattr(after, name)[others], getattr(before, name)[others]), name
    assert np.all(after.chance_met_own[1, 2] < before.chance_met_own[1, 2])


def test_an_empty_session_changes_nothing(invent_panel, nothing):
    panel = invent_panel()
    present = at_once(panel)
    before = present.read(panel.today)
    present.take_in(*nothing)
    assert_alike(present.read(panel.today), before, 0)


def test_reading_twice_reads_the_same(invent_panel):
    panel = invent_panel()
    present = at_once(panel)
    first = present.read(panel.today + 40)
    assert_alike(present.read(panel.today + 40), first, 0)


def test_reading_ahead_does_not_keep_a_session_from_coming_in_later(invent_panel):
    panel = invent_panel()
    *early, last = sessions_of(panel)
    present = taken_in(panel, early)
    present.read(panel.today + 400)
    present.take_in(*last)
    assert_alike(present.read(panel.today), at_once(panel).read(panel.today), 1e-6)


def test_chosen_cells_read_as_they_do_among_all(invent_panel):
    panel = invent_panel(families=3)
    present = at_once(panel)
    cells = np.array([3, 0, 2, 0]), np.array([1, 2, 1, 0]), np.array([2, 0, 0, 2])
    some, everything = present.read_cells(panel.today, *cells), present.read(panel.today)
    for name in NAMES:
        chosen = getattr(everything, name)[cells]
        assert getattr(some, name) == pytest.approx(chosen, abs=1e-12), name


def test_no_cells_chosen_are_no_cells_read(invent_panel):
    panel = invent_panel()
    none = np.empty(0, dtype=np.intp)
    read = at_once(panel).read_cells(panel.today, none, none, none)
    assert read.chance_met_own.shape == (0,)
    assert read.rate_histogram.shape == (0, 100)


def test_a_newcomer_is_what_the_prior_and_the_colleagues_say(invent_panel):
    panel = invent_panel()
    without_newcomer = panel.glasses.where(panel.glasses.person != 2)
    present = Present(panel.shape)
    present.take_in(without_newcomer, blanks_where(panel.blanks, panel.blanks.person != 2))
    read, empty = present.read(panel.today), Present(panel.shape).read(panel.today)
    assert not read.has_glasses[2].any()
    assert np.array_equal(read.chance_met_own[2], empty.chance_met_own[2])
    assert not np.allclose(read.chance_met_pooled[2], empty.chance_met_pooled[2])


def test_answers_up_to_the_day_are_read_and_none_before(invent_panel):
    panel = invent_panel()
    present = at_once(panel)
    last = int(panel.glasses.day.max())
    assert present.read(last).chance_met_own.shape == panel.shape
    with pytest.raises(ValueError, match=f"up to day {last} were taken in; day {last - 1} lies"):
        present.read(last - 1)


def test_a_place_outside_the_axes_is_refused_and_nothing_taken_in(
    invent_panel, pour_glasses, pour_blanks
):
    panel = invent_panel()
    present = at_once(panel)
    before = present.read(panel.today)
    people, compounds, families = panel.shape
    glass = (panel.today, 0, 0, 0, "naming", 3.0, 0.0, 0)
    outside = (panel.today, 0, compounds, 0, "naming", 3.0, 0.0, 0)
    with pytest.raises(ValueError, match="A compound lies outside 0 to 2: 3"):
        present.take_in(pour_glasses([glass, outside]), pour_blanks([]))
    with pytest.raises(ValueError, match="The person of a blank lies outside 0 to 3: 4"):
        present.take_in(pour_glasses([glass]), pour_blanks([(panel.today, people, True)]))
    with pytest.raises(ValueError, match="A family lies outside 0 to 1: 2"):
        present.read_cells(panel.today, np.array([0]), np.array([0]), np.array([families]))
    assert_alike(present.read(panel.today), before, 0)


def test_an_empty_brewery_reads_as_empty_arrays(nothing):
    present = Present((0, 0, 0))
    present.take_in(*nothing)
    assert present.read(20_000).chance_met_own.shape == (0, 0, 0)


CASES = {
    "no glasses": [],
    "one glass": [(DAY, 0, 0, 0, "naming", 3.0, 0.0, 0)],
    "everything right": [
        (DAY + 7 * week, 0, 0, family, method, 3.0, 0.0, Outcome.RIGHT)
        for week in range(12)
        for family in (0, 1)
        for method in ("naming", "3afc")
    ],
    "everything missed": [
        (DAY + 7 * week, 0, 0, family, "naming", 3.0, 0.0, Outcome.NONE)
        for week in range(12)
        for family in (0, 1)
    ],
    "right in one family, missed in the other": [
        (DAY, 0, 0, family, "naming", 3.0, 0.0, (Outcome.RIGHT, Outcome.NONE)[family])
        for family in (0, 1)
        for _ in range(60)
    ],
    "levels far outside": [
        (DAY + place, 0, 0, 0, method, level, 0.0, outcome)
        for place, method in enumerate(("naming", "3afc", "triangle", "duo_trio", "2afc"))
        for level in (0.001, 1000.0)
        for outcome in (Outcome.RIGHT, Outcome.WRONG)
    ],
    "backgrounds above the level": [
        (DAY, 0, 0, 0, method, 2.0, 5.0, Outcome.RIGHT) for method in ("naming", "3afc", "2afc")
    ],
    "dates out of order": [
        (DAY - 30 * back, 0, 0, back % 2, "naming", 3.0, 0.0, back % 4) for back in range(12)
    ],
    "methods without a link": [
        (DAY, 0, 0, 0, "intensity", 3.0, 0.0, 0),
        (DAY, 0, 0, 0, "", 3.0, 0.0, 0),
    ],
    "amounts not known": [
        (DAY, 0, 0, 0, "naming", np.nan, 0.0, 0),
        (DAY, 0, 0, 0, "3afc", 3.0, np.nan, 0),
    ],
    "answers of a century ago": [(DAY - 36_525, 0, 0, 0, "naming", 3.0, 0.0, 0)] * 4,
}


@pytest.fixture(params=CASES)
def odd_answers(request, pour_glasses, pour_blanks):
    """Odd answers of one person."""
    return pour_glasses(CASES[request.param]), pour_blanks([(DAY, 0, True)] * 3)


def test_odd_answers_have_finite_estimates(odd_answers):
    present = Present((1, 1, 2))
    present.take_in(*odd_answers)
    today = present.read(20_000)
    assert all(np.isfinite(getattr(today, name)).all() for name in NAMES)
    assert np.all(today.rate_low <= today.rate_high)
    assert today.rate_histogram.sum(axis=-1) == pytest.approx(1.0, abs=1e-9)


def test_odd_answers_are_followed_on_every_day(odd_answers):
    seen = follow(*odd_answers, (1, 1, 2), 20_000, outlook_days=(7, 4000))
    past = (seen.chance_met_own, seen.threshold_low, seen.threshold_high, seen.rate_mean)
    ahead = (seen.chance_met_after, seen.chance_met_outlook, seen.panel_threshold)
    assert all(np.isfinite(values).all() for values in (*past, *ahead))
    assert set(seen.days.tolist()) <= set(odd_answers[0].day.tolist())


def test_odd_answers_are_followed_to_their_present(odd_answers):
    present = Present((1, 1, 2))
    present.take_in(*odd_answers)
    followed = follow(*odd_answers, (1, 1, 2), 20_000).today
    assert_alike(present.read(20_000), followed, 1e-9)


def test_a_level_however_small_is_taken_and_none_at_all_is_refused(pour_glasses, pour_blanks):
    present = Present((1, 1, 1))
    tiny = pour_glasses([(DAY, 0, 0, 0, "naming", 1e-12, 0.0, Outcome.NONE)])
    present.take_in(tiny, pour_blanks([]))
    untouched = Present((1, 1, 1)).read(DAY)
    assert present.read(DAY).chance_met_own == pytest.approx(untouched.chance_met_own, abs=1e-9)
    with pytest.raises(ValueError, match="level must be above 0"):
        pour_glasses([(DAY, 0, 0, 0, "naming", 0.0, 0.0, Outcome.NONE)])
