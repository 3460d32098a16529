"""The shelf as far as a plan must know it: the beer, and every compound with what limits it."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any, Final

from seatworthy.errors import PlanRefused
from seatworthy.rules.compound_rules import NAMING, CompoundRule, Glasses, ThresholdRule
from seatworthy.rules.rulebook import Rulebook
from seatworthy.sessions.plan import BatchFacts, BeerFacts, CompoundFacts, ShelfFacts
from seatworthy.steps.batches import batches
from seatworthy.steps.bench_facts import USUAL_CEILING, limits_on
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label

# What stays in nose, mouth or room, so that glasses of it come late; common practice, no source.
LINGERING_CLASSES: Final = frozenset({"phenol", "taint", "bitter", "mineral"})
LINGERING: Final = frozenset(
    {"mbt", "dmts", "methanethiol", "ethanethiol", "catty", "butyric_acid", "isovaleric_acid"}
)

SERIES_METHOD: Final = "3afc"  # what an ascending series of a threshold is poured as


def shelf_facts(desk: Desk, beer: str, on: date) -> ShelfFacts:
    """Everything on the shelf that bears on a plan with a beer on a day.

    Raises:
        PlanRefused: if the beer is not on the shelf.
    """
    rows = {row["beer"]: row for row in desk.store.rows("beers_with_family")}
    found = rows.get(beer)
    if found is None:
        raise PlanRefused(["Choose a base beer; new ones are added on the shelf."])
    thresholds = {
        row["compound"]
        for row in desk.store.rows("thresholds_on", family=found["family"], on_day=on)
    }
    limits = limits_on(desk, on)
    ceilings = {c: limit.highest_level for c, limit in limits.items() if limit.highest_level}
    compounds = {
        row["compound"]: CompoundFacts(
            label=short_label(row["label"]),
            serve=row["serve"],
            has_threshold=row["compound"] in thresholds,
            reference=_reference(row),
            caution=row["safety"],
            lingers=lingers(row),
            ceiling=ceilings.get(row["compound"], USUAL_CEILING),
        )
        for row in desk.store.rows("compound_care")
    }
    levels, methods = what_counts(desk.rulebook)
    return ShelfFacts(
        beer_label=found["label"],
        family=found["family"],
        family_label=found["family_label"],
        compounds=compounds,
        counted_levels=levels,
        counted_methods=methods,
        beers={
            row["beer"]: BeerFacts(row["label"], row["family"], row["family_label"])
            for row in rows.values()
        },
        batches={
            one.batch_id: BatchFacts(one.label, one.beer, frozenset(one.crew))
            for one in batches(desk)
        },
    )


def what_counts(book: Rulebook) -> tuple[tuple[Decimal, Decimal] | None, tuple[str, ...]]:
    """Lowest and highest level that counts for a compound, and the methods that do.

    Only rules that a seat asks for are looked at. Where one of them reads thresholds, its series
    count at any level, and no levels are given.
    """
    rules = [book.compound, *(one.rule for one in book.also if one.asked_for)]
    methods = dict.fromkeys(method for rule in rules for method in _methods_of(rule))
    if any(isinstance(rule, ThresholdRule) for rule in rules):
        return None, tuple(methods)
    low, high = book.counted.lowest_level, book.counted.highest_level
    return (Decimal(str(low)), Decimal(str(high))), tuple(methods)


def _methods_of(rule: CompoundRule) -> tuple[str, ...]:
    if isinstance(rule, ThresholdRule):
        return (SERIES_METHOD,)
    return rule.methods if isinstance(rule, Glasses) else (NAMING,)


def _reference(row: Mapping[str, Any]) -> str:
    """What books say, as "40 to 200 ug/L"; "" if they say nothing."""
    ends = [row["reference_low"], row["reference_high"]]
    known = [f"{float(end):g}" for end in dict.fromkeys(ends) if end is not None]
    return f"{' to '.join(known)} {row['reference_unit']}" if known else ""


def lingers(row: Mapping[str, Any]) -> bool:
    """Whether a compound of the query ``compound_care`` stays in nose, mouth or room."""
    return row["chemical_class"] in LINGERING_CLASSES or row["compound"] in LINGERING
