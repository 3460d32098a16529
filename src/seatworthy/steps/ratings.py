"""Intensity ratings: how well somebody repeats them and tells samples apart, beside the panel."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Any

import numpy as np

from seatworthy.rules.calendar_months import months_before
from seatworthy.stats.discrimination import analyse_one_way, intraclass_correlations
from seatworthy.stats.repeatability import moderated_sd, panel_sd, precision, within_variance
from seatworthy.steps.desk import Desk
from seatworthy.steps.figures_views import Range, RatingRow
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import short_label

NOTHING_ADDED = "Nothing added"

Row = Mapping[str, Any]
Rated = Mapping[tuple[str, str], Sequence[float]]  # ratings by sample and person, in their order


def rating_rows(desk: Desk, judged: Judged, person_id: str) -> tuple[RatingRow, ...]:
    """One row a compound that somebody rated in the window in which glasses count.

    A blank stands with the compound that it was rated for, where a plan says so, else by itself.

    Args:
        desk: The open store.
        judged: The day judged.
        person_id: Whose.
    """
    rows = desk.store.rows(
        "ratings",
        judged.known_at,
        after_on=months_before(judged.as_of, judged.rulebook.counted.months),
        until_on=judged.as_of,
    )
    rated: dict[str | None, dict[tuple[str, str], list[float]]] = defaultdict(
        lambda: defaultdict(list)
    )
    for row in rows:
        rated[row["asked"] or row["compound"]][row["sample_id"], row["person_id"]].append(
            row["rating"]
        )
    found = [
        _row(_label(judged, compound), person_id, alike)
        for compound, alike in rated.items()
        if any(person == person_id for _, person in alike)
    ]
    return tuple(sorted(found, key=lambda row: row.label.casefold()))


def _label(judged: Judged, compound: str | None) -> str:
    return NOTHING_ADDED if compound is None else short_label(judged.labels[compound])


def _row(label: str, person_id: str, rated: Rated) -> RatingRow:
    own = {sample: ratings for (sample, who), ratings in rated.items() if who == person_id}
    pairs = _differences(rated)
    panel = panel_sd([within_variance(one) for one in pairs.values()], [*map(len, pairs.values())])
    sd, sd_range = _own_spread(pairs.get(person_id, ()), panel)
    ratings = [rating for alike in own.values() for rating in alike]
    places = [place for place, alike in enumerate(own.values()) for _ in alike]
    parts = analyse_one_way(ratings, places)
    repeatability, reproducibility = _precision(rated)
    correlation, raters = _correlation(rated)
    return RatingRow(
        label=label,
        ratings=len(ratings),
        pairs=len(pairs.get(person_id, ())),
        sd=sd,
        sd_range=sd_range,
        panel_sd=_known(panel),
        samples=len(own),
        f_ratio=_known(parts.ratio),
        f_chance=_known(parts.p),
        repeatability_sd=repeatability,
        reproducibility_sd=reproducibility,
        correlation=correlation,
        raters=raters,
    )


def _differences(rated: Rated) -> dict[str, list[float]]:
    """First less second rating of each sample that somebody rated twice, by person."""
    found: dict[str, list[float]] = defaultdict(list)
    for (_, person), ratings in rated.items():
        if len(ratings) >= 2:
            found[person].append(ratings[0] - ratings[1])
    return found


def _own_spread(differences: Sequence[float], panel: float) -> tuple[float | None, Range | None]:
    if not differences or not isfinite(panel):
        return None, None
    spread = moderated_sd(within_variance(differences), len(differences), panel)
    return float(spread.sd), (float(spread.interval.low), float(spread.interval.high))


def _precision(rated: Rated) -> tuple[float | None, float | None]:
    """s_r and s_R of the panel: the mean variances over the samples that tell them."""
    found = []
    for sample in dict.fromkeys(sample for sample, _ in rated):
        alike = [ratings for (own, _), ratings in rated.items() if own == sample]
        values = [rating for ratings in alike for rating in ratings]
        who = [place for place, ratings in enumerate(alike) for _ in ratings]
        one = precision(values, who)
        if isfinite(one.reproducibility_sd):
            found.append((one.repeatability_sd, one.reproducibility_sd))
    if not found:
        return None, None
    within, overall = np.sqrt(np.mean(np.square(found), axis=0)).tolist()
    return within, overall


def _correlation(rated: Rated) -> tuple[float | None, int]:
    """ICC (2,1) of those who rated every sample, by their mean ratings, and how many they are."""
    samples = list(dict.fromkeys(sample for sample, _ in rated))
    people = dict.fromkeys(person for _, person in rated)
    full = [person for person in people if all((one, person) in rated for one in samples)]
    if len(full) < 2:
        return None, len(full)
    table = [[float(np.mean(rated[sample, person])) for person in full] for sample in samples]
    return _known(intraclass_correlations(table).random_single), len(full)


def _known(value: float) -> float | None:
    return value if isfinite(value) else None
