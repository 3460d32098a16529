"""How often weighed calls are right on simulated panels.

    python tests/bench/weighed_calls.py            full: about two minutes a world
    python tests/bench/weighed_calls.py --quick    a tenth of it

Panels of five to eight people are trained on eight compounds (8 glasses a cell and 12 blanks in a
year, doses off by a quarter of a doubling, slopes of their own, non-tasters, one favourite wrong
name each) and then taste beers of which 30 in 100 are faulty, at levels that nobody knows. The
weighing sees only their answers. Asked is the chance it gives to the compound it finds most likely,
whenever somebody called something.
"""

import argparse
import sys
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
from scipy.special import ndtr, ndtri

from seatworthy.decide.noses import Noses
from seatworthy.decide.said import LEVEL_SHARES, LEVELS, NOTHING, SOMETHING, likelihoods
from seatworthy.decide.weighing import Prior, chances_after
from seatworthy.stats.ability.abilities import Abilities, read_abilities
from seatworthy.stats.ability.glasses import NAMING, Blanks, Glasses, Outcome
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.tables import clearness

COMPOUNDS: Final = 8
FAULTY: Final = 0.3
TODAY: Final = 20000
DECILES: Final = np.linspace(0, 1, 11)


@dataclass(frozen=True)
class World:
    """How beers and tasters behave beside what the weighing assumes.

    Attributes:
        copying: Chance that a taster repeats the first one's word.
        taint: Share of beers with something unlisted, which half of the tasters call by one name.
        pooled: Whether the weighing leans on colleagues' answers.
        glasses: Training glasses a person and compound.
        moves: Whether thresholds move in the year of training: a walk of half a doubling, and in
            7 of 100 cells a jump from anywhere.
    """

    copying: float = 0.0
    taint: float = 0.0
    pooled: bool = False
    glasses: int = 8
    moves: bool = True


WORLDS: Final = {
    "independent": World(),
    "independent, nothing moves": World(moves=False),
    "independent, pooled": World(pooled=True),
    "independent, 4 glasses": World(glasses=4),
    "independent, 4 glasses, pooled": World(glasses=4, pooled=True),
    "copying 30 %": World(copying=0.3),
    "unlisted taint in 2.5 %": World(taint=0.025),
    "unlisted taint in 5 %": World(taint=0.05),
}


@dataclass(frozen=True)
class Panel:
    """People as they truly are: thresholds, naming, slopes, false calls, favourite wrong names."""

    theta: np.ndarray
    accuracy: np.ndarray
    slope: np.ndarray
    calls: np.ndarray
    partner: np.ndarray


@dataclass
class Told:
    """What was found of one world's calls."""

    given: list = field(default_factory=list)
    right: list = field(default_factory=list)
    loss: list = field(default_factory=list)


def drawn_panel(rng: np.random.Generator) -> Panel:
    """A panel as panels are: most find most, some lack a compound."""
    shape = (int(rng.integers(5, 9)), COMPOUNDS)
    theta = rng.normal(0, 0.7, COMPOUNDS) + rng.normal(0, 0.8, shape)
    theta = np.where(rng.random(shape) < 0.08, rng.normal(4, 1.5, shape), theta)
    partner = rng.integers(1, COMPOUNDS, shape)
    return Panel(
        theta,
        rng.beta(3.5, 0.6, shape),
        np.exp(rng.normal(0, 0.35, shape)),
        rng.beta(1.5, 13, shape[0]),
        (np.arange(COMPOUNDS) + partner) % COMPOUNDS,
    )


def moved(panel: Panel, world: World, rng: np.random.Generator) -> np.ndarray:
    """Thresholds month by month back from today; shape (13, P, K)."""
    shape = (12, *panel.theta.shape)
    back = np.concatenate([[panel.theta], rng.normal(0, 0.5 / np.sqrt(12), shape)]).cumsum(axis=0)
    jumps = rng.random(panel.theta.shape) < 0.07
    before = np.arange(13)[:, None, None] >= rng.integers(1, 13, panel.theta.shape)
    elsewhere = np.where(before & jumps, rng.uniform(-6, 6, panel.theta.shape), back)
    return elsewhere if world.moves else np.broadcast_to(panel.theta, elsewhere.shape)


