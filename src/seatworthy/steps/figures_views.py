"""What a record shows of somebody over all compounds, and of their intensity ratings.

Shares and chances are fractions, None or nan where nothing is known. Nobody is judged by these.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

Range = tuple[float, float]


@dataclass(frozen=True)
class DayShare:
    """One day's glasses of countable strength, and the moving average after it.

    Attributes:
        average: Exponentially weighted average of the shares named right up to that day.
        low: Lower limit within which it nearly always lies if nothing changes.
        high: Upper limit.
    """

    day: date
    named_right: int
    glasses: int
    average: float
    low: float
    high: float


@dataclass(frozen=True)
class YesNo:
    """A/not-A answers of the window: calls in spiked and in plain glasses.

    Attributes:
        d_prime: Log-linear; None without both kinds.
        criterion: Likewise; below 0 says yes readily.
    """

    hits: int
    spiked: int
    false_alarms: int
    blanks: int
    d_prime: float | None
    criterion: float | None


@dataclass(frozen=True)
class OwnHistory:
    """One panellist over all compounds and beers.

    Attributes:
        days: Oldest first.
        slope: Change of the share named right in a year, middle of all pairs of days; None with
            fewer than `own_history.FEWEST_DAYS` days.
        years: Time from the first to the last day.
        slope_range: Its 90 % interval.
        chance_falling: Chance of so low a Kendall score if nothing changed; None likewise.
        pairs: Hidden pairs of the window answered.
        same: Of these, the same answer twice.
        kappa: Cohen's kappa with its standard error; None where it says nothing.
        agreed: Pairs both named right or both not.
        expected: Of those, what their own rates would give.
        calls: Spiked glasses of countable strength in which something was called.
        spiked: Such glasses.
        false_calls: Blanks in which something was called.
        blanks: Blanks of the window.
        false_call_rate: Mean and 90 % interval; None without blanks.
        d_prime: Of calling spiked glasses against blanks, log-linear; None without both kinds.
        d_prime_range: 90 % interval for few glasses.
        criterion: Reluctance to call; below 0 calls readily.
        yes_no: A/not-A answers; None without any.
    """

    days: tuple[DayShare, ...]
    slope: float | None
    years: float
    slope_range: Range | None
    chance_falling: float | None
    pairs: int
    same: int
    kappa: Range | None
    agreed: int
    expected: float
    calls: int
    spiked: int
    false_calls: int
    blanks: int
    false_call_rate: tuple[float, float, float] | None
    d_prime: float | None
    d_prime_range: Range | None
    criterion: float | None
    yes_no: YesNo | None


@dataclass(frozen=True)
class RatingRow:
    """One panellist's intensity ratings of one compound, beside the panel's.

    Attributes:
        label: The compound; a blank that a plan had rated for it is among its samples.
        ratings: Ratings given.
        pairs: Hidden pairs rated twice.
        sd: Spread of one rating, drawn towards the panel's while pairs are few; None without an
            own pair.
        sd_range: Its 90 % interval.
        panel_sd: The panel's spread; None without pairs.
        samples: Different samples rated.
        f_ratio: Between samples against within; None where it says nothing.
        f_chance: Chance of so large a ratio if the samples were rated alike.
        repeatability_sd: s_r of the panel, after ISO 5725-2; None where not known.
        reproducibility_sd: s_R of the panel.
        correlation: Intraclass correlation (2,1) of the panellists who rated every sample.
        raters: How many these are.
    """

    label: str
    ratings: int
    pairs: int
    sd: float | None
    sd_range: Range | None
    panel_sd: float | None
    samples: int
    f_ratio: float | None
    f_chance: float | None
    repeatability_sd: float | None
    reproducibility_sd: float | None
    correlation: float | None
    raters: int


@dataclass(frozen=True)
class KnownBeerRow:
    """One beer that somebody was asked for.

    Attributes:
        label: The beer.
        standing: Key of met, not met or too little evidence, by the rule of the rulebook, or by what
            is shown without one.
        own_yes: Yes to the beer itself.
        own: Glasses of it.
        others: Yes and glasses by variant, those never poured left out.
        d_prime: Of own against all others, log-linear; None without both kinds.
        d_prime_range: 90 % interval for few glasses; None likewise.
        chance: Chance that d' is at least what the rule asks; None likewise.
        missing: What would change the standing; "" where it is met.
    """

    label: str
    standing: str
    own_yes: int
    own: int
    others: Mapping[str, tuple[int, int]]
    d_prime: float | None
    d_prime_range: Range | None
    chance: float | None
    missing: str


@dataclass(frozen=True)
class KnownBeers:
    """The beers of one panellist.

    Attributes:
        rows: By name; empty where nothing was asked.
        is_asked: Whether the rulebook has a rule on it.
        apart: The d' that `chance` is about.
        months: How far back.
    """

    rows: tuple[KnownBeerRow, ...]
    is_asked: bool
    apart: float
    months: int


@dataclass(frozen=True)
class PersonFigures:
    """What lies beside a record's compounds.

    Attributes:
        history: Over all compounds.
        ratings: Intensity ratings, by compound; empty where nobody rated.
        alarm: A sentence for the leader where the person seems to have lost sensitivity; else "".
        beers: The own beers they were asked for; None where that was not looked at.
    """

    history: OwnHistory
    ratings: tuple[RatingRow, ...]
    alarm: str
    beers: KnownBeers | None = None
