"""What must hold for everybody who is followed."""

from dataclasses import fields, replace

import numpy as np
import pytest

from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.followed import Followed, Today
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.settings import DEFAULT

PAST = (
    "days",
    "cell_person",
    "cell_compound",
    "cell_family",
    "chance_met_own",
    "chance_insensitive_own",
    "threshold_mean",
    "threshold_low",
    "threshold_high",
    "rate_mean",
)
OWN_TODAY = (
    "chance_met_own",
    "chance_insensitive_own",
    "rate_mean",
    "rate_histogram",
    "threshold_mean_own",
    "threshold_low_own",
    "threshold_high_own",
)


def followed(panel, settings=DEFAULT, **more):
    return follow(panel.glasses, panel.blanks, panel.shape, panel.today, settings, **more)


def without(panel, left_out_glasses, left_out_blanks):
    blanks = panel.blanks
    kept = [getattr(blanks, field.name)[~left_out_blanks] for field in fields(blanks)]
    return replace(
        panel, glasses=panel.glasses.where(~left_out_glasses), blanks=type(blanks)(*kept)
    )


@pytest.fixture
def one_cell(name_glasses, pour_blanks):
    def run(rows, settings=DEFAULT, today=20_000, blanks=(), **more):
        return follow(name_glasses(rows), pour_blanks(blanks), (1, 1, 1), today, settings, **more)

    return run


def test_shapes_are_as_said(invent_panel):
    panel = invent_panel()
    seen = followed(panel, outlook_days=(30, 60))
    _, compounds, families = panel.shape
    glasses = panel.glasses
    cells = len({*zip(glasses.day, glasses.person, glasses.compound, strict=True)})
    assert all(getattr(seen, name).shape == (cells * families,) for name in PAST)
    for field in fields(Today):
        assert getattr(seen.today, field.name).shape[:3] == panel.shape, field.name
    assert seen.today.rate_histogram.shape == (*panel.shape, 100)
    assert seen.chance_met_after.shape == (*panel.shape, 9)
    assert seen.chance_met_outlook.shape == (*panel.shape, 2)
    assert seen.panel_threshold.shape == (compounds, families)


def test_own_values_do_not_depend_on_what_colleagues_answer(invent_panel):
    panel = invent_panel()
    turned = panel.glasses.outcome.copy()
    others = panel.glasses.person != 1
    turned[others] = np.where(turned[others] == Outcome.RIGHT, Outcome.WRONG, Outcome.RIGHT)
    before = followed(panel, outlook_days=(30,))
    after = followed(
        replace(panel, glasses=replace(panel.glasses, outcome=turned)), outlook_days=(30,)
    )
    own = before.cell_person == 1
    for name in PAST:
        assert np.array_equal(getattr(before, name)[own], getattr(after, name)[own]), name
    for name in OWN_TODAY:
        assert np.array_equal(getattr(before.today, name)[1], getattr(after.today, name)[1]), name
    assert np.array_equal(before.chance_met_after[1], after.chance_met_after[1])
    assert np.array_equal(before.chance_met_outlook[1], after.chance_met_outlook[1])
    assert not np.allclose(before.today.chance_met_pooled[1], after.today.chance_met_pooled[1])


def test_own_values_do_not_depend_on_whether_there_are_colleagues(invent_panel):
    panel = invent_panel()
    alone = without(panel, panel.glasses.person != 1, panel.blanks.person != 1)
    before, after = followed(panel).today, followed(alone).today
    for name in OWN_TODAY:
        both = getattr(before, name)[1], getattr(after, name)[1]
        assert both[0] == pytest.approx(both[1], abs=1e-12), name


@pytest.mark.parametrize("p_min", [0.60, 0.65, 0.70])
def test_without_own_glasses_the_prior_decides_nothing(p_min, pour_glasses, pour_blanks):
    rows = [(19_000, person, 0, 0, "naming", 3.0, 0.0, 0) for person in (1, 2, 3) for _ in range(8)]
    settings = replace(DEFAULT, p_min=p_min)
    seen = follow(pour_glasses(rows), pour_blanks([]), (4, 1, 1), 19_001, settings)
    chance = seen.today.chance_met_own[0, 0, 0]
    assert 0.10 < chance < 0.80
    assert not seen.today.has_glasses[0, 0, 0]
    assert seen.today.chance_met_pooled[0, 0, 0] > chance


