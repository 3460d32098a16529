"""The A/not-A link: a yes or no with the person's own criterion."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm

from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.sample_check import log_evidence
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.tables import answer_weights, clearness, glass_table, likelihood

SHARP = replace(DEFAULT, dose_sd=0.0)
NODES = np.arange(len(DEFAULT.call_nodes))
UNIT = 1.115916  # d' of 2/3 right in a 3-AFC


def yes_rows(number=1, level=3.0, background=0.0, outcome=Outcome.RIGHT):
    return [(100, 0, 0, 0, "a_not_a", level, background, outcome)] * number


@pytest.fixture
def chance_of_yes(pour_glasses):
    """P(yes) by false-call node and threshold, (F, G), of one glass."""

    def run(level=3.0, background=0.0, settings=SHARP):
        glasses = pour_glasses(yes_rows(NODES.size, level, background))
        table = glass_table(glasses, settings, NODES)
        weights = answer_weights(glasses, NODES, settings)
        return likelihood(*weights, table.seen[table.kind])[:, 0]

    return run


@pytest.mark.parametrize(("level", "background"), [(1.0, 0.0), (3.0, 0.0), (3.0, 1.0)])
def test_a_yes_is_signal_detection_of_equal_variance(level, background, chance_of_yes):
    theta = build_grid(SHARP).theta
    clear = UNIT * (level - background) / 2**theta
    alarm = norm.ppf(np.array(SHARP.call_nodes))[:, None]
    expected = SHARP.lapse / 2 + (1 - SHARP.lapse) * norm.cdf(np.minimum(clear, 12) + alarm)
    assert chance_of_yes(level, background) == pytest.approx(expected, abs=5e-5)


def test_hits_and_false_alarms_of_a_printed_example_give_its_d_prime(chance_of_yes):
    """H .70, F .10: d' 1.806 (W. Schneider, short notes on signal detection; read).

    A threshold at which the glass has that d' must give that share of yes.
    """
    settings = replace(SHARP, lapse=0.0)
    place = DEFAULT.call_nodes.index(0.10)
    shares = chance_of_yes(1.806 / UNIT, settings=settings)[place]
    assert shares[build_grid(settings).theta == 0] == pytest.approx(0.70, abs=5e-4)


def test_nothing_to_smell_leaves_the_persons_own_rate_of_yes(chance_of_yes):
    expected = DEFAULT.lapse / 2 + (1 - DEFAULT.lapse) * np.array(DEFAULT.call_nodes)
    assert chance_of_yes(3.0, background=3.0)[:, 20] == pytest.approx(expected, abs=1e-12)


def test_yes_and_no_have_probability_one(pour_glasses):
    glasses = pour_glasses(
        yes_rows() + yes_rows(outcome=Outcome.WRONG) + yes_rows(outcome=Outcome.NONE)
    )
    nodes = np.full(3, 4)
    table = glass_table(glasses, DEFAULT, nodes)
    weights = answer_weights(glasses, nodes, DEFAULT)
    yes, no, nothing = likelihood(*weights, table.seen[table.kind])
    assert yes + no == pytest.approx(np.ones_like(yes), abs=1e-12)
    assert np.array_equal(no, nothing)


def test_detecting_needs_no_recognition_shift(chance_of_yes):
    shifted = chance_of_yes(settings=replace(SHARP, naming_shift=1.0))
    assert np.array_equal(shifted, chance_of_yes())


def test_naming_accuracy_is_not_asked(pour_glasses):
    glasses = pour_glasses(yes_rows())
    share, _ = answer_weights(glasses, np.array([2]), DEFAULT)
    assert np.all(share == share[0, 0])


def test_a_person_without_blanks_has_the_prior_rate(pour_glasses):
    glasses = pour_glasses(yes_rows())
    known = glass_table(glasses, DEFAULT, np.array([DEFAULT.call_nodes.index(0.10)]))
    assert np.array_equal(glass_table(glasses, DEFAULT).seen, known.seen)


def test_other_methods_do_not_look_at_the_node(pour_glasses):
    methods = ("naming", "3afc", "triangle", "duo_trio", "2afc")
    glasses = pour_glasses([(1, 0, 0, 0, method, 2.0, 0.5, 0) for method in methods])
    plain = glass_table(glasses, DEFAULT)
    for node in NODES:
        assert np.array_equal(glass_table(glasses, DEFAULT, np.full(5, node)).seen, plain.seen)


def test_people_with_one_criterion_share_one_table(pour_glasses):
    table = glass_table(pour_glasses(yes_rows(3)), DEFAULT, np.array([2, 5, 2]))
    assert len(table.seen) == 2
    assert table.kind[0] == table.kind[2] != table.kind[1]


def sample_plainly(rows, alarm, draw, number=200_000):
    """Posterior mean of the threshold by weighing draws from the prior; same day throughout."""
    edge = DEFAULT.theta_limit + DEFAULT.theta_step / 2
    theta = draw.normal(0, DEFAULT.own_sd, number)
    theta = theta[np.abs(theta) < edge]
    weight = np.ones(theta.size)
    for level, background, outcome in rows:
        added = (level - background) * 2 ** draw.normal(0, DEFAULT.dose_sd, theta.size)
        hit = norm.cdf(np.minimum(UNIT * added / 2**theta, 12) + norm.ppf(alarm))
        yes = DEFAULT.lapse / 2 + (1 - DEFAULT.lapse) * hit
        weight *= yes if outcome == Outcome.RIGHT else 1 - yes
    return weight @ theta / weight.sum()


@pytest.mark.parametrize(
    "answers", ["yes yes yes yes", "yes no yes no yes", "no no no", "yes no no no no no"]
)
def test_the_threshold_agrees_with_plain_sampling(answers, pour_glasses, pour_blanks):
    rows = [
        (level, 0.25, Outcome.RIGHT if answer == "yes" else Outcome.WRONG)
        for answer, level in zip(answers.split(), [1.0, 2.0, 4.0, 3.0, 3.0, 6.0], strict=False)
    ]
    glasses = pour_glasses([(100, 0, 0, 0, "a_not_a", *row) for row in rows])
    seen = follow(glasses, pour_blanks([]), (1, 1, 1), 100, replace(DEFAULT, slope_log_sd=0.0))
    expected = sample_plainly(rows, 0.10, np.random.default_rng(4))
    assert seen.today.threshold_mean_own[0, 0, 0] == pytest.approx(expected, abs=0.03)


def test_a_yes_of_a_frequent_caller_is_worth_less(pour_glasses, pour_blanks):
    def threshold(called):
        blanks = pour_blanks([(90, 0, called)] * 20)
        seen = follow(pour_glasses(yes_rows(4)), blanks, (1, 1, 1), 100)
        return seen.today.threshold_mean_own[0, 0, 0]

    assert threshold(True) > threshold(False) + 0.5


def test_the_threshold_of_a_frequent_caller_agrees_with_plain_sampling(pour_glasses, pour_blanks):
    rows = [(3.0, 0.0, Outcome.RIGHT)] * 3 + [(3.0, 0.0, Outcome.WRONG)]
    glasses = pour_glasses([(100, 0, 0, 0, "a_not_a", *row) for row in rows])
    blanks = pour_blanks([(90, 0, called) for called in [True] * 14 + [False] * 16])
    seen = follow(glasses, blanks, (1, 1, 1), 100, replace(DEFAULT, slope_log_sd=0.0))
    expected = sample_plainly(rows, 0.45, np.random.default_rng(5))
    assert seen.today.threshold_mean_own[0, 0, 0] == pytest.approx(expected, abs=0.03)


def test_a_stronger_glass_is_easier_to_say_yes_to(chance_of_yes):
    assert np.all(chance_of_yes(4.0) >= chance_of_yes(2.0))
    assert np.any(chance_of_yes(4.0) > chance_of_yes(2.0) + 0.1)


def test_a_sample_check_reads_a_yes_with_the_tasters_criterion(pour_glasses):
    grid = build_grid(DEFAULT)
    joint = (grid.naming_mass[:, None] * grid.own_prior)[None]
    node = np.array([6])
    log_yes, log_no = (
        log_evidence(joint, node, pour_glasses(yes_rows(outcome=outcome)), 0.0, DEFAULT)
        for outcome in (Outcome.RIGHT, Outcome.WRONG)
    )
    yes_to_nothing = DEFAULT.lapse / 2 + (1 - DEFAULT.lapse) * DEFAULT.call_nodes[6]
    assert np.exp(log_yes) == pytest.approx(yes_to_nothing, abs=1e-12)
    assert np.exp(log_no) == pytest.approx(1 - yes_to_nothing, abs=1e-12)


@pytest.mark.parametrize("level", [0.001, 1000.0])
def test_levels_far_out_stay_probabilities(level, chance_of_yes):
    assert np.all((chance_of_yes(level) > 0) & (chance_of_yes(level) < 1))


def test_the_d_prime_of_a_yes_is_that_of_the_other_methods(pour_glasses):
    theta = build_grid(SHARP).theta
    hit = glass_table(pour_glasses(yes_rows(level=2.0)), SHARP).seen[0]
    z = norm.ppf((hit - SHARP.lapse / 2) / (1 - SHARP.lapse))
    is_read = np.abs(z) < 5
    clear = clearness(np.array(2.0), theta)
    assert z[is_read] - norm.ppf(0.10) == pytest.approx(clear[is_read], abs=1e-6)
