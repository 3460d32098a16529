"""One panellist over all compounds: the run of their days, their pairs, and how readily they call."""

from collections.abc import Mapping, Sequence
from datetime import date
from math import isnan
from typing import Any, Final

import numpy as np

from seatworthy.rules.calendar_months import months_before
from seatworthy.stats.agreement import agreement_table, kappa
from seatworthy.stats.false_calls import false_call_rate
from seatworthy.stats.moving_average import control_limits, moving_average
from seatworthy.stats.straight_line import kendall_trend, middle_slope
from seatworthy.stats.yes_no import criterion, d_prime, detection, log_linear_rates
from seatworthy.steps.desk import Desk
from seatworthy.steps.figures_views import DayShare, OwnHistory, Range, YesNo
from seatworthy.steps.judging import Judged

NEWEST_SHARE: Final = (
    0.2  # weight of the newest day in the moving average; common practice .1 to .3
)
FEWEST_DAYS: Final = 6
_DAYS_A_YEAR: Final = 365.25

Row = Mapping[str, Any]


def own_history(desk: Desk, judged: Judged, person_id: str) -> OwnHistory:
    """The run of somebody's days, their hidden pairs and their calls, by the record that was judged.

    Args:
        desk: The open store.
        judged: The day judged; its rulebook's windows count.
        person_id: Whose.
    """
    counting, as_of = judged.rulebook.counted, judged.as_of
    days = desk.store.rows(
        "person_days",
        judged.known_at,
        person_id=person_id,
        until_on=as_of,
        lowest_level=counting.lowest_level,
        highest_level=counting.highest_level,
    )
    pairs = desk.store.rows(
        "person_pairs",
        judged.known_at,
        person_id=person_id,
        after_on=months_before(as_of, (judged.rulebook.duplicates or counting).months),
        until_on=as_of,
    )
    since = months_before(as_of, counting.months)
    (asked,) = desk.store.rows(
        "person_yes_no", judged.known_at, person_id=person_id, after_on=since, until_on=as_of
    )
    recent = [row for row in days if row["session_on"] > since]
    return OwnHistory(
        **_run_of_days(days),
        **_pairs(pairs),
        **_calls(recent, judged, person_id),
        yes_no=_yes_no(asked),
    )


def _run_of_days(rows: Sequence[Row]) -> dict[str, Any]:
    known = len(rows) >= FEWEST_DAYS
    slope, reach, falling = _slope(rows) if known else (None, None, None)
    return {
        "days": tuple(_days(rows)),
        "slope": slope,
        "years": _year(rows[-1]["session_on"]) - _year(rows[0]["session_on"]) if rows else 0.0,
        "slope_range": reach,
        "chance_falling": falling,
    }


def _days(rows: Sequence[Row]) -> list[DayShare]:
    """Each day with the moving average of the shares, starting from the share over all days."""
    if not rows:
        return []
    hits, glasses = (np.array([row[name] for row in rows]) for name in ("hits", "glasses"))
    centre = hits.sum() / glasses.sum()
    sd = float(np.sqrt(centre * (1 - centre) / glasses.mean()))
    averages = moving_average(hits / glasses, centre, NEWEST_SHARE)
    low, high = control_limits(np.arange(1, len(rows) + 1), centre, sd, NEWEST_SHARE)
    return [
        DayShare(row["session_on"], row["hits"], row["glasses"], *map(float, figures))
        for row, *figures in zip(
            rows, averages, np.maximum(low, 0), np.minimum(high, 1), strict=True
        )
    ]


def _slope(rows: Sequence[Row]) -> tuple[float, Range, float]:
    years = [_year(row["session_on"]) for row in rows]
    shares = [row["hits"] / row["glasses"] for row in rows]
    slope = middle_slope(years, shares)
    reach = (float(slope.interval.low), float(slope.interval.high))
    return slope.per_time, reach, kendall_trend(years, shares).p_falling


def _year(day: date) -> float:
    return day.toordinal() / _DAYS_A_YEAR


def _pairs(rows: Sequence[Row]) -> dict[str, Any]:
    said = sorted({row[place] for row in rows for place in ("first", "second")})
    code = {words: number for number, words in enumerate(said)}
    first, second = ([code[row[place]] for row in rows] for place in ("first", "second"))
    found = kappa(agreement_table(first, second, len(said)))
    return {
        "pairs": len(rows),
        "same": sum(row["first"] == row["second"] for row in rows),
        "kappa": None if isnan(found.value) else (found.value, found.standard_error),
    }


def _yes_no(asked: Row) -> YesNo | None:
    spiked, blanks = asked["spiked"], asked["blanks"]
    if not spiked + blanks:
        return None
    rates = log_linear_rates(asked["hits"], spiked, asked["false_alarms"], blanks)
    both = spiked > 0 and blanks > 0
    return YesNo(
        asked["hits"],
        spiked,
        asked["false_alarms"],
        blanks,
        d_prime=float(d_prime(*rates)) if both else None,
        criterion=float(criterion(*rates)) if both else None,
    )


def _calls(rows: Sequence[Row], judged: Judged, person_id: str) -> dict[str, Any]:
    """Calls in spiked glasses of the window against calls in its blanks; agreement as judged."""
    blanks, pairs = judged.blanks[person_id], judged.duplicate_counts[person_id]
    calls, spiked = (sum(row[name] for row in rows) for name in ("calls", "glasses"))
    counts = (calls, spiked, blanks.false_calls, blanks.blanks)
    told_apart = spiked > 0 and blanks.blanks > 0
    rates = log_linear_rates(*counts)
    reach = detection(*counts).d_prime.interval if told_apart else None
    rate = false_call_rate(blanks.false_calls, blanks.blanks) if blanks.blanks else None
    return {
        "agreed": pairs.agreed,
        "expected": pairs.expected,
        "calls": calls,
        "spiked": spiked,
        "false_calls": blanks.false_calls,
        "blanks": blanks.blanks,
        "false_call_rate": rate and (float(rate.mean), *map(float, rate.interval)),
        "d_prime": float(d_prime(*rates)) if told_apart else None,
        "d_prime_range": reach and (float(reach.low), float(reach.high)),
        "criterion": float(criterion(*rates)) if told_apart else None,
    }
