"""How often the alarm for a loss in a whole person is false, and how soon it sees a loss.

Invented tasters whose truth the model does not know: own slopes, tasters who misname or do not
taste a compound, thresholds that drift back and forth, days that are better or worse for everything
a person smells, colds that pass within a session. Ten compounds, six spiked glasses and two blanks
a session, half a year of history, then half a year in which the alarm is looked at after every
session. A loss of 2.5 log2 starts with the first session of that half-year and stays.

    python tests/bench/bench_alarm.py [--tasters 6] [--seed 1]
"""

import argparse
from dataclasses import dataclass

import numpy as np
from scipy.special import expit, logit, ndtr, ndtri

from seatworthy.stats.ability.alarm import ALARM_CHANCE, LOSS_PRIOR, Loss, find_loss
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Blanks, Glasses, Outcome

COMPOUNDS, GLASSES, BLANKS = 10, 6, 2
HALF_YEAR, YEAR = 182, 365.25
SHIFT, LEVEL, NAMES = 2.5, 3.0, 12
LIMITS = (0.5, 0.7, 0.8, 0.9, 0.95, 0.98)
MET, NO_MORE = 0.85, 0.5  # chances at which one compound counts as met, and as met no more
SHAPE = (1, COMPOUNDS, 1)


@dataclass(frozen=True)
class World:
    """One taster's circumstances.

    Attributes:
        name: How the table calls it.
        gap: Days between sessions.
        share_lost: Of the compounds, 0 = no loss.
        day_sd: Log2 by which a day is better or worse for all compounds.
        cold: Chance that a cold of `SHIFT` spoils a session and passes.
        drift_sd: How far a threshold wanders from its middle, which takes about two years.
        middle: Mean threshold, log2 multiples.
    """

    name: str
    gap: int
    share_lost: float = 0.0
    day_sd: float = 0.25
    cold: float = 0.0
    drift_sd: float = 0.4
    middle: float = -0.2


STEADY = (
    World("weekly", 7),
    World("weekly, unsteady days and passing colds", 7, day_sd=0.5, cold=0.04),
    World("weekly, twice the drift", 7, drift_sd=0.8),
    World("weekly, poor at everything", 7, middle=2.0),
    World("fortnightly", 14),
    World("fortnightly, unsteady days and passing colds", 14, day_sd=0.5, cold=0.04),
)
LOST = (
    World("weekly, half", 7, 0.5),
    World("weekly, all", 7, 1.0),
    World("fortnightly, half", 14, 0.5),
    World("fortnightly, all", 14, 1.0),
)


@dataclass(frozen=True)
class Tasted:
    """One taster's answers: T days, the last half of them watched."""

    glasses: Glasses
    blanks: Blanks
    days: np.ndarray
    watched: np.ndarray
    is_lost: np.ndarray


def taste(world: World, seed: int) -> Tasted:
    """Let one invented taster taste for a year."""
    draw = np.random.default_rng(seed)
    days = 20_000 + np.arange(0, 2 * HALF_YEAR, world.gap)
    is_lost = draw.permutation(COMPOUNDS) < round(world.share_lost * COMPOUNDS)
    after = np.arange(days.size) >= days.size // 2
    threshold = thresholds(world, days, draw) + SHIFT * np.outer(after, is_lost)
    poured = np.array([draw.permutation(COMPOUNDS)[:GLASSES] for _ in days])
    calls = draw.beta(2, 18)
    outcome = answer(np.take_along_axis(threshold, poured, axis=1), poured, calls, draw)
    day, zero = np.repeat(days, GLASSES), np.zeros(poured.size, dtype=np.int64)
    level = np.full(poured.size, LEVEL)
    glasses = Glasses(
        day, zero, poured.ravel(), zero, np.full(poured.size, "naming"), level, 0 * level, outcome
    )
    blank_day = np.repeat(days, BLANKS)
    is_call = draw.random(blank_day.size) < calls
    return Tasted(
        glasses, Blanks(blank_day, np.zeros_like(blank_day), is_call), days, days[after], is_lost
    )


def thresholds(world: World, days: np.ndarray, draw: np.random.Generator) -> np.ndarray:
    """Thresholds before any loss, log2 multiples; shape (T, K)."""
    middle = draw.normal(world.middle, 0.4) + draw.normal(0, 1.0, COMPOUNDS)
    middle += 4 * (draw.random(COMPOUNDS) < 0.05)
    kept = np.exp(-world.gap / YEAR / 2)
    drift = [draw.normal(0, world.drift_sd, COMPOUNDS)]
    for _ in days[1:]:
        step = draw.normal(0, world.drift_sd * np.sqrt(1 - kept**2), COMPOUNDS)
        drift.append(kept * drift[-1] + step)
    shared = draw.normal(0, world.day_sd, days.size)
    shared += SHIFT * (draw.random(days.size) < world.cold)
    return middle + np.array(drift) + shared[:, None]


