"""The ability model against plain simulation, written without any of its tables."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.special import ndtr, ndtri

from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.reading import quantile
from seatworthy.stats.ability.settings import DEFAULT

TODAY = 20_000
CALLS = 0.10  # the node of somebody without blanks
EDGE = DEFAULT.theta_limit + DEFAULT.theta_step / 2
UNIT = 1.115916  # d' of 2/3 right in a 3-AFC


def chances(level, theta, accuracy):
    """Right name, wrong name and nothing, for thresholds and accuracies of one shape."""
    clear = np.minimum(UNIT * level / 2 ** (theta + DEFAULT.naming_shift), 12)
    alarm = DEFAULT.criterion
    seen = (1 - DEFAULT.lapse) * (ndtr(clear + ndtri(alarm)) - alarm) / (1 - alarm)
    lucky = (1 - seen) * CALLS / DEFAULT.names
    return (
        accuracy * seen + lucky,
        (1 - accuracy) * seen + (1 - seen) * CALLS - lucky,
        (1 - seen) * (1 - CALLS),
    )


def walk_back(theta, years, drift, draw):
    """Where thresholds were some years before: reflected at the ends, or anywhere."""
    theta = theta + np.asarray(DEFAULT.drift_sd)[drift] * np.sqrt(years) * draw.normal(
        size=theta.size
    )
    theta = np.where(np.abs(theta) > EDGE, np.sign(theta) * 2 * EDGE - theta, theta)
    jumps = draw.random(theta.size) < 1 - np.exp(-np.asarray(DEFAULT.drift_jump)[drift] * years)
    return np.where(jumps, draw.uniform(-EDGE, EDGE, theta.size), theta)


def weigh(theta, rows, draw):
    """Likelihood of the answers for thresholds of today, and the rate at the reference level."""
    number = theta.size
    accuracy = draw.beta(*DEFAULT.naming_prior, number)
    drift = draw.choice(3, number, p=DEFAULT.drift_weight)
    weight, then, now = np.ones(number), theta, TODAY
    for day, level, outcome in sorted(rows, reverse=True):
        then, now = walk_back(then, (now - day) / 365.25, drift, draw), day
        actual = level * 2 ** draw.normal(0, DEFAULT.dose_sd, number)
        weight *= chances(actual, then, accuracy)[outcome]
    return weight, chances(DEFAULT.reference_level, theta, accuracy)[0]


HISTORIES = {
    "mostly right": [
        (19_460, 3.0, 0),
        (19_560, 3.0, 0),
        (19_720, 2.0, 2),
        (19_860, 3.0, 0),
        (19_960, 4.0, 0),
    ],
    "half of them": [(19_460, 3.0, 1), (19_550, 3.0, 0), (19_710, 4.0, 1), (19_965, 3.0, 0)],
    "mostly missed": [(19_490, 3.0, 2), (19_660, 6.0, 0), (19_970, 3.0, 2)],
}


@pytest.fixture
def follow_people(pour_glasses, pour_blanks):
    def run(histories, settings=DEFAULT):
        rows = [
            (day, person, 0, 0, "naming", level, 0.0, outcome)
            for person, history in enumerate(histories)
            for day, level, outcome in history
        ]
        shape = (len(histories), 1, 1)
        return follow(pour_glasses(rows), pour_blanks([]), shape, TODAY, settings)

    return run


@pytest.mark.parametrize("name", HISTORIES)
def test_own_chance_agrees_with_plain_sampling(name, follow_people):
    draw = np.random.default_rng(7)
    theta = draw.normal(0, DEFAULT.own_sd, 150_000)
    theta = theta[np.abs(theta) < EDGE]
    weight, rate = weigh(theta, HISTORIES[name], draw)
    seen = follow_people([HISTORIES[name]]).today
    expected = weight @ (rate >= DEFAULT.p_min) / weight.sum()
    assert seen.chance_met_own[0, 0, 0] == pytest.approx(expected, abs=0.02)
    assert seen.rate_mean[0, 0, 0] == pytest.approx(weight @ rate / weight.sum(), abs=0.02)


def test_pooled_chance_agrees_with_plain_sampling(follow_people):
    """Panels are drawn from their prior, people from their panel, all weighed by all answers."""
    trusting = replace(DEFAULT, pooling_doubt=0.0)
    draw, number = np.random.default_rng(8), 200_000
    mean = draw.normal(0, DEFAULT.panel_mean_sd, number)
    spread = DEFAULT.panel_spread_median * np.exp(
        draw.normal(0, DEFAULT.panel_spread_log_sd, number)
    )
    weight, rates = np.ones(number), []
    for history in HISTORIES.values():
        is_nontaster = draw.random(number) < DEFAULT.nontaster_share
        theta = np.where(
            is_nontaster,
            draw.normal(mean + DEFAULT.nontaster_shift, DEFAULT.nontaster_sd),
            draw.normal(mean, spread),
        )
        weight *= np.abs(theta) < EDGE
        one, rate = weigh(np.clip(theta, -EDGE, EDGE), history, draw)
        weight *= one
        rates.append(rate)
    expected = [weight @ (rate >= DEFAULT.p_min) / weight.sum() for rate in rates]
    seen = follow_people(list(HISTORIES.values()), trusting).today
    assert seen.chance_met_pooled[:, 0, 0] == pytest.approx(expected, abs=0.02)


def test_finer_bins_hardly_move_a_chance(invent_panel):
    panel = invent_panel(seed=3, people=5, compounds=4, families=1, sessions=12, per_session=4)
    fine = replace(DEFAULT, naming_bins=4 * DEFAULT.naming_bins, theta_step=DEFAULT.theta_step / 2)
    coarse, finer = (
        follow(panel.glasses, panel.blanks, panel.shape, panel.today, settings).today
        for settings in (DEFAULT, fine)
    )
    assert coarse.chance_met_own == pytest.approx(finer.chance_met_own, abs=0.02)
    assert coarse.chance_met_pooled == pytest.approx(finer.chance_met_pooled, abs=0.02)


@pytest.mark.parametrize("glasses", [4, 12])
def test_intervals_cover_simulated_rates_as_often_as_they_say(glasses, follow_people):
    """300 people drawn from the prior, answers from the walk; 90 % +- 3.5 standard errors."""
    draw, people = np.random.default_rng(10 + glasses), 300
    theta = draw.normal(0, DEFAULT.own_sd, 2 * people)
    theta = theta[np.abs(theta) < EDGE][:people]
    accuracy = draw.beta(*DEFAULT.naming_prior, people)
    drift = draw.choice(3, people, p=DEFAULT.drift_weight)
    histories, then = [[] for _ in range(people)], theta
    for glass in range(glasses):
        then = walk_back(then, 0.1, drift, draw)
        actual = 3.0 * 2 ** draw.normal(0, DEFAULT.dose_sd, people)
        right, wrong, _ = chances(actual, then, accuracy)
        chance = draw.random(people)
        outcome = np.where(chance < right, 0, np.where(chance < right + wrong, 1, 2))
        for person in range(people):
            day = round(TODAY - 36.525 * (glass + 1))
            histories[person].append((day, 3.0, int(outcome[person])))
    seen = follow_people(histories).today
    rate = chances(DEFAULT.reference_level, theta, accuracy)[0]
    histogram = seen.rate_histogram[:, 0, 0]
    low, high = (quantile(histogram, np.arange(100) / 100, 0.01, f) for f in (0.05, 0.95))
    assert 0.84 <= np.mean((low <= rate) & (rate <= high)) <= 0.96
    is_inside = (seen.threshold_low_own[:, 0, 0] <= theta) & (
        theta <= seen.threshold_high_own[:, 0, 0]
    )
    assert is_inside.mean() >= 0.84  # wider than 90 %: slopes could have differed
    assert abs(np.mean(seen.rate_mean[:, 0, 0] - rate)) < 0.05


def test_intervals_cover_the_rates_of_people_who_lack_a_compound(follow_people):
    """200 people with thresholds of 8 to 64 times the working threshold, eight glasses each."""
    draw, people = np.random.default_rng(40), 200
    theta, accuracy = draw.uniform(3, 6, people), draw.beta(18, 2, people)
    histories = []
    for person in range(people):
        right, wrong, _ = chances(3.0, theta[person], accuracy[person])
        chance = draw.random(8)
        outcome = np.where(chance < right, 0, np.where(chance < right + wrong, 1, 2))
        histories.append([(TODAY - 30 * glass, 3.0, int(one)) for glass, one in enumerate(outcome)])
    seen = follow_people(histories).today
    rate = chances(DEFAULT.reference_level, theta, accuracy)[0]
    low, high = seen.rate_low[:, 0, 0], seen.rate_high[:, 0, 0]
    assert np.mean((low <= rate) & (rate <= high)) >= 0.85


def test_claimed_chances_come_true(follow_people):
    """Of 600 people the share that truly reaches the rate is the mean of the claimed chances."""
    draw, people = np.random.default_rng(30), 600
    theta = draw.normal(0, DEFAULT.own_sd, 2 * people)
    theta = theta[np.abs(theta) < EDGE][:people]
    accuracy = draw.beta(*DEFAULT.naming_prior, people)
    histories = []
    for person in range(people):
        actual = 3.0 * 2 ** draw.normal(0, DEFAULT.dose_sd, 6)
        right, wrong, _ = chances(actual, theta[person], accuracy[person])
        chance = draw.random(6)
        outcome = np.where(chance < right, 0, np.where(chance < right + wrong, 1, 2))
        histories.append([(TODAY, 3.0, int(one)) for one in outcome])
    claimed = follow_people(histories).today.chance_met_own[:, 0, 0]
    is_good = chances(DEFAULT.reference_level, theta, accuracy)[0] >= DEFAULT.p_min
    for least, most in ((0.0, 0.1), (0.1, 0.85), (0.85, 1.0)):
        among = (claimed >= least) & (claimed <= most)
        error = 4 * np.sqrt(np.mean(claimed[among] * (1 - claimed[among])) / among.sum())
        assert np.mean(is_good[among]) == pytest.approx(claimed[among].mean(), abs=error + 0.01)
