"""How much more naming takes than detecting."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.special import logsumexp

from seatworthy.stats.ability.recognition import SHIFTS, read_recognition
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.tables import clearness, perceived
from seatworthy.stats.thurstone import proportion_right

BOTH = [
    (1, 0, 0, 0, "naming", 3.0, 0.0, 0),
    (1, 0, 0, 0, "3afc", 1.0, 0.0, 1),
    (2, 0, 0, 0, "naming", 1.0, 0.0, 2),
]


@pytest.fixture
def read(pour_glasses, pour_blanks):
    def run(rows, shape=(1, 1), blanks=(), **more):
        return read_recognition(pour_glasses(list(rows)), pour_blanks(list(blanks)), shape, **more)

    return run


def answer(shift, draw, people=30, each=10):
    """Naming and 3-AFC glasses at 1 to 3 times, of people about the working threshold."""
    rows = []
    for person in range(people):
        theta, accuracy = np.array([draw.normal(0, 0.7)]), draw.beta(*DEFAULT.naming_prior)
        for level in np.tile([1.0, 2.0, 3.0], each):
            actual = np.array([level * 2 ** draw.normal(0, DEFAULT.dose_sd)])
            settings = replace(DEFAULT, naming_shift=shift)
            seen = perceived(actual, theta, settings)[0, 0]
            right, none = accuracy * seen + (1 - seen) / 120, (1 - seen) * 0.9
            outcome = draw.choice([0, 1, 2], p=[right, 1 - right - none, none])
            rows.append((1, person, 0, 0, "naming", level, 0.0, outcome))
            clear = np.minimum(clearness(actual, theta)[0, 0], 12)
            picked = 0.02 / 3 + 0.98 * proportion_right("3afc", clear)
            rows.append((1, person, 0, 0, "3afc", level, 0.0, int(draw.random() > picked)))
    return rows


@pytest.mark.parametrize("shift", [0.0, 0.5, 1.0])
def test_a_known_shift_is_found(shift, read):
    seen = read(answer(shift, np.random.default_rng(11)), shape=(30, 1))
    assert seen.mean[0] == pytest.approx(shift, abs=0.25)
    assert seen.chance[0, SHIFTS.index(shift)] > 0.2
    assert seen.chance[0, np.abs(np.array(SHIFTS) - shift) >= 0.5].max() < 0.05


def test_evidence_agrees_with_plain_sampling(read):
    """Three glasses of one person; the prior drawn, the answers weighed without any table."""
    seen, draw = read(BOTH), np.random.default_rng(12)
    theta = draw.normal(0, DEFAULT.own_sd, 60_000)
    theta = theta[np.abs(theta) < DEFAULT.theta_limit]
    accuracy = draw.beta(*DEFAULT.naming_prior, theta.size)
    by_shift = []
    for shift in SHIFTS:
        weight = np.ones(theta.size)
        for _, _, _, _, method, level, _, outcome in BOTH:
            clear = 1.115916 * level * 2 ** draw.normal(0, DEFAULT.dose_sd, theta.size) / 2**theta
            if method == "naming":
                settings = replace(DEFAULT, naming_shift=0.0)
                places = np.log2(1.115916 / np.maximum(clear, 1e-9)) + shift
                chance = perceived(np.ones(1), places, settings)[0]
                right = accuracy * chance + (1 - chance) * 0.10 / DEFAULT.names
                weight *= right if outcome == 0 else (1 - chance) * 0.90
            else:
                right = DEFAULT.lapse / 3 + (1 - DEFAULT.lapse) * proportion_right(
                    method, np.minimum(clear, 12)
                )
                weight *= 1 - right
        by_shift.append(np.log(weight.mean()))
    assert seen.log_evidence[0] == pytest.approx(by_shift, abs=0.04)


def test_people_add_up(read):
    other = [(row[0], 1, *row[2:7], 0) for row in BOTH]
    one, two = read(BOTH), read([*BOTH, *other], shape=(2, 1))
    alone = read([(row[0], 0, *row[2:]) for row in other])
    assert two.log_evidence == pytest.approx(one.log_evidence + alone.log_evidence, abs=1e-10)
    assert (one.people[0], two.people[0]) == (1, 2)


def test_chances_are_the_evidence_under_a_flat_prior(read):
    seen = read(BOTH)
    expected = np.exp(seen.log_evidence[0] - logsumexp(seen.log_evidence[0]))
    assert seen.chance[0] == pytest.approx(expected, abs=1e-12)
    assert seen.mean[0] == pytest.approx(expected @ SHIFTS, abs=1e-12)


def test_the_models_own_shift_is_not_used(read):
    settings = replace(DEFAULT, naming_shift=1.0)
    assert np.array_equal(read(BOTH, settings=settings).log_evidence, read(BOTH).log_evidence)


@pytest.mark.parametrize("method", ["naming", "3afc"])
def test_people_with_one_kind_of_glass_say_nothing(method, read):
    seen = read([(1, 0, 0, 0, method, 3.0, 0.0, 0)] * 6)
    assert (seen.people[0], seen.glasses[0]) == (0, 0)
    assert np.isnan(seen.chance).all()
    assert np.isnan(seen.mean).all()


@pytest.mark.parametrize(
    ("method", "level", "background"),
    [
        ("a_not_a", 3.0, 0.0),
        ("intensity", 3.0, 0.0),
        ("3afc", np.nan, 0.0),
        ("naming", 3.0, np.nan),
    ],
)
def test_glasses_that_cannot_be_read_change_nothing(method, level, background, read):
    more = [*BOTH, (3, 0, 0, 0, method, level, background, 0)]
    assert np.array_equal(read(more).log_evidence, read(BOTH).log_evidence)


def test_a_compound_served_as_duplicates_only_is_read_glass_by_glass(read):
    once, twice = read(BOTH), read(BOTH + BOTH)
    assert twice.glasses[0] == 2 * once.glasses[0]
    assert np.isfinite(twice.log_evidence).all()


def test_false_calls_set_the_node(read):
    calls = [(1, 0, True)] * 20
    assert not np.allclose(read(BOTH, blanks=calls).log_evidence, read(BOTH).log_evidence)


def test_many_glasses_do_not_underflow(read):
    seen = read(BOTH * 700)
    assert np.isfinite(seen.log_evidence).all()
    assert seen.chance.sum() == pytest.approx(1, abs=1e-12)


def test_compounds_stand_apart(read):
    moved = [(*row[:2], 2, *row[3:]) for row in BOTH]
    seen = read(moved, shape=(1, 3))
    assert seen.people.tolist() == [0, 0, 1]
    assert seen.log_evidence[2] == pytest.approx(read(BOTH).log_evidence[0], abs=1e-12)


@pytest.mark.parametrize("shape", [(0, 0), (1, 2)])
def test_no_glasses_say_nothing(shape, read):
    seen = read([], shape=shape)
    assert seen.chance.shape == (shape[1], len(SHIFTS))
    assert np.isnan(seen.chance).all()


def test_places_outside_the_axes_are_refused(read):
    with pytest.raises(ValueError, match="A compound lies outside 0 to 0"):
        read([(1, 0, 1, 0, "naming", 3.0, 0.0, 0)])
    with pytest.raises(ValueError, match="person of a blank lies outside 0 to 0"):
        read(BOTH, blanks=[(1, 1, True)])