def spoken(panel: Panel, compound: int, log_level: float, rng: np.random.Generator) -> np.ndarray:
    """What everybody says to one beer; ``compound`` < 0 for one with nothing in it."""
    people = np.arange(len(panel.calls))
    words = np.full(len(people), NOTHING)
    guesses = np.where(
        rng.random(len(people)) < 0.75, rng.integers(0, COMPOUNDS, len(people)), SOMETHING
    )
    is_guess = rng.random(len(people)) < panel.calls
    words[is_guess] = guesses[is_guess]
    if compound < 0:
        return words
    own = panel.theta[:, compound] + DEFAULT.naming_shift
    clear = clearness(np.ones(1), np.zeros(1))[0, 0] * 2 ** (
        panel.slope[:, compound] * (log_level - own)
    )
    alarm = DEFAULT.criterion
    seen = (1 - DEFAULT.lapse) * (ndtr(np.minimum(clear, 12) + ndtri(alarm)) - alarm) / (1 - alarm)
    perceives = rng.random(len(people)) < seen
    wrong = np.where(rng.random(len(people)) < 0.6, panel.partner[:, compound],
                     (compound + rng.integers(1, COMPOUNDS, len(people))) % COMPOUNDS)  # fmt: skip
    wrong = np.where(rng.random(len(people)) < 0.25, SOMETHING, wrong)
    names_it = rng.random(len(people)) < panel.accuracy[:, compound]
    return np.where(perceives, np.where(names_it, compound, wrong), words)


def trained(panel: Panel, world: World, rng: np.random.Generator) -> Noses:
    """What the record says of the panel after a year of training."""
    people = len(panel.calls)
    then = moved(panel, world, rng)
    rows, wrong = [], np.zeros((people, COMPOUNDS, COMPOUNDS))
    for compound in range(COMPOUNDS):
        for _ in range(world.glasses):
            level = np.log2(3) + rng.normal(0, DEFAULT.dose_sd)
            ago = int(rng.integers(1, 365))
            day, past = TODAY - ago, replace(panel, theta=then[round(ago / 30.5)])
            for person, word in enumerate(spoken(past, compound, level, rng)):
                rows.append((day, person, compound, _outcome(word, compound)))
                if word >= 0 and word != compound:
                    wrong[person, compound, word] += 1
    day, person, compound, outcome = (np.array(column) for column in zip(*rows, strict=True))
    level = np.full(len(rows), 3.0)
    glasses = Glasses(
        day, person, compound, 0 * day, np.full(len(rows), NAMING), level, 0 * level, outcome
    )
    said = np.stack([spoken(panel, -1, 0, rng) for _ in range(12)])
    blanks = Blanks(
        np.full(said.size, TODAY - 100), np.tile(np.arange(people), 12), (said != NOTHING).ravel()
    )
    named = np.bincount(said[said >= 0], minlength=COMPOUNDS) + 1.0
    guessed = named / ((said != NOTHING).sum() + 12.0)
    abilities = read_abilities(
        glasses, blanks, (people, COMPOUNDS, 1), TODAY, 0, pooled=world.pooled
    )
    usual = wrong.sum(axis=0) + 1 / (COMPOUNDS - 1)
    usual /= usual.sum(axis=1, keepdims=True)
    usual[np.arange(COMPOUNDS), np.arange(COMPOUNDS)] = 0
    misnamed = (wrong + usual) / (wrong.sum(axis=2, keepdims=True) + 1)
    names = tuple(f"c{k}" for k in range(COMPOUNDS))
    return Noses(tuple(map(str, range(people))), names, abilities, guessed, misnamed)


def _outcome(word: int, compound: int) -> int:
    if word == compound:
        return Outcome.RIGHT
    return {NOTHING: Outcome.NONE, SOMETHING: Outcome.OPEN}.get(int(word), Outcome.WRONG)


def simulated(world: World, panels: int, beers: int, seed: int) -> Told:
    """Weigh so many beers by so many panels."""
    rng, told = np.random.default_rng(seed), Told()
    shares = np.full(COMPOUNDS, FAULTY / COMPOUNDS)
    prior = Prior(shares, 0.02)
    for _ in range(panels):
        panel = drawn_panel(rng)
        noses = trained(panel, world, rng)
        for _ in range(beers):
            compound = int(rng.integers(COMPOUNDS)) if rng.random() < FAULTY else -1
            level = np.log2(rng.choice(LEVELS, p=LEVEL_SHARES)) + rng.uniform(-0.25, 0.25)
            words = spoken(panel, compound, level, rng)
            compound, words = _disturbed(world, compound, words, rng)
            if np.all(words == NOTHING):
                continue
            chances = chances_after(likelihoods(noses, words), prior)
            leading = int(chances[1:-1].argmax())
            truth = {-1: 0, -2: COMPOUNDS + 1}.get(compound, compound + 1)
            told.given.append(chances[leading + 1])
            told.right.append(compound == leading)
            told.loss.append(-np.log(max(chances[truth], 1e-12)))
    return told


