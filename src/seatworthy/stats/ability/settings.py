"""Every number of the ability model that somebody may want to change, with its origin."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Settings:
    """Numbers of the ability model; override some with ``dataclasses.replace``.

    "Chosen on simulated panels" means: settled by simulating panels of known ability (calibration
    of rates and thresholds, 4 to 24 answers a cell), not taken from a publication.
    Thresholds and spreads are log2 multiples of the working threshold.

    Attributes:
        reference_level: Multiple at which the rate of right names is meant. Trade practice.
        p_min: Rate of right names that is good enough, a fraction. Trade practice.
        insensitive_level: Own threshold above this multiple = does not smell it. Trade practice.
        interval: Least coverage of all intervals, a fraction. Common practice.
        theta_limit: The threshold is sought from -limit to +limit (1/64 to 64 times).
        theta_step: Width of the steps between; halving it moves chances by less than .02.
        naming_bins: Bins of naming accuracy, narrower towards 1; likewise.
        naming_bin_power: How much narrower (1 = equal). Chosen so that few bins suffice.
        naming_prior: Beta parameters of the chance to name what was perceived; mean .85.
            Chosen on simulated panels.
        naming_shift: To name takes so much more than to detect. Chosen on simulated panels.
        lapse: Share of glasses in which attention fails. Common in psychometrics
            (Wichmann & Hill 2001, Percept. Psychophys. 63:1293-1313).
        criterion: False-alarm rate that sets everybody's criterion in the naming link.
        names: Names on a ballot; a blind guess hits one of them. Assumed.
        dose_sd: Error of one preparation, about 20 %. Assumed.
        dose_nodes: Quadrature nodes for that error.
        call_nodes: False-call rates for which likelihoods exist; a person gets the nearest.
        call_prior: Beta parameters of a person's false-call rate; mean .10.
        drift_sd: Random walk of the threshold per square root of a year, three settings.
        drift_jump: Chance a year that the threshold is anywhere else, by setting.
        drift_weight: Weight of the settings, in every cell alike. Chosen on simulated panels.
        family_gap_sd: One extra step between beer families. Chosen on simulated panels whose
            families truly lay 0, .5 or 1 apart.
        own_sd: Spread of the prior about the working threshold for judging on own answers alone.
            Chosen so that the prior alone decides nothing.
        pooling_doubt: Part of a person's prior that does not listen to colleagues, who may all have
            changed alike. Chosen on simulated panels.
        panel_mean_sd: Spread of a panel's mean threshold about the working threshold.
        panel_spread_median: Median spread between panellists.
        panel_spread_log_sd: Uncertainty of that spread, sd of its natural logarithm.
        nontaster_share: Share of people who lack a compound. Assumed.
        nontaster_shift: Their thresholds lie so much higher,
        nontaster_sd: with this spread.
        slope_log_sd: Slopes between people, sd of the natural logarithm; widens thresholds. Chosen
            on simulated panels.
    """

    reference_level: float = 3.0
    p_min: float = 0.70
    insensitive_level: float = 3.0
    interval: float = 0.90
    theta_limit: float = 6.0
    theta_step: float = 0.25
    naming_bins: int = 12
    naming_bin_power: float = 1.7
    naming_prior: tuple[float, float] = (3.5, 0.6)
    naming_shift: float = 0.25
    lapse: float = 0.02
    criterion: float = 0.05
    names: int = 12
    dose_sd: float = 0.25
    dose_nodes: int = 7
    call_nodes: tuple[float, ...] = (0.01, 0.03, 0.06, 0.10, 0.15, 0.20, 0.30, 0.45)
    call_prior: tuple[float, float] = (1.0, 9.0)
    drift_sd: tuple[float, ...] = (0.1, 0.5, 1.0)
    drift_jump: tuple[float, ...] = (0.05, 0.08, 0.08)
    drift_weight: tuple[float, ...] = (0.2, 0.4, 0.4)
    family_gap_sd: float = 0.5
    own_sd: float = 2.0
    pooling_doubt: float = 0.5
    panel_mean_sd: float = 1.0
    panel_spread_median: float = 0.8
    panel_spread_log_sd: float = 0.5
    nontaster_share: float = 0.08
    nontaster_shift: float = 4.0
    nontaster_sd: float = 1.5
    slope_log_sd: float = 0.35


MODEL_VERSION: Final = "ability 1"  # a new one whenever a number above or what it means changes

DEFAULT: Final = Settings()
