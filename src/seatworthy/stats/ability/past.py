"""Reads what was known at the end of every day on which glasses were answered."""

import numpy as np

from seatworthy.stats.ability.cells import Places
from seatworthy.stats.ability.history import History
from seatworthy.stats.ability.own import read_own
from seatworthy.stats.ability.reading import read_thresholds
from seatworthy.stats.ability.today import Named


def walk_through(history: History) -> Named:
    """Absorb day by day and read every cell touched, for every beer family.

    Returns:
        The first group of `Followed` by name; shape (Q,).
    """
    nobody = np.empty(0, dtype=np.intp)
    days = [_read(history, nobody, nobody, 0)]  # without any answer the arrays are empty
    for day in history.days.tolist():
        history.absorb(day)
        days.append(_read(history, *history.touched(day), day))
    return {name: np.concatenate([one[name] for one in days]) for name in days[0]}


def _read(history: History, person: Places, compound: Places, day: int) -> Named:
    families, days = np.arange(history.shape[2]), np.full(person.shape, day)
    evidence = history.evidence(person, compound, days, families)
    cells = evidence.reshape(person.size * families.size, *evidence.shape[2:])
    call_node = np.repeat(history.call_node_on(person, days), families.size)
    own = read_own(cells, call_node, history.settings)
    thresholds = read_thresholds(own.threshold, history.settings)
    return {
        "days": np.repeat(days, families.size),
        "cell_person": np.repeat(person, families.size),
        "cell_compound": np.repeat(compound, families.size),
        "cell_family": np.tile(families, person.size),
        "chance_met_own": own.chance_met,
        "chance_insensitive_own": thresholds.chance_insensitive,
        "threshold_mean": thresholds.mean,
        "threshold_low": thresholds.low,
        "threshold_high": thresholds.high,
        "rate_mean": own.rate_mean,
    }
