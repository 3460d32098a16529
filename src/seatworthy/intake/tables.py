"""Checked rows as the rows and columns of the store's tables; nothing is written here."""

import csv
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from secrets import token_hex

from seatworthy.intake.results import ResultRow
from seatworthy.intake.shelf import Shelf
from seatworthy.intake.words import fold

HOUSE = "house"
HOUSE_LABEL = "Our beers"

TableRow = tuple[str, dict[str, object]]


def result_columns(
    rows: Sequence[ResultRow], person_ids: Mapping[str, str], main_ids: Mapping[str, str]
) -> dict[str, list[str | None]]:
    """Result rows as columns, all as text; words with their folded key and a salt each.

    Args:
        rows: Checked rows of one file.
        person_ids: Person id of every spelling that occurs.
        main_ids: Id of the person that each of these ids stands for, if it is another one.
    """
    named = {row.session for row in rows} | {row.sitting for row in rows}
    labels = {label: fold(label) for label in named}
    folded = {words: fold(words) for words in {row.words for row in rows if row.words is not None}}
    beers = {beer: fold(beer or "") for beer in {row.base_beer for row in rows}}
    salts = token_hex(8 * len(rows))
    return {
        "line": [str(row.line) for row in rows],
        "session_on": [row.session_on.isoformat() for row in rows],
        "session": [row.session for row in rows],
        "sitting": [row.sitting for row in rows],
        "session_key": [labels[row.session] for row in rows],
        "sitting_key": [labels[row.sitting] for row in rows],
        "person_id": [person_ids[row.panellist] for row in rows],
        "identity_id": [
            main_ids.get(person_ids[row.panellist], person_ids[row.panellist]) for row in rows
        ],
        "method": [row.method for row in rows],
        "position": [_text(row.position) for row in rows],
        "blind_code": [row.blind_code for row in rows],
        "duplicate_mark": [row.duplicate for row in rows],
        "beer": [beers[row.base_beer] for row in rows],
        "compound": [row.compound for row in rows],
        "given_level": [_text(row.level) for row in rows],
        "dose_ug": [_text(row.dose_ug) for row in rows],
        "volume_ml": [_text(row.volume_ml) for row in rows],
        "mark": [row.sample or "" for row in rows],
        "kind": [row.answer for row in rows],
        "words": [row.words for row in rows],
        "words_key": [None if row.words is None else folded[row.words] for row in rows],
        "words_salt": [salts[16 * i : 16 * i + 16] for i in range(len(rows))],
        "rating": [_text(row.rating) for row in rows],
        "set_aside": [row.set_aside for row in rows],
        "note": [row.note for row in rows],
    }


def beer_rows(
    rows: Sequence[ResultRow], known: Iterable[str], known_families: Iterable[str]
) -> Iterator[TableRow]:
    """Beers that a results file names and the shelf does not, each in its family or the house's.

    Args:
        rows: Checked rows of one file.
        known: Folded labels of the beers on the shelf.
        known_families: Keys of the families on the shelf; they are not stated again, since a family
            is stated with its whole lists.
    """
    seen = set(known)
    families = set(known_families)
    for base_beer, beer_family in dict.fromkeys((row.base_beer, row.beer_family) for row in rows):
        beer = fold(base_beer or "")
        if beer in seen:
            continue
        seen.add(beer)
        label = beer_family or HOUSE_LABEL
        family = fold(beer_family).replace(" ", "_") if beer_family else HOUSE
        if family not in families:
            families.add(family)
            yield "beer_family", {"family": family, "label": label}
        yield "base_beer", _beer(base_beer or "not stated", beer, family, None)


def shelf_rows(shelf: Shelf) -> Iterator[TableRow]:
    """A shelf file as rows of tables; what it does not speak of stays as it was."""
    if shelf.brewery is not None:
        yield "brewery", {"label": shelf.brewery.name, "time_zone": shelf.brewery.time_zone}
    for compound in shelf.compounds:
        yield "compound", _own_compound(compound.key, compound.label)
        yield from synonym_rows(compound.key, [compound.key, compound.label])
    for synonym in shelf.synonyms:
        yield from synonym_rows(synonym.compound, synonym.words)
    for family in shelf.families:
        yield "beer_family", {"family": family.key, "label": family.label}
        yield from _listed(family.key, "critical", family.critical)
        yield from _listed(family.key, "expected", family.expected)
    for beer in shelf.base_beers:
        yield "base_beer", _beer(beer.label, fold(beer.label), beer.family, beer.abv)
    for threshold in shelf.working_thresholds:
        yield (
            "working_threshold",
            {
                "compound": threshold.compound,
                "family": threshold.family or "",
                "threshold_ug_l": threshold.ug_l,
                "valid_from_on": threshold.valid_from,
            },
        )
    for background in shelf.backgrounds:
        yield (
            "background",
            {
                "beer": fold(background.beer),
                "compound": background.compound,
                "known": background.known,
                "background_ug_l": background.ug_l,
                "valid_from_on": background.valid_from,
            },
        )


def vocabulary_rows() -> Iterator[TableRow]:
    """The shipped compounds and the words they go by; a wording belongs to the first to claim it."""
    taken: set[str] = set()
    with Path(__file__).with_name("compounds.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            yield "compound", _shipped_compound(row)
            words = [words for words in _words_of(row) if fold(words) not in taken]
            taken.update(fold(word) for word in words)
            yield from synonym_rows(row["key"], words)


def synonym_rows(compound: str | None, words: Iterable[str]) -> Iterator[TableRow]:
    """Wordings of one compound (None: of no compound), each folded wording once."""
    by_key = {fold(wording): wording for wording in reversed(list(words))}
    for key, wording in reversed(by_key.items()):
        if key:
            yield "synonym", {"words_key": key, "words": wording, "compound": compound}


def _beer(label: str, beer: str, family: str, abv_percent: object) -> dict[str, object]:
    return {"beer": beer, "label": label, "family": family, "abv_percent": abv_percent}


def _listed(family: str, role: str, items: Iterable[tuple[str, ...]]) -> Iterator[TableRow]:
    for item_no, group in enumerate(items):
        for compound in group:
            row = {"family": family, "item_no": item_no, "compound": compound, "role": role}
            yield "family_compound", row


def _words_of(row: dict[str, str]) -> list[str]:
    """Key, label, label without its bracket, the bracket, the chemical name."""
    label, _, bracket = row["label"].partition(" (")
    return [row["key"], row["label"], label, bracket.rstrip(")"), row["chemical_name"]]


_AS_SHIPPED = ("how_known", "source", "serve", "keeping", "cause", "safety")


def _shipped_compound(row: dict[str, str]) -> dict[str, object]:
    return {
        "compound": row["key"],
        "label": row["label"],
        "chemical_name": row["chemical_name"],
        "cas": row["cas"],
        "chemical_class": row["family"],
        "descriptors": row["descriptors"],
        "reference_low": row["threshold_low"] or None,
        "reference_high": row["threshold_high"] or None,
        "reference_unit": row["unit"],
        **{name: row[name] for name in _AS_SHIPPED},
    }


def _own_compound(key: str, label: str) -> dict[str, object]:
    blank = ("chemical_name", "cas", "chemical_class", "descriptors", "reference_unit")
    own: dict[str, object] = {"compound": key, "label": label, **dict.fromkeys(blank, "")}
    own |= dict.fromkeys(_AS_SHIPPED, "")
    return own | {"how_known": "none", "source": "the brewery's own"}


def _text(value: object) -> str | None:
    return None if value is None else str(value)
