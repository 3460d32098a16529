"""What stands on the brewery's shelf, read for its page."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from functools import cache
from types import MappingProxyType
from typing import Any, Final
from zoneinfo import available_timezones

from seatworthy.intake.words import fold
from seatworthy.steps.concentrations import in_unit, shown_unit
from seatworthy.steps.desk import Desk
from seatworthy.steps.shelf_sentences import first_things, sentences
from seatworthy.steps.shelf_views import (
    BackgroundLine,
    BeerLine,
    CompoundLine,
    FamilyLine,
    Group,
    OpenWordsLine,
    OursLine,
    ShelfView,
)
from seatworthy.steps.words import open_words

ALL_BEERS: Final = "all beers"
_HOW_KNOWN: Final = MappingProxyType(
    {
        "read": "read in the source named",
        "mixed": "one end read, the other from memory",
        "memory": "from memory; check before relying on it",
        "weak": "read in an informal source",
        "none": "no open figure known",
    }
)
_SERVE: Final = MappingProxyType(
    {
        "yes": "may be served, food-grade only",
        "prediluted": "only from a bought food-grade dilution",
        "no": "not to be served; vocabulary only",
        "": "nothing stated; its safety data sheet comes first",
    }
)


def shelf(desk: Desk, family: str | None = None) -> ShelfView:
    """The whole shelf.

    Args:
        desk: The open store.
        family: Key of the beer family the page is about; the first one where it names none.
    """
    families, beers = _families(desk), _beers(desk)
    chosen = _chosen(families, family)
    default = tuple(tuple(group) for group in desk.rulebook.critical)
    critical = (chosen and chosen.critical) or default
    words = desk.store.rows("shelf_words")
    compounds = _compounds(desk, critical, families, words)
    brewery = next(iter(desk.store.rows("shelf_brewery")), {"label": "", "time_zone": ""})
    answer, catch, lead = sentences(brewery["label"], beers, chosen, critical, compounds)
    return ShelfView(
        answer=answer,
        catch=catch,
        lead=lead,
        today=desk.today(),
        first_things=first_things(
            brewery["label"],
            beers,
            compounds,
            has_people=bool(desk.store.rows("people")),
            has_session=bool(desk.store.rows("session_list")),
        ),
        brewery=brewery["label"],
        time_zone=brewery["time_zone"],
        family=chosen.key if chosen else "",
        families=families,
        beers=beers,
        compounds=compounds,
        default_critical=default,
        backgrounds=_backgrounds(desk, compounds),
        silent_words=tuple(row["words"] for row in words if row["compound"] is None),
        open_words=tuple(OpenWordsLine(own.words, own.answers) for own in open_words(desk)),
    )


@cache
def time_zones() -> tuple[str, ...]:
    """Names of all time zones, those of places first."""
    names = available_timezones()
    return (*sorted(name for name in names if "/" in name and not name.startswith("Etc/")),
            *sorted(name for name in names if "/" not in name or name.startswith("Etc/")))  # fmt: skip


def family_labels(rows: Sequence[Mapping[str, Any]]) -> dict[str, str]:
    """Label by family; families that share a label have their key added."""
    labels = [row["label"] for row in rows]
    return {
        row["family"]: row["label"]
        if labels.count(row["label"]) == 1
        else f"{row['label']} ({row['family']})"
        for row in rows
    }


def _chosen(families: Sequence[FamilyLine], asked: str | None) -> FamilyLine | None:
    """The family asked for, else the first that has a beer, else the first."""
    named = [family for family in families if family.key == asked]
    with_beer = [family for family in families if family.beers]
    return next(iter([*named, *with_beer, *families]), None)


def _families(desk: Desk) -> tuple[FamilyLine, ...]:
    lists: dict[tuple[str, str], list[Group]] = defaultdict(list)
    for row in desk.store.rows("shelf_lists"):
        lists[row["family"], row["role"]].append(tuple(row["compounds"]))
    beers: dict[str, list[str]] = defaultdict(list)
    for row in desk.store.rows("shelf_beers"):
        beers[row["family"]].append(row["label"])
    labels = family_labels(desk.store.rows("shelf_families"))
    return tuple(
        FamilyLine(
            key,
            label,
            tuple(lists[key, "critical"]),
            tuple(lists[key, "expected"]),
            tuple(beers[key]),
        )
        for key, label in labels.items()
    )


def _beers(desk: Desk) -> tuple[BeerLine, ...]:
    labels = family_labels(desk.store.rows("shelf_families"))
    return tuple(
        BeerLine(
            row["beer"],
            row["label"],
            row["family"],
            labels.get(row["family"], row["family"]),
            row["abv_percent"],
        )
        for row in desk.store.rows("shelf_beers")
    )


def _compounds(
    desk: Desk,
    critical: Iterable[Group],
    families: Sequence[FamilyLine],
    words: Sequence[Mapping[str, Any]],
) -> tuple[CompoundLine, ...]:
    labels = {"": ALL_BEERS} | {family.key: family.label for family in families}
    stated = defaultdict(list)
    for row in desk.store.rows("shelf_thresholds", on_day=desk.today()):
        stated[row["compound"]].append(row)
    wordings = defaultdict(list)
    for row in words:
        wordings[row["compound"]].append(row)
    listed = {compound for group in critical for compound in group}
    return tuple(
        _compound(row, stated[row["compound"]], wordings[row["compound"]], listed, labels)
        for row in desk.store.rows("shelf_compounds")
    )


def _compound(
    row: Mapping[str, Any],
    stated: Iterable[Mapping[str, Any]],
    wordings: Iterable[Mapping[str, Any]],
    critical: set[str],
    families: Mapping[str, str],
) -> CompoundLine:
    unit = shown_unit(row["reference_unit"])
    return CompoundLine(
        key=row["compound"],
        label=row["label"],
        descriptors=", ".join(word for word in row["descriptors"].split("|") if word),
        low=_plain(row["reference_low"]),
        high=_plain(row["reference_high"]),
        unit=unit,
        how_known=_HOW_KNOWN.get(row["how_known"], row["how_known"]),
        source=row["source"],
        ours=tuple(_ours(one, unit, families) for one in stated),
        is_critical=row["compound"] in critical,
        is_served=row["serve"] != "no",
        serve=_SERVE.get(row["serve"], row["serve"]),
        keeping=row["keeping"],
        cause=row["cause"],
        safety=row["safety"],
        cas=row["cas"],
        chemical_name=row["chemical_name"],
        synonyms=tuple(_said(wordings, row)),
    )


def _said(wordings: Iterable[Mapping[str, Any]], row: Mapping[str, Any]) -> Iterator[str]:
    """Wordings beside the label; a key in which words are joined is nothing that people say."""
    for wording in wordings:
        is_key = wording["words"] == row["compound"] and "_" in row["compound"]
        if not is_key and wording["words_key"] != fold(row["label"]):
            yield wording["words"]


def _ours(row: Mapping[str, Any], unit: str, families: Mapping[str, str]) -> OursLine:
    family: str = row["family"]
    since: date = row["valid_from_on"]
    label = families.get(family, family)
    return OursLine(family, label, in_unit(row["threshold_ug_l"], unit), since)


def _plain(number: Decimal | None) -> Decimal | None:
    """A reference value without needless zeros; it stands in the compound's own unit already."""
    return None if number is None else in_unit(number, "µg/l")


def _backgrounds(desk: Desk, compounds: Iterable[CompoundLine]) -> tuple[BackgroundLine, ...]:
    known = {compound.key: compound for compound in compounds}
    return tuple(
        BackgroundLine(
            beer=row["beer"],
            compound=row["compound"],
            label=known[row["compound"]].label,
            known=row["known"],
            value=None
            if row["background_ug_l"] is None
            else in_unit(row["background_ug_l"], known[row["compound"]].unit),
            unit=known[row["compound"]].unit,
            since=row["valid_from_on"],
        )
        for row in desk.store.rows("shelf_backgrounds", on_day=desk.today())
    )
