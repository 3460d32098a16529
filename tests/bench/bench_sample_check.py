"""How often a good sample is suspected and a slip found, by the number of tasters.

Invented panels whose truth the model does not know: people with slopes of their own (log sd .25),
5 % without the compound, 5 % who misname, false-call rates about .08 that also set the criterion,
six answers a person and compound before, dosing errors of .25 log2 shared by all who drink the
sample, guessed names unevenly popular. One part of the world stands for each slip.

    python tests/bench/bench_sample_check.py [worlds]
"""

import sys
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr, ndtri

from seatworthy.stats.ability.blank_check import PouredBlanks, check_blanks
from seatworthy.stats.ability.glasses import NOTHING, UNNAMED, Blanks, Glasses
from seatworthy.stats.ability.sample_check import check_samples

COMPOUNDS, DAYS, EACH, LEVEL = 10, 6, 4, 3.0
FIRST, LAST = 19_000, 19_180
TRUTHS = {"as stated": 1.0, "half": 0.5, "none": 0.0, "twice": 2.0}
IN_THE_BLANK = {"nothing": 0.0, "carried over, 1x": 1.0, "dosed, 3x": 3.0, "unknown taint": np.nan}
TASTERS = (3, 4, 6, 8, 12)


@dataclass(frozen=True)
class World:
    """A panel's truth; cells have shape (people, compounds)."""

    threshold: np.ndarray
    slope: np.ndarray
    accuracy: np.ndarray
    calls: np.ndarray
    popularity: np.ndarray
    draw: np.random.Generator


def invent(people: int, seed: int) -> World:
    """People who taste rather well, as after some training."""
    draw = np.random.default_rng(seed)
    cells = (people, COMPOUNDS)
    threshold = draw.normal(-0.7, 0.7, (1, COMPOUNDS)) + draw.normal(0, 0.4, (people, 1))
    threshold = threshold + draw.normal(0, 0.7, cells)
    threshold = threshold + (draw.random(cells) < 0.05) * draw.uniform(2.5, 5, cells)
    misnames = draw.random(cells) < 0.05
    accuracy = np.where(misnames, draw.uniform(0.1, 0.7, cells), draw.beta(18, 2, cells))
    popularity = 1 / np.arange(1, 13)  # twelve names on the ballot, two of them never served
    return World(
        threshold=threshold,
        slope=np.exp(draw.normal(0, 0.25, cells)),
        accuracy=accuracy,
        calls=draw.beta(1.5, 18, people),
        popularity=popularity / popularity.sum(),
        draw=draw,
    )


def say(world: World, compound: int, level: float) -> np.ndarray:
    """What everybody says to one glass: a place, NOTHING or UNNAMED; nan = an unknown taint."""
    draw, people = world.draw, world.calls.size
    guess = draw.choice(12, people, p=world.popularity)
    guess = np.where(guess < COMPOUNDS, guess, UNNAMED)
    called = np.where(draw.random(people) < world.calls, guess, NOTHING)
    if np.isnan(level):
        return np.where(draw.random(people) < 0.5, guess, called)
    distance = np.log2(max(level, 1e-9)) - world.threshold[:, compound] - 0.25
    clear = np.minimum(1.1159 * 2.0 ** (world.slope[:, compound] * distance), 12)
    alarm = world.calls
    seen = 0.98 * (ndtr(clear + ndtri(alarm)) - alarm) / (1 - alarm)
    named = draw.random(people) < world.accuracy[:, compound]
    other = (compound + 1 + draw.integers(COMPOUNDS - 1, size=people)) % COMPOUNDS
    perceived = np.where(named, compound, other)
    return np.where(draw.random(people) < seen, perceived, called)


def dosed(world: World, level: float) -> float:
    """What really went in."""
    return level * 2 ** world.draw.normal(0, 0.25)


def taste(world: World) -> tuple[dict, dict]:
    """Log factors of the last day's samples and blanks, by what was really in them."""
    glasses, blanks = look_back(world)
    truths = [name for name in TRUTHS for _ in range(COMPOUNDS * EACH)]
    for sample, name in enumerate(truths):
        glasses += pour(world, LAST, sample % COMPOUNDS, TRUTHS[name], sample)
    contents, poured = [name for name in IN_THE_BLANK for _ in range(COMPOUNDS * EACH)], []
    for sample, name in enumerate(contents):
        level = IN_THE_BLANK[name]
        said = say(world, sample % COMPOUNDS, dosed(world, level) if level > 0 else level)
        poured += [(LAST, who, 0, sample, one) for who, one in enumerate(said)]
    served, shape = serve(glasses), (world.calls.size, COMPOUNDS, 1)
    seen = Blanks(*columns(blanks))
    check = check_samples(served, seen, columns(glasses)[3], shape)
    found = check_blanks(served, seen, PouredBlanks(*columns(poured)), shape)
    return (
        by_truth(truths, check.log_not_dosed, check.log_half_dosed, check.log_twice_dosed),
        by_truth(contents, found.log_spiked, found.log_tainted, found.log_something),
    )


