"""What the ability model says, day by day and today: arrays with their shapes."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.grid import Floats


@dataclass(frozen=True)
class Today:
    """Estimates of today: P people, K compounds, B beer families; shape (P, K, B) unless said.

    Where only some cells were asked for, one axis of N cells stands instead of these three.
    "Own" rests on the person's own answers and a wide prior, "pooled" on colleagues' answers too.
    Cells without own answers hold what the prior says, or another family's answers.

    Attributes:
        chance_met_own: Chance that the rate at the reference level is good enough.
        chance_met_pooled: The same, pooled; for information, nobody is judged by it.
        chance_insensitive_own: Chance that the threshold lies above the insensitive level.
        rate_mean: Mean rate of right names at the reference level, own.
        rate_low: Lower end of its interval, own.
        rate_high: Upper end.
        rate_histogram: Distribution of that rate over 100 bins, own; shape (P, K, B, 100).
        rate_mean_pooled: The mean rate, pooled.
        rate_low_pooled: Lower end of its interval.
        rate_high_pooled: Upper end.
        threshold_mass_own: Posterior of the threshold on the grid, not widened for slopes; shape
            (P, K, B, G).
        threshold_mean_own: Threshold, log2 multiples.
        threshold_low_own: Lower end of its interval.
        threshold_high_own: Upper end.
        threshold_mean_pooled: The same, pooled.
        threshold_low_pooled: Lower end.
        threshold_high_pooled: Upper end.
        has_glasses: Where the person's own answers exist.
    """

    chance_met_own: Floats
    chance_met_pooled: Floats
    chance_insensitive_own: Floats
    rate_mean: Floats
    rate_low: Floats
    rate_high: Floats
    rate_histogram: Floats
    rate_mean_pooled: Floats
    rate_low_pooled: Floats
    rate_high_pooled: Floats
    threshold_mass_own: Floats
    threshold_mean_own: Floats
    threshold_low_own: Floats
    threshold_high_own: Floats
    threshold_mean_pooled: Floats
    threshold_low_pooled: Floats
    threshold_high_pooled: Floats
    has_glasses: NDArray[np.bool_]


@dataclass(frozen=True)
class Followed:
    """Estimates of every day on which a cell was touched, of today and of the days to come.

    The first group has shape (Q,): one entry for each day on which a glass of a cell (person and
    compound) was answered, for each beer family in which that cell can be judged, ordered by day.
    All of them rest on own answers up to and including that day and on nothing later.

    Attributes:
        days: Days since 1970-01-01.
        cell_person: Place on the person axis.
        cell_compound: Place on the compound axis.
        cell_family: Place on the beer-family axis.
        chance_met_own: Chance that the rate at the reference level is good enough.
        chance_insensitive_own: Chance that the threshold lies above the insensitive level.
        threshold_mean: Threshold, log2 multiples.
        threshold_low: Lower end of its interval.
        threshold_high: Upper end.
        rate_mean: Mean rate of right names at the reference level.
        today: Estimates of today.
        chance_met_after: `chance_met_own` if 0 to 8 more glasses at the reference level were all
            named right today; shape (P, K, B, 9).
        chance_met_after_a_miss: The same if one more was missed besides; shape (P, K, B, 9).
        chance_met_outlook: `chance_met_own` on the days asked for if nothing more is poured;
            shape (P, K, B, days).
        panel_threshold: The panel's mean threshold, log2 multiples, pooled; shape (K, B).
        panel_threshold_low: Lower end of its interval; shape (K, B).
        panel_threshold_high: Upper end; shape (K, B).
    """

    days: NDArray[np.int64]
    cell_person: NDArray[np.intp]
    cell_compound: NDArray[np.intp]
    cell_family: NDArray[np.intp]
    chance_met_own: Floats
    chance_insensitive_own: Floats
    threshold_mean: Floats
    threshold_low: Floats
    threshold_high: Floats
    rate_mean: Floats
    today: Today
    chance_met_after: Floats
    chance_met_after_a_miss: Floats
    chance_met_outlook: Floats
    panel_threshold: Floats
    panel_threshold_low: Floats
    panel_threshold_high: Floats
