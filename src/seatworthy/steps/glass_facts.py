"""Single answers as the rules that count look at them: glasses, estimates, pairs of ratings."""

from collections import defaultdict
from datetime import date
from itertools import groupby
from operator import itemgetter
from statistics import fmean, median

from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.facts import Glass, OwnEstimate, RatedGlass, RatedPair, RatedSeries
from seatworthy.stats.best_estimate import individual_threshold
from seatworthy.steps.cell_days import Cell
from seatworthy.steps.seen import Seen

FEWEST_LEVELS = 3  # a series of fewer levels tells no order and no threshold


def glasses_by_cell(seen: Seen) -> dict[Cell, tuple[Glass, ...]]:
    """Scored glasses and forced-choice sets with a known level, by cell, oldest first."""
    found: dict[Cell, list[Glass]] = defaultdict(list)
    for row in seen.rows("rule_glasses", until_on=seen.as_of):
        cell = (row["person_id"], row["compound"], row["family"])
        found[cell].append(
            Glass(
                row["serving_id"], row["session_on"], row["session_id"], row["compound"],
                row["method"], row["level"], row["is_right"], row["position"],
            )
        )  # fmt: skip
    return {cell: tuple(glasses) for cell, glasses in found.items()}


def estimates_by_cell(seen: Seen) -> dict[Cell, tuple[OwnEstimate, ...]]:
    """Best-estimate thresholds of ascending 3-AFC series, by cell, oldest first."""
    found: dict[Cell, list[OwnEstimate]] = defaultdict(list)
    rows = seen.rows("own_series", until_on=seen.as_of)
    for (person, compound, family, day), sets in groupby(rows, key=itemgetter(*_SERIES)):
        steps = [(row["level"], row["is_right"]) for row in sets]
        if len(steps) >= FEWEST_LEVELS:
            threshold = individual_threshold(*map(list, zip(*steps, strict=True)))
            found[person, compound, family].append(OwnEstimate(day, float(threshold)))
    return {cell: tuple(estimates) for cell, estimates in found.items()}


_SERIES = ("person_id", "compound", "family", "session_on")


class Ratings:
    """Intensity ratings in a window, as the rules for repeatability and agreement look at them."""

    def __init__(self, seen: Seen, months: int) -> None:
        self._rows = seen.rows(
            "ratings", after_on=months_before(seen.as_of, months), until_on=seen.as_of
        )

    def pairs(self, person: str) -> tuple[RatedPair, ...]:
        """First and second rating of each sample that somebody rated twice."""
        own: dict[tuple[date, str], list[float]] = defaultdict(list)
        for row in self._rows:
            if row["person_id"] == person:
                own[row["session_on"], row["sample_id"]].append(row["rating"])
        return tuple(RatedPair(day, r[0], r[1]) for (day, _), r in own.items() if len(r) >= 2)

    def beside_the_panel(self, person: str) -> tuple[RatedGlass, ...]:
        """Own ratings beside the median of everybody's ratings of the same sample."""
        everybody: dict[str, list[float]] = defaultdict(list)
        for row in self._rows:
            everybody[row["sample_id"]].append(row["rating"])
        return tuple(
            RatedGlass(row["session_on"], row["rating"], median(everybody[row["sample_id"]]))
            for row in self._rows
            if row["person_id"] == person
        )

    def series(self, person: str) -> tuple[RatedSeries, ...]:
        """Own ratings of one compound in one session, at three levels or more, weakest first.

        A level rated more than once stands with the mean, since a level cannot swap with itself.
        """
        own: dict[tuple[date, str], dict[float, list[float]]] = defaultdict(dict)
        for row in self._rows:
            if row["person_id"] == person and row["compound"] and row["total_level"] is not None:
                place = (row["session_on"], row["compound"])
                own[place].setdefault(row["total_level"], []).append(row["rating"])
        return tuple(
            RatedSeries(day, compound, tuple(fmean(rated[level]) for level in sorted(rated)))
            for (day, compound), rated in own.items()
            if len(rated) >= FEWEST_LEVELS
        )
