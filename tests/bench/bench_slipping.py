"""How often a good compound is said to slip for all, and how often a weak stock is found.

Invented panels of `worlds.py`, whose people drift, misname, stay away and now and then lose what they
had. Every month of the last year each compound is looked at over the three months before. Then the
right answers of one compound are turned into misses, as a weak stock would, for everybody or for one
person, by the share named.

    python tests/bench/bench_slipping.py [panels]
"""

import sys

import numpy as np
from world_scenarios import SCENARIOS, Size
from worlds import World, invent

from seatworthy.decide.slipping import Shortfall, shortfall
from seatworthy.stats.ability.foretold import foretell
from seatworthy.stats.ability.glasses import NAMING, Glasses, Outcome

WINDOW, MONTH, LOOKS = 91, 30, 12
LOST = (0.25, 0.5, 0.75)
ASKED = (("base", 8, 24), ("base", 4, 24), ("base", 12, 24), ("restless", 8, 24), ("dosing", 8, 24))


def looks(world: World, number: int, lost: float, who: int | None, draw: np.random.Generator):
    """Yield whether one compound is spoiled, and its shortfall, of one panel at its looks."""
    glasses, blanks = world.panel(number)
    spoiled = int(draw.integers(world.shape[2])) if lost else -1
    if lost:
        glasses = _spoiled(glasses, spoiled, world.today - WINDOW, lost, who, draw)
    chance = foretell(glasses, blanks, world.shape[1:], world.today - WINDOW - MONTH * LOOKS)
    counted = (glasses.method == NAMING) & (glasses.level >= 2) & (glasses.level <= 4)
    sample = glasses.day * 1000 + glasses.compound
    for back in range(1 if lost else LOOKS):
        last = world.today - back * MONTH
        recent = counted & (glasses.day > last - WINDOW) & (glasses.day <= last)
        for compound in range(-1, world.shape[2]):
            at = recent & ((glasses.compound == compound) | (compound < 0))
            right = glasses.outcome[at] == Outcome.RIGHT
            found = shortfall(glasses.person[at], sample[at], right, chance[at])
            yield compound, compound == spoiled, found


def _spoiled(
    glasses: Glasses, compound: int, since: int, lost: float, who: int | None, draw
) -> Glasses:
    at = (glasses.compound == compound) & (glasses.day > since)
    if who is not None:
        at &= glasses.person == who
    at &= (glasses.outcome == Outcome.RIGHT) & (draw.random(at.size) < lost)
    outcome = np.where(at, int(Outcome.NONE), glasses.outcome)
    return Glasses(**{**vars(glasses), "outcome": outcome})


def main(panels: int) -> None:
    """Print the tables."""
    worlds = {one.name: one for one in SCENARIOS}
    for name, people, answers in ASKED:
        world = invent(worlds[name], Size(panels, people, 10, answers), 71 + people)
        _print(world, f"{name}, {people} people, {answers} answers a cell")


def _print(world: World, title: str) -> None:
    draw = np.random.default_rng(5)
    good = [one for n in range(world.shape[0]) for one in looks(world, n, 0.0, None, draw)]
    own = [found for compound, _, found in good if compound >= 0 and found.glasses >= 6]
    panel = [found for compound, _, found in good if compound < 0]
    print(title, "looks", len(own), "together", _share([f.is_together for f in own]),
          "rests on one", _share([f.rests_on_one for f in own]),
          "panel worse", _share([f.moved < 0 for f in panel]),
          "better", _share([f.moved > 0 for f in panel]))  # fmt: skip
    below = np.array([f.below_without_worst for f in own])
    total = np.array([f.below for f in panel])
    print(
        "  quantiles .95 .99 .995:",
        np.nanquantile(below, [0.95, 0.99, 0.995]).round(2),
        "panel .005 .025 .975 .995:",
        np.nanquantile(total, [0.005, 0.025, 0.975, 0.995]).round(2),
    )
    for who in (None, 0):
        for lost in LOST:
            found: list[Shortfall] = []
            for n in range(world.shape[0]):
                found += [f for _, is_it, f in looks(world, n, lost, who, draw) if is_it]
            print("  lost", lost, "all" if who is None else "one person",
                  "together", _share([f.is_together for f in found]),
                  "one", _share([f.rests_on_one for f in found]),
                  "glasses", np.mean([f.glasses for f in found]).round(1))  # fmt: skip


def _share(flags: list[bool]) -> str:
    return f"{np.mean(flags):.4f}" if flags else "-"


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10)