def known_exactly(panels: int, beers: int, seed: int) -> Told:
    """Weigh beers by panels of whom everything is known: the weighing against its own world."""
    rng, told = np.random.default_rng(seed), Told()
    prior = Prior(np.full(COMPOUNDS, FAULTY / COMPOUNDS), 0.0)
    for _ in range(panels):
        panel, noses = _known(drawn_panel(rng))
        for _ in range(beers):
            compound = int(rng.integers(COMPOUNDS)) if rng.random() < FAULTY else -1
            words = spoken(panel, compound, np.log2(rng.choice(LEVELS, p=LEVEL_SHARES)), rng)
            if np.all(words == NOTHING):
                continue
            chances = chances_after(likelihoods(noses, words), prior)
            leading = int(chances[1:-1].argmax())
            told.given.append(chances[leading + 1])
            told.right.append(compound == leading)
    return told


def _known(panel: Panel) -> tuple[Panel, Noses]:
    theta = build_grid(DEFAULT).theta
    place = np.abs(np.clip(panel.theta, -6, 6)[..., None] - theta).argmin(axis=-1)
    panel = replace(panel, theta=theta[place], slope=np.ones_like(panel.slope))
    mass = np.zeros((*place.shape, theta.size))
    np.put_along_axis(mass, place[..., None], 1.0, axis=2)
    names = np.full((COMPOUNDS, COMPOUNDS), 0.4 / (COMPOUNDS - 1)) * (1 - np.eye(COMPOUNDS))
    misnamed = np.repeat(names[None], len(panel.calls), axis=0)
    people, compounds = np.indices(place.shape)
    misnamed[people, compounds, panel.partner] += 0.6
    accuracy = np.broadcast_to(panel.accuracy[..., None], mass.shape)
    abilities = Abilities(
        mass, accuracy, panel.theta[None], panel.accuracy[None], panel.calls, panel.calls[None],
        np.ones(place.shape, dtype=np.bool_),
    )  # fmt: skip
    labels = tuple(f"c{k}" for k in range(COMPOUNDS))
    guessed = np.full(COMPOUNDS, 0.75 / COMPOUNDS)
    return panel, Noses(
        tuple(map(str, range(len(panel.calls)))), labels, abilities, guessed, misnamed
    )


def _disturbed(world: World, compound: int, words: np.ndarray, rng: np.random.Generator):
    if world.taint and rng.random() < world.taint:
        name = int(rng.integers(COMPOUNDS))
        words = np.where(rng.random(len(words)) < 0.5, name, words)
        compound = -2 if compound < 0 else compound
    if world.copying:
        words = np.where(rng.random(len(words)) < world.copying, words[0], words)
    return compound, words


def by_decile(told: Told) -> list[tuple[float, float, int, float]]:
    """Mean chance given, share right, number and standard error, decile by decile."""
    given, right = np.array(told.given), np.array(told.right, dtype=float)
    place = np.clip((given * 10).astype(int), 0, 9)
    rows = []
    for decile in range(10):
        at = place == decile
        number = int(at.sum())
        if number == 0:
            rows.append((np.nan, np.nan, 0, np.nan))
            continue
        share = right[at].mean()
        rows.append(
            (given[at].mean(), share, number, np.sqrt(max(share * (1 - share), 1e-3) / number))
        )
    return rows


def main() -> None:
    """Print a table a world."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--world", choices=WORLDS)
    asked = parser.parse_args()
    panels, beers = (12, 250) if asked.quick else (120, 500)
    for name, world in WORLDS.items():
        if asked.world in (None, name):
            told = simulated(world, panels, beers, 8)
            print(f"{name}: {len(told.given)} calls weighed, log loss {np.mean(told.loss):.3f}")
            for given, share, number, error in by_decile(told):
                print(f"  given {given:.2f}  right {share:.2f} +- {error:.3f}  of {number}")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