def test_a_day_is_read_without_what_came_later(invent_panel):
    panel = invent_panel()
    day = int(np.unique(panel.glasses.day)[4])
    early = replace(
        without(panel, panel.glasses.day > day, panel.blanks.day > day),
        today=day,
    )
    late, then = followed(panel), followed(early)
    until = late.days <= day
    assert until.sum() == then.days.size
    for name in PAST:
        assert getattr(late, name)[until] == pytest.approx(getattr(then, name), abs=1e-12), name


def test_later_glasses_and_blanks_are_left_out_by_today(invent_panel):
    panel = invent_panel()
    day = int(np.unique(panel.glasses.day)[4])
    cut = without(panel, panel.glasses.day > day, panel.blanks.day > day)
    all_given = followed(replace(panel, today=day)).today
    early_given = followed(replace(cut, today=day)).today
    for name in OWN_TODAY:
        assert np.array_equal(getattr(all_given, name), getattr(early_given, name)), name


def test_the_last_day_and_today_agree_if_they_are_one(invent_panel):
    panel = invent_panel()
    last = int(panel.glasses.day.max())
    seen = followed(replace(panel, today=last))
    on_last = seen.days == last
    place = seen.cell_person[on_last], seen.cell_compound[on_last], seen.cell_family[on_last]
    assert seen.chance_met_own[on_last] == pytest.approx(
        seen.today.chance_met_own[place], abs=1e-12
    )
    assert seen.threshold_high[on_last] == pytest.approx(
        seen.today.threshold_high_own[place], abs=1e-9
    )


def test_the_outlook_is_what_will_be_read_if_nothing_is_poured(invent_panel):
    panel = invent_panel()
    outlook = followed(panel, outlook_days=(0, 100)).chance_met_outlook
    now = followed(panel).today.chance_met_own
    later = followed(replace(panel, today=panel.today + 100)).today.chance_met_own
    assert outlook[..., 0] == pytest.approx(now, abs=1e-12)
    assert outlook[..., 1] == pytest.approx(later, abs=1e-12)


def test_without_answers_time_changes_no_chance(one_cell):
    seen = one_cell([], outlook_days=(0, 100))
    now = seen.today.chance_met_own[0, 0, 0]
    assert seen.chance_met_outlook[0, 0, 0] == pytest.approx([now, now], abs=1e-12)


def test_further_hits_are_what_will_be_read_once_they_are_answered(one_cell):
    rows = [(19_900, 3.0, Outcome.RIGHT), (19_950, 3.0, Outcome.NONE)]
    ahead = one_cell(rows).chance_met_after[0, 0, 0]
    for more in (0, 1, 5, 8):
        then = one_cell(rows + [(20_000, 3.0, Outcome.RIGHT)] * more)
        assert ahead[more] == pytest.approx(then.today.chance_met_own[0, 0, 0], abs=1e-12)
    assert np.all(np.diff(ahead) > 0)


def test_all_right_improves_and_all_wrong_worsens(one_cell):
    prior = one_cell([]).today
    for outcome, sign in ((Outcome.RIGHT, 1), (Outcome.NONE, -1), (Outcome.WRONG, -1)):
        chances = [
            one_cell([(19_990, 3.0, outcome)] * number).today.chance_met_own[0, 0, 0]
            for number in range(1, 6)
        ]
        assert np.all(sign * np.diff([prior.chance_met_own[0, 0, 0], *chances]) > 0)


def test_a_wrong_name_says_more_of_detection_than_nothing_does(one_cell):
    thresholds = {
        outcome: one_cell([(19_990, 3.0, outcome)] * 3).today.threshold_mean_own[0, 0, 0]
        for outcome in Outcome
    }
    assert thresholds[Outcome.RIGHT] < thresholds[Outcome.NONE]
    assert thresholds[Outcome.WRONG] < thresholds[Outcome.NONE]
    assert thresholds[Outcome.OPEN] < thresholds[Outcome.NONE]


def test_missing_strong_glasses_makes_insensitive_probable(one_cell):
    missed = one_cell([(19_990, 8.0, Outcome.NONE)] * 6).today
    named = one_cell([(19_990, 3.0, Outcome.RIGHT)] * 6).today
    assert missed.chance_insensitive_own[0, 0, 0] > 0.95
    assert named.chance_insensitive_own[0, 0, 0] < 0.05


