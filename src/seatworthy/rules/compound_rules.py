"""The six kinds of rule by which a compound is judged, and which glasses each looks at."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from seatworthy.rules.rule_fields import number, one_of, some_of

NAMING: Final = "naming"
FORCED: Final = ("3afc", "triangle", "duo_trio", "2afc")


@dataclass(frozen=True)
class Counted:
    """Which naming glasses count for or against a seat: levels as multiples, months back."""

    lowest_level: float = number(0.1, 100)
    highest_level: float = number(0.1, 100)
    months: int = number(1, 60)


@dataclass(frozen=True, kw_only=True)
class Glasses:
    """Which glasses a counting rule looks at; what is None is taken from ``[counted]``.

    Attributes:
        methods: Methods that count, "naming" by default.
        lowest_level: Least level that counts, a multiple.
        highest_level: Greatest level that counts.
        months: Window in months.
        last_sessions: Only the latest sessions on distinct days; None for all of the window.
    """

    methods: tuple[str, ...] = some_of(NAMING, *FORCED, default=(NAMING,))
    lowest_level: float | None = number(0.1, 100, None)
    highest_level: float | None = number(0.1, 100, None)
    months: int | None = number(1, 60, None)
    last_sessions: int | None = number(1, 100, None)


@dataclass(frozen=True)
class ChanceRule:
    """``by = "chance"``: the chance, from the estimate, that the rate asked is reached.

    Attributes:
        met_when_sure: Least chance for a met.
        glasses: Least counted glasses for a met.
        days: Least distinct days among them.
        not_met_when_below: Greatest chance for a not met.
        not_met_glasses: Least counted glasses for a not met.
        met_stands_weeks: How long a met stands from the last day it was met.
        met_ends_below: Chance under which it ends at once.
        answers: "own", or "pooled" in a rule that is only shown: colleagues' answers judge nobody.
    """

    met_when_sure: float = number(0.5, 0.999)
    glasses: int = number(1, 100)
    days: int = number(1, 50)
    not_met_when_below: float = number(0.001, 0.5)
    not_met_glasses: int = number(1, 100)
    met_stands_weeks: int = number(1, 260)
    met_ends_below: float = number(0.0, 0.99)
    answers: str = one_of("own", "pooled", default="own")


@dataclass(frozen=True, kw_only=True)
class KOfNRule(Glasses):
    """``by = "k_of_n"``: so many right of a window of so many glasses.

    Attributes:
        right: Right answers in a full window that meet it.
        of: Glasses in a window.
        leave_at: Right answers in a full window at or below which it is not met; between the two
            a standing stays what it was.
        windows: "apart": each glass in one window only, the last full window decides;
            "sliding": the latest glasses, looked at after every session.
        days: Least distinct days in the window.
    """

    right: int = number(1, 200)
    of: int = number(1, 200)
    leave_at: int = number(0, 200)
    windows: str = one_of("apart", "sliding")
    days: int = number(1, 50, 1)


@dataclass(frozen=True, kw_only=True)
class ShareRule(Glasses):
    """``by = "share"``: a share of right answers over all glasses of the window.

    Attributes:
        share: Least share right for a met.
        glasses: Least glasses for either answer.
        days: Least distinct days for either answer.
    """

    share: float = number(0.05, 1.0)
    glasses: int = number(1, 200)
    days: int = number(1, 50, 1)


@dataclass(frozen=True, kw_only=True)
class GuessingRule(Glasses):
    """``by = "guessing"``: more right than guessing would give, for forced choices.

    Attributes:
        improbable: Greatest chance that guessing alone does as well.
        glasses: Least sets for either answer.
        days: Least distinct days for either answer.
    """

    methods: tuple[str, ...] = some_of(*FORCED, default=FORCED)
    improbable: float = number(0.0001, 0.2)
    glasses: int = number(1, 200)
    days: int = number(1, 50, 1)


@dataclass(frozen=True, kw_only=True)
class SequentialRule(Glasses):
    """``by = "sequential"``: Wald's two lines: met, not met, or go on.

    Attributes:
        poor: Rate of right answers that should not pass.
        good: Rate that should pass.
        wrongly_met: Chance of passing somebody poor.
        wrongly_not_met: Chance of failing somebody good.
    """

    poor: float = number(0.01, 0.98)
    good: float = number(0.02, 0.99)
    wrongly_met: float = number(0.001, 0.4)
    wrongly_not_met: float = number(0.001, 0.4)


@dataclass(frozen=True)
class ThresholdRule:
    """``by = "threshold"``: own threshold estimates in a band, and their spread.

    The estimates are best-estimate thresholds of ascending forced-choice series, one a day.

    Attributes:
        lowest: Least geometric mean, a multiple of the working threshold.
        highest: Greatest geometric mean.
        spread_at_most: Greatest antilog of the SD (n - 1) of the log10 estimates.
        estimates: Least number of estimates for either answer.
        days: Least distinct days for either answer.
        last_estimates: Only so many of the latest count.
        months: Window in months.
    """

    lowest: float = number(0.01, 100)
    highest: float = number(0.01, 100)
    spread_at_most: float = number(1.01, 100)
    estimates: int = number(2, 100)
    days: int = number(1, 50)
    last_estimates: int = number(2, 100)
    months: int = number(1, 60)


CompoundRule = ChanceRule | KOfNRule | ShareRule | GuessingRule | SequentialRule | ThresholdRule
COMPOUND_KINDS: Final[Mapping[str, type]] = {
    "chance": ChanceRule,
    "k_of_n": KOfNRule,
    "share": ShareRule,
    "guessing": GuessingRule,
    "sequential": SequentialRule,
    "threshold": ThresholdRule,
}


@dataclass(frozen=True)
class AlsoRule:
    """A further rule of a kind that judges compounds.

    Attributes:
        name: What it is called on screens.
        rule: The rule itself.
        over: "each" compound by itself, or all of them "together" as if they were one.
        compounds: Which; () for the critical ones of the beer family.
        met_in: In how many of them it must be met: 0 for all, else that number (1 is any).
        asked_for: Whether a seat asks for it; if not it is only shown.
    """

    name: str
    rule: CompoundRule
    over: str
    compounds: tuple[str, ...]
    met_in: int
    asked_for: bool