def look_back(world: World) -> tuple[list, list]:
    """Rows of the good samples and of the blanks before the last day."""
    glasses, blanks = [], []
    for day in range(FIRST, LAST, (LAST - FIRST) // DAYS):
        for compound in range(COMPOUNDS):
            glasses += pour(world, day, compound, 1.0, -1)
        for _ in "ab":
            blanks += [(day, who, one != NOTHING) for who, one in enumerate(say(world, 0, 0.0))]
    return glasses, blanks


def pour(world: World, day: int, compound: int, part: float, sample: int) -> list:
    """Rows of day, person, compound, sample, outcome of one sample at the reference level."""
    said = say(world, compound, part * dosed(world, LEVEL))
    outcome = np.where(said == compound, 0, np.where(said == NOTHING, 2, 1))
    return [(day, who, compound, sample, one) for who, one in enumerate(outcome)]


def serve(rows: list) -> Glasses:
    """Rows of `pour` as naming glasses."""
    day, person, compound, _, outcome = columns(rows)
    method, level = np.full(day.shape, "naming"), np.full(day.shape, LEVEL)
    return Glasses(day, person, compound, 0 * day, method, level, 0 * level, outcome)


def columns(rows: list) -> list[np.ndarray]:
    """Rows as one array a column."""
    return [np.array(column) for column in zip(*rows, strict=True)]


def by_truth(truths: list[str], *factors: np.ndarray) -> dict[str, np.ndarray]:
    """Log factors, shape (factors, samples), by what was really in the samples."""
    return {name: np.stack(factors)[:, np.array(truths) == name] for name in dict.fromkeys(truths)}


def gather(people: int, worlds: int) -> tuple[dict, dict]:
    """Log factors of many worlds side by side."""
    parts = [taste(invent(people, 1000 * people + seed)) for seed in range(worlds)]
    return tuple(
        {name: np.concatenate([part[side][name] for part in parts], axis=1) for name in names}
        for side, names in enumerate((TRUTHS, IN_THE_BLANK))
    )


def add_up(found: dict[int, dict]) -> dict[int, dict]:
    """Sums over the samples of one compound and world, as if all came from one stock."""
    return {
        people: {
            name: factors.reshape(len(factors), -1, EACH, COMPOUNDS).sum(axis=2)
            for name, factors in one.items()
        }
        for people, one in found.items()
    }


def print_samples(title: str, row: int, limits: tuple[float, ...], found: dict) -> None:
    """Shares above each limit, one line a number of tasters."""
    print(f"\n{title}; share of samples above the limit, by what was really in them")
    names = list(next(iter(found.values())))
    print(f"{'tasters':8}{'limit':>6}" + "".join(f"{name:>18}" for name in names))
    for people, by_truth in found.items():
        for limit in limits:
            shares = "".join(f"{np.mean(by_truth[n][row] > limit):18.3f}" for n in names)
            print(f"{people:<8}{limit:6.1f}{shares}")


def main() -> None:
    """Print the tables."""
    worlds = int(sys.argv[1]) if len(sys.argv) > 1 else 12
    both = {people: gather(people, worlds) for people in TASTERS}
    spiked = {people: one for people, (one, _) in both.items()}
    blank = {people: one for people, (_, one) in both.items()}
    print(f"{worlds * COMPOUNDS * EACH} samples of each kind; standard error of .01: "
          f"{np.sqrt(0.01 * 0.99 / (worlds * COMPOUNDS * EACH)):.4f}")  # fmt: skip
    print_samples("log not dosed : as stated", 0, (1, 2, 3), spiked)
    print_samples("log half : as stated", 1, (1, 1.5, 2, 3), spiked)
    print_samples("log twice : as stated", 2, (0.5, 1, 1.5, 2), spiked)
    stock = f"summed over {EACH} samples of one stock"
    print_samples(f"log half : as stated, {stock}", 1, (2, 3, 4), add_up(spiked))
    print_samples(f"log twice : as stated, {stock}", 2, (1, 2, 3), add_up(spiked))
    print_samples("log something : nothing", 2, (0, 1, 2, 3), blank)


if __name__ == "__main__":
    main()