def test_old_answers_fade_towards_the_prior(one_cell):
    rows = [(15_000, 3.0, Outcome.RIGHT)] * 6
    prior = one_cell([]).today.chance_met_own[0, 0, 0]
    chances = [
        one_cell(rows, today=today).today.chance_met_own[0, 0, 0]
        for today in (15_000, 15_400, 17_000, 30_000, 100_000)
    ]
    assert np.all(np.diff(chances) < 0)
    assert chances[-1] > prior  # naming accuracy does not fade, only the threshold wanders


def test_other_methods_and_unknown_levels_say_nothing(one_cell, pour_glasses, pour_blanks):
    silent = [
        (19_990, 0, 0, 0, "intensity", 3.0, 0.0, 0),
        (19_990, 0, 0, 0, "ranking", 3.0, 0.0, 0),
        (19_990, 0, 0, 0, "naming", float("nan"), 0.0, 0),
        (19_990, 0, 0, 0, "3afc", 3.0, float("nan"), 0),
    ]
    seen = follow(pour_glasses(silent), pour_blanks([]), (1, 1, 1), 20_000)
    assert seen.days.size == 0
    assert not seen.today.has_glasses.any()
    assert np.array_equal(seen.today.rate_histogram, one_cell([]).today.rate_histogram)


def test_another_beer_family_counts_but_counts_less(pour_glasses, pour_blanks):
    rows = [(19_990, 0, 0, 0, "naming", 3.0, 0.0, 0)] * 6
    seen = follow(pour_glasses(rows), pour_blanks([]), (1, 1, 2), 20_000)
    here, there = seen.today.chance_met_own[0, 0]
    prior = follow(pour_glasses([]), pour_blanks([]), (1, 1, 2), 20_000).today.chance_met_own
    assert here > there > prior[0, 0, 0]
    assert seen.today.has_glasses[0, 0].tolist() == [True, False]
    assert seen.days.size == 2


@pytest.mark.parametrize("method", ["3afc", "triangle", "duo_trio", "2afc"])
def test_a_background_in_the_reference_glass_makes_a_pick_harder(method, pour_glasses, pour_blanks):
    def threshold_if_all_picked(background):
        rows = [(19_990, 0, 0, 0, method, 3.0, background, 0)] * 5
        seen = follow(pour_glasses(rows), pour_blanks([]), (1, 1, 1), 20_000)
        return seen.today.threshold_mean_own[0, 0, 0]

    assert threshold_if_all_picked(2.0) < threshold_if_all_picked(0.0)


def test_false_calls_make_a_hit_worth_less(one_cell):
    rows = [(19_990, 3.0, Outcome.RIGHT)] * 4
    blanks = [(19_980, 0, True)] * 8
    caller = one_cell(rows, blanks=blanks).today.threshold_mean_own[0, 0, 0]
    quiet = one_cell(rows, blanks=[(d, p, False) for d, p, _ in blanks]).today
    assert caller > quiet.threshold_mean_own[0, 0, 0]


def test_order_of_glasses_does_not_matter(invent_panel):
    panel = invent_panel()
    order = np.random.default_rng(5).permutation(panel.glasses.day.size)
    mixed = replace(panel, glasses=panel.glasses.where(order))
    for name in OWN_TODAY:
        both = (getattr(followed(one).today, name) for one in (panel, mixed))
        assert np.allclose(*both, atol=1e-12, rtol=0), name


def test_an_empty_store_gives_empty_arrays(pour_glasses, pour_blanks):
    seen = follow(pour_glasses([]), pour_blanks([]), (0, 0, 0), 20_000, outlook_days=(7,))
    assert isinstance(seen, Followed)
    assert seen.days.size == 0
    assert seen.today.chance_met_own.shape == (0, 0, 0)
    assert seen.chance_met_outlook.shape == (0, 0, 0, 1)


def test_chances_at_other_cuts_come_from_the_same_histogram(one_cell):
    rows = [(19_990, 3.0, Outcome.RIGHT)] * 3
    for p_min in (0.50, 0.70, 0.85):
        seen = one_cell(rows, replace(DEFAULT, p_min=p_min)).today
        tail = seen.rate_histogram[0, 0, 0, round(100 * p_min) :].sum()
        assert seen.chance_met_own[0, 0, 0] == pytest.approx(tail, abs=1e-12)


