"""The plain figures of one panellist and compound: the sums an auditor redoes."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from seatworthy.stats.agreement import chance_of_so_few
from seatworthy.stats.best_estimate import individual_threshold
from seatworthy.stats.guessing import guess_rate, p_against_guessing
from seatworthy.stats.proportions import (
    Interval,
    exact_interval,
    jeffreys_interval,
    wilson_interval,
)
from seatworthy.stats.sequential import follow_run, wald_lines
from seatworthy.steps.views import PlainFigures

Row = Mapping[str, Any]

SHORTEST_SERIES = 3
# The sequential run: shares right of somebody who does not and who does find it; allowed errors.
RUN_SHARES = (0.55, 0.85)
RUN_ERRORS = (0.10, 0.10)
CHOICES = ("3afc", "triangle", "duo_trio", "2afc")


def plain_figures(rows: Sequence[Row]) -> PlainFigures:
    """Counts with their intervals, forced choice against guessing, best-estimate threshold.

    Args:
        rows: Rows of ``sql/queries/person_glasses.sql`` for one compound.
    """
    counted = [row for row in rows if row["is_counted"]]
    hits, trials = sum(row["outcome"] == "right" for row in counted), len(counted)
    sets = [row for row in rows if row["method"] in CHOICES]
    estimate, edge = _best_estimate([row for row in sets if row["method"] == "3afc"])
    return PlainFigures(
        wilson=_pair(wilson_interval(hits, trials)) if trials else None,
        jeffreys=_pair(jeffreys_interval(hits, trials)) if trials else None,
        exact=_pair(exact_interval(hits, trials)) if trials else None,
        run=_run([row["outcome"] == "right" for row in counted]),
        choice_right=sum(row["outcome"] == "right" for row in sets),
        choice_sets=len(sets),
        chance_by_guessing=_by_guessing(sets),
        best_estimate=estimate,
        best_estimate_edge=edge,
    )


def _run(right: Sequence[bool]) -> str:
    """What a run of answers has shown, and at which glass it was decided."""
    if not right:
        return ""
    found = follow_run(right, wald_lines(*RUN_SHARES, *RUN_ERRORS))
    at = "" if found.decided_at is None else f" since glass {found.decided_at}"
    return f"{found.state.value}{at}"


def _pair(interval: Interval) -> tuple[float, float]:
    return float(interval.low), float(interval.high)


def _by_guessing(sets: Sequence[Row]) -> float | None:
    """Exact chance of at least so many right by guessing, over all sets, whatever their methods."""
    if not sets:
        return None
    right = sum(row["outcome"] == "right" for row in sets)
    rates = [guess_rate(row["method"]) for row in sets]
    if len(set(rates)) == 1:
        return float(p_against_guessing(right, len(sets), sets[0]["method"]))
    return 1.0 if right == 0 else 1.0 - chance_of_so_few(right - 1, rates)


def _best_estimate(sets: Sequence[Row]) -> tuple[float | None, str]:
    """Best-estimate threshold of the latest day with an ascending series of three levels or more."""
    by_day: dict[date, dict[float, bool]] = defaultdict(dict)
    for row in sets:
        if row["total_level"] is not None:
            level = float(row["total_level"])
            before = by_day[row["session_on"]].get(level, True)
            by_day[row["session_on"]][level] = before and row["outcome"] == "right"
    days = [day for day, levels in by_day.items() if len(levels) >= SHORTEST_SERIES]
    if not days:
        return None, ""
    series = sorted(by_day[max(days)].items())
    levels, right = [level for level, _ in series], [is_right for _, is_right in series]
    edge = "below" if all(right) else "" if right[-1] else "above"
    return float(individual_threshold(levels, right)), edge