def answer(
    threshold: np.ndarray, poured: np.ndarray, calls: float, draw: np.random.Generator
) -> np.ndarray:
    """Outcomes of the glasses; shape (T * 6,)."""
    misnames = draw.random(COMPOUNDS) < 0.1
    accuracy = np.where(misnames, draw.uniform(0.1, 0.7, COMPOUNDS), draw.beta(9, 1, COMPOUNDS))
    slope = np.exp(draw.normal(0, 0.25))
    above = np.log2(LEVEL) + draw.normal(0, 0.25, threshold.shape) - threshold - 0.25
    clear = 1.1159 * np.exp2(np.minimum(slope * above, 3.4))
    seen = 0.98 * (ndtr(clear + ndtri(calls)) - calls) / (1 - calls)
    right = accuracy[poured] * seen + (1 - seen) * calls / NAMES
    some_name = seen + (1 - seen) * calls
    chance = draw.random(seen.shape)
    outcome = np.where(chance < right, Outcome.RIGHT, Outcome.WRONG)
    return np.where(chance < some_name, outcome, Outcome.NONE).ravel()


def look(tasted: Tasted, sessions: int) -> tuple[np.ndarray, np.ndarray]:
    """Chances of a loss after each of the first watched sessions: (L,), one compound alone (L, K)."""
    found: list[Loss] = [
        find_loss(tasted.glasses, tasted.blanks, SHAPE, 0, int(day))
        for day in tasted.watched[:sessions]
    ]
    alone = [
        expit(np.log(np.exp(np.nan_to_num(one.log_factors)).mean(axis=1)) + logit(LOSS_PRIOR))
        for one in found
    ]
    return np.array([one.chance for one in found]), np.array(alone)


def sessions_until(passed: np.ndarray) -> np.ndarray:
    """Sessions until something first holds, inf where it does not; (N, L) to (N,)."""
    return np.where(passed.any(axis=1), passed.argmax(axis=1) + 1.0, np.inf)


def no_more_met(tasted: Tasted) -> np.ndarray:
    """Watched sessions until each lost compound that was met is met no more; inf = never."""
    seen = follow(tasted.glasses, tasted.blanks, SHAPE, int(tasted.days[-1]))
    waits = []
    for compound in np.flatnonzero(tasted.is_lost):
        own = seen.cell_compound == compound
        days, chance = seen.days[own], seen.chance_met_own[own]
        since = days >= tasted.watched[0]
        if since.all() or chance[~since][-1] < MET:
            continue
        fallen = days[since][chance[since] < NO_MORE]
        waits.append((tasted.watched <= fallen[0]).sum() if fallen.size else np.inf)
    return np.array(waits)


def print_false_alarms(tasters: int, seed: int) -> None:
    """Share of tasters without a loss who are called at least once in half a year."""
    print(f"False alarms a person and half-year, {tasters} tasters a line")
    print(f"{'alarm from a chance of':48}" + "".join(f"{limit:7.2f}" for limit in LIMITS))
    for world in STEADY:
        highest = [look(taste(world, seed + one), 10**6)[0].max() for one in range(tasters)]
        shares = [(np.array(highest) >= limit).mean() for limit in LIMITS]
        print(f"{world.name:48}" + "".join(f"{share:7.3f}" for share in shares), flush=True)


def print_waits(tasters: int, seed: int) -> None:
    """Sessions until a loss of 2.5 log2 is seen."""
    print(f"\nSessions until a loss is seen: half | four fifths of {tasters} tasters")
    names = "".join(f"{limit:>11.2f}" for limit in LIMITS)
    print(
        f"{'alarm from a chance of':24}{names}   one compound alone at {ALARM_CHANCE}, met no more"
    )
    for world in LOST:
        sessions = HALF_YEAR // world.gap
        chances, alone, no_more = [], [], []
        for one in range(tasters):
            tasted = taste(world, 10_000 + seed + one)
            together, each = look(tasted, sessions)
            chances.append(together)
            alone.extend(each[:, tasted.is_lost].T)
            no_more.extend(no_more_met(tasted))
        waits = [sessions_until(np.array(chances) >= limit) for limit in LIMITS]
        waits += [sessions_until(np.array(alone) >= ALARM_CHANCE), np.array(no_more)]
        print(f"{world.name:24}" + "".join(f"{spread(one):>11}" for one in waits), flush=True)


def spread(waits: np.ndarray) -> str:
    """Median and 80 % point of some waits."""
    half, most = np.quantile(waits, [0.5, 0.8], method="higher")
    return f"{half:.0f} | {most:.0f}"


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--tasters", type=int, default=6)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    print_false_alarms(asked.tasters, asked.seed)
    print_waits(asked.tasters, asked.seed)


if __name__ == "__main__":
    main()