@pytest.mark.parametrize(
    ("rows", "shape", "message"),
    [
        ([(1, 3, 0, 0, "naming", 3.0, 0.0, 0)], (3, 1, 1), "A person lies outside 0 to 2"),
        ([(1, 0, 1, 0, "naming", 3.0, 0.0, 0)], (3, 1, 1), "A compound lies outside 0 to 0"),
        ([(1, 0, 0, -1, "naming", 3.0, 0.0, 0)], (3, 1, 1), "A family lies outside 0 to 0"),
    ],
)
def test_places_outside_the_axes_are_refused(rows, shape, message, pour_glasses, pour_blanks):
    with pytest.raises(ValueError, match=message):
        follow(pour_glasses(rows), pour_blanks([]), shape, 20_000)


def test_blanks_of_unknown_people_and_outlooks_into_the_past_are_refused(pour_glasses, pour_blanks):
    with pytest.raises(ValueError, match="person of a blank lies outside 0 to 0"):
        follow(pour_glasses([]), pour_blanks([(1, 1, True)]), (1, 1, 1), 20_000)
    with pytest.raises(ValueError, match="must not lie before today"):
        follow(pour_glasses([]), pour_blanks([]), (1, 1, 1), 20_000, outlook_days=(-1,))


@pytest.mark.parametrize(
    ("level", "background", "outcome", "message"),
    [
        (0.0, 0.0, 0, "level must be above 0"),
        (3.0, -0.1, 0, "background not below 0"),
        (3.0, 0.0, 4, "RIGHT, WRONG, NONE or OPEN"),
        (np.inf, 0.0, 0, "must be finite"),
        (3.0, np.inf, 0, "must be finite"),
    ],
)
def test_impossible_glasses_are_refused(level, background, outcome, message, pour_glasses):
    with pytest.raises(ValueError, match=message):
        pour_glasses([(1, 0, 0, 0, "naming", level, background, outcome)])


@pytest.mark.parametrize("seed", range(6))
def test_a_further_right_name_today_never_lowers_the_rate(seed, pour_glasses, pour_blanks):
    """Forty histories of chance, each followed with and without one more right name today.

    One of long ago may lower it a little, since it says how much the threshold wanders: the newest
    right names can then look like luck.
    """
    draw = np.random.default_rng(seed)
    rows, blanks = [], []
    for person in range(40):
        for _ in range(draw.integers(1, 9)):
            method = str(draw.choice(["naming", "naming", "naming", "triangle"]))
            outcome = int(draw.integers(2 if method == "triangle" else 4))
            day, level = 20_000 - int(draw.integers(0, 400)), float(draw.choice([1, 2, 3, 4]))
            rows.append((day, person, 0, 0, method, level, 0.0, outcome))
        blanks += [(19_600, person, draw.random() < 0.4) for _ in range(draw.integers(0, 4))]
    more = [(20_000, person, 0, 0, "naming", 3.0, 0.0, 0) for person in range(40)]
    before, after = (
        follow(pour_glasses(every), pour_blanks(blanks), (40, 1, 1), 20_000).today
        for every in (rows, rows + more)
    )
    assert np.all(after.rate_mean >= before.rate_mean - 1e-9)
    assert np.all(after.chance_met_own >= before.chance_met_own - 1e-9)


def test_the_order_of_people_does_not_matter(invent_panel):
    panel = invent_panel(people=4)
    turned = np.array([2, 0, 3, 1])
    glasses = replace(panel.glasses, person=turned[panel.glasses.person])
    blanks = replace(panel.blanks, person=turned[panel.blanks.person])
    one, other = (
        followed(panel).today,
        followed(replace(panel, glasses=glasses, blanks=blanks)).today,
    )
    for name in ("rate_mean", "chance_met_own", "chance_met_pooled", "threshold_mean_pooled"):
        assert getattr(other, name)[turned] == pytest.approx(getattr(one, name), abs=1e-9)


def test_no_answers_return_the_prior(pour_glasses, pour_blanks):
    today = follow(pour_glasses([]), pour_blanks([]), (1, 1, 1), 20_000).today
    assert today.threshold_mean_own[0, 0, 0] == pytest.approx(0, abs=0.25)
    assert 0.4 < today.chance_met_own[0, 0, 0] < 0.5
    assert today.chance_insensitive_own[0, 0, 0] < 0.5


@pytest.mark.parametrize(("level", "outcome"), [(1000.0, 2), (0.001, 0), (3.0, 0), (3.0, 2)])
def test_a_thousand_glasses_of_one_day_give_finite_estimates(one_cell, level, outcome):
    today = one_cell([(20_000, level, outcome)] * 1000).today
    assert np.isfinite(today.rate_mean).all()
    assert 0 <= today.chance_met_own[0, 0, 0] <= 1
