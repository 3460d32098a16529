"""The plain figures of one panellist and compound: the sums an auditor redoes."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from seatworthy.stats.best_estimate import individual_threshold
from seatworthy.stats.guessing import guess_rate, p_against_guessing
from seatworthy.stats.proportions import Interval, jeffreys_interval, wilson_interval
from seatworthy.steps.views import PlainFigures

Row = Mapping[str, Any]

SHORTEST_SERIES = 3


def plain_figures(rows: Sequence[Row]) -> PlainFigures:
    """Counts with their intervals, forced choice against guessing, best-estimate threshold.

    Args:
        rows: Rows of ``sql/queries/person_glasses.sql`` for one compound.
    """
    counted = [row for row in rows if row["is_counted"]]
    hits, trials = sum(row["outcome"] == "right" for row in counted), len(counted)
    sets = [row for row in rows if row["method"] != "naming"]
    estimate, edge = _best_estimate([row for row in sets if row["method"] == "3afc"])
    return PlainFigures(
        wilson=_pair(wilson_interval(hits, trials)) if trials else None,
        jeffreys=_pair(jeffreys_interval(hits, trials)) if trials else None,
        choice_right=sum(row["outcome"] == "right" for row in sets),
        choice_sets=len(sets),
        chance_by_guessing=_by_guessing(sets),
        best_estimate=estimate,
        best_estimate_edge=edge,
    )


def _pair(interval: Interval) -> tuple[float, float]:
    return float(interval.low), float(interval.high)


def _by_guessing(sets: Sequence[Row]) -> float | None:
    """Exact chance of so many right by guessing, over the sets of the commonest guess rate."""
    if not sets:
        return None
    by_rate: dict[float, list[Row]] = defaultdict(list)
    for row in sets:
        by_rate[guess_rate(row["method"])].append(row)
    rows = max(by_rate.values(), key=len)
    right = sum(row["outcome"] == "right" for row in rows)
    return float(p_against_guessing(right, len(rows), rows[0]["method"]))


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
