"""One line of the calibration table: figures of many cells, as text and as Markdown."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from calibration_estimates import Estimates, Flags, Floats, Said, Whole
from calibration_figures import (
    GOOD,
    INTERVAL,
    POOR,
    Share,
    Verdicts,
    by_bare_rate,
    by_exact,
    by_jeffreys,
    by_model,
    covers,
    share,
    typical_error,
)

from seatworthy.stats.proportions import Interval, exact_interval, jeffreys_interval

KINDS: Final[dict[str, Callable[[Estimates], Flags]]] = {
    "ordinary": lambda cells: ~(cells.misnames | cells.cannot_taste | cells.is_lost),
    "misnaming": lambda cells: cells.misnames & ~(cells.cannot_taste | cells.is_lost),
    "non-taster": lambda cells: cells.cannot_taste,
    "sudden loss": lambda cells: cells.is_lost & ~cells.cannot_taste,
}


@dataclass(frozen=True)
class Covered:
    """How often intervals hold the truth.

    Attributes:
        rate: The rate of right names at the reference level.
        threshold: The threshold.
    """

    rate: Share
    threshold: Share


@dataclass(frozen=True)
class Judged:
    """What a rule's verdicts are worth.

    Attributes:
        wrongly_met: Met, of the cells truly below the rate.
        wrongly_not: Not met, of the cells truly above.
        undecided: Neither, of all cells.
        bad: Truly below the rate, of the met.
        poor: Truly below 60 %, of the met.
    """

    wrongly_met: Share
    wrongly_not: Share
    undecided: Share
    bad: Share
    poor: Share


@dataclass(frozen=True)
class Line:
    """The figures of one world, or of one kind of cell in it.

    Attributes:
        says: World or kind.
        people: People a panel.
        answers: Answers a cell.
        cells: Number of cells.
        good: Share truly good enough.
        bias: Mean error of the own rate.
        error: Its root mean square error, cells with counted glasses only.
        error_of_counts: That of right names by glasses, same cells.
        threshold_bias: Mean error of the own threshold, log2.
        threshold_error: Its root mean square error.
        own: Coverage on own answers.
        pooled: Coverage with colleagues'.
        claimed_bad: Share truly below the rate among the met, as the model's own chances have it.
        jeffreys: Coverage of Jeffreys' interval of the rate, cells with counted glasses only.
        exact: Likewise of that of Clopper and Pearson.
        judged: Verdicts of the model, of k/n, of Clopper-Pearson and of Jeffreys.
    """

    says: str
    people: int
    answers: int
    cells: int
    good: float
    bias: float
    error: float
    error_of_counts: float
    threshold_bias: float
    threshold_error: float
    own: Covered
    pooled: Covered
    claimed_bad: float
    jeffreys: Share
    exact: Share
    judged: dict[str, Judged]

    def text(self) -> str:
        """One long line for a terminal."""
        verdicts = "  ".join(
            f"{name}: wrongly met {judged.wrongly_met} not {judged.wrongly_not} undecided "
            f"{judged.undecided} bad in met {judged.bad} (<.6 {judged.poor})"
            for name, judged in self.judged.items()
        )
        return (
            f"{self.says:32} {self.people:2} people {self.answers:2} answers {self.cells:5} cells "
            f"good {self.good:.2f} | rate bias {self.bias:+.3f} error {self.error:.3f} "
            f"(k/n {self.error_of_counts:.3f}) covered own {self.own.rate} pooled "
            f"{self.pooled.rate} J {self.jeffreys} CP {self.exact} | threshold bias "
            f"{self.threshold_bias:+.2f} error {self.threshold_error:.2f} covered own "
            f"{self.own.threshold} pooled {self.pooled.threshold} | {verdicts} | bad in met claimed "
            f"{self.claimed_bad:.3f}"
        )


def measure(says: str, people: int, answers: int, cells: Estimates) -> Line:
    """All figures of some cells."""
    is_good, poured = cells.rate >= GOOD, cells.where(cells.glasses > 0)
    counted = poured.hits / poured.glasses
    return Line(
        says=says,
        people=people,
        answers=answers,
        cells=cells.rate.size,
        good=float(np.mean(is_good)),
        bias=float(np.mean(cells.own.rate - cells.rate)),
        error=typical_error(poured.own.rate, poured.rate),
        error_of_counts=typical_error(counted, poured.rate),
        threshold_bias=float(np.mean(cells.own.threshold - cells.threshold)),
        threshold_error=typical_error(cells.own.threshold, cells.threshold),
        own=_covered(cells, cells.own),
        pooled=_covered(cells, cells.pooled),
        claimed_bad=_claimed_bad(cells),
        jeffreys=_counts_covered(poured, jeffreys_interval),
        exact=_counts_covered(poured, exact_interval),
        judged={
            name: _judged(rule(cells), cells.rate, cells.panel)
            for name, rule in (
                ("model", by_model),
                ("k/n", by_bare_rate),
                ("CP", by_exact),
                ("J", by_jeffreys),
            )
        },
    )


def _covered(cells: Estimates, said: Said) -> Covered:
    thresholds = covers(said.threshold_low, said.threshold_high, cells.threshold)
    return Covered(
        share(covers(said.rate_low, said.rate_high, cells.rate), cells.panel),
        share(thresholds, cells.panel),
    )


def _counts_covered(poured: Estimates, interval: Callable[..., Interval]) -> Share:
    low, high = interval(poured.hits, poured.glasses, INTERVAL)
    return share(covers(low, high, poured.rate), poured.panel)


def _claimed_bad(cells: Estimates) -> float:
    met = by_model(cells).met
    return float(1 - np.mean(cells.chance[met])) if met.any() else np.nan


def _judged(verdicts: Verdicts, rate: Floats, panel: Whole) -> Judged:
    met, not_met, is_good = verdicts.met, verdicts.not_met, rate >= GOOD
    return Judged(
        wrongly_met=share(met[~is_good], panel[~is_good]),
        wrongly_not=share(not_met[is_good], panel[is_good]),
        undecided=share(~(met | not_met), panel),
        bad=share(~is_good[met], panel[met]),
        poor=share(rate[met] < POOR, panel[met]),
    )


HEADINGS: Final = (
    "world (people)",
    "answers",
    "bias, RMSE of the rate (k/n)",
    "rate covered: own, pooled",
    "threshold covered: own, pooled",
    "wrongly met, wrongly not",
    "undecided (J, CP, k/n)",
    "bad in met, < 60 % (J, CP, k/n)",
)


def markdown(lines: list[Line], kinds: list[Line]) -> str:
    """A short table: one row a world or kind, its numbers of answers side by side."""
    rows = [f"| {' | '.join(HEADINGS)} |", "|" + " --- |" * len(HEADINGS)]
    for group in (lines, kinds):
        names = list(dict.fromkeys((line.says, line.people) for line in group))
        for name in names:
            same = [line for line in group if (line.says, line.people) == name]
            same.sort(key=lambda line: line.answers)
            columns = zip(*(_columns(line) for line in same), strict=True)
            rows.append(
                f"| {name[0]} ({name[1]}) | "
                + " | ".join(" / ".join(one) for one in columns)
                + " |"
            )
    errors = " / ".join(f"{error:.3f}" for error in _largest_errors(lines))
    note = (
        "Largest standard error from 8 answers on: coverage (own rate), wrongly met, bad in met: "
    )
    return "\n".join([*rows, "", note + errors + ".", ""])


def _columns(line: Line) -> tuple[str, ...]:
    own, pooled, judged = line.own, line.pooled, line.judged
    plain = ("J", "CP", "k/n")
    return (
        str(line.answers),
        f"{line.bias:+.3f} {line.error:.3f} ({line.error_of_counts:.3f})",
        f"{_short(own.rate)} {_short(pooled.rate)}",
        f"{_short(own.threshold)} {_short(pooled.threshold)}",
        f"{_short(judged['model'].wrongly_met)} {_short(judged['model'].wrongly_not)}",
        _with_plain(judged["model"].undecided, [judged[name].undecided for name in plain], 2),
        _with_plain(judged["model"].bad, [judged[name].bad for name in plain], 3),
    )


def _with_plain(model: Share, plain: list[Share], digits: int) -> str:
    rest = " ".join(_short(one, digits) for one in plain)
    return f"{_short(model, digits)} ({rest})"


def _short(one: Share, digits: int = 3) -> str:
    return "-" if np.isnan(one.value) else f"{one.value:.{digits}f}"


def _largest_errors(lines: list[Line]) -> tuple[float, float, float]:
    lines = [line for line in lines if line.answers >= 8] or lines
    model = [line.judged["model"] for line in lines]
    return (
        max(line.own.rate.error for line in lines),
        max(judged.wrongly_met.error for judged in model),
        max(judged.bad.error for judged in model),
    )
