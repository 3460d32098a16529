"""Hostile shelf files, and what of the good ones reaches the store."""

from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from random import Random
from typing import Final
from zoneinfo import ZoneInfo

import fuzz_toml
from fuzz_clear import check_all, check_clear

from seatworthy.errors import PanelError
from seatworthy.intake.shelf import read_shelf
from seatworthy.intake.shelf_items import Shelf
from seatworthy.intake.words import Vocabulary

KEYS: Final = ("diacetyl", "dms", "acetaldehyde", "t2n")
GOOD: Final = """\
[brewery]
name = "Millrace Brewery"
time_zone = "Europe/Dublin"

[[compounds]]
key = "pear_drops"
label = "Pear drops"

[[synonyms]]
compound = "diacetyl"
words = ["butter", "buttered corn"]

[beer_families.pale_lager]
label = "Pale lagers"
critical = ["diacetyl", ["dms", "t2n"]]
expected = ["pear_drops"]

[[base_beers]]
label = "House Pils"
family = "pale_lager"
abv = 4.8

[[working_thresholds]]
compound = "diacetyl"
family = "pale_lager"
value = 60
unit = "ug/L"
from = 2025-01-01

[[working_thresholds]]
compound = "dms"
value = 0.03
unit = "mg/L"
from = 2025-01-01

[[backgrounds]]
beer = "House Pils"
compound = "dms"
value = 12.5
unit = "ug/L"
known = "measured"
from = 2025-01-01
"""


def judge(shelf: Shelf) -> None:
    """Raise where something stands on a shelf that should not."""
    check_all(_broken(shelf))


def _broken(shelf: Shelf) -> Iterator[str]:
    compounds = {*KEYS, *(own.key for own in shelf.compounds)}
    families = {family.key for family in shelf.families}
    beers = {beer.label for beer in shelf.base_beers}
    yield from _broken_words(shelf)
    for family in shelf.families:
        own = [one for item in (*family.critical, *family.expected) for one in item]
        if not {*own} <= compounds or not all((*family.critical, *family.expected)):
            yield f"lists of {family}"
    for beer in shelf.base_beers:
        if beer.family not in families or not (beer.abv is None or 0 <= beer.abv <= 30):
            yield f"{beer}"
    for one in shelf.working_thresholds:
        if one.compound not in compounds or (one.family and one.family not in families):
            yield f"{one}"
        if not _is_amount(one.ug_l) or one.ug_l <= 0 or not _is_day(one.valid_from):
            yield f"{one}"
    for one in shelf.backgrounds:
        known = one.known in ("measured", "assumed")
        if one.beer not in beers or one.compound not in compounds or not _is_day(one.valid_from):
            yield f"{one}"
        if (one.ug_l is not None and not _is_amount(one.ug_l)) or known != (one.ug_l is not None):
            yield f"{one}"


def _broken_words(shelf: Shelf) -> Iterator[str]:
    if shelf.brewery:
        ZoneInfo(shelf.brewery.time_zone)
    named = [shelf.brewery.name] if shelf.brewery else []
    named += [one.label for one in (*shelf.compounds, *shelf.families, *shelf.base_beers)]
    named += [one.key for one in (*shelf.compounds, *shelf.families)]
    words = [word for synonym in shelf.synonyms for word in synonym.words]
    for text in [*named, *words]:
        seen = text.replace("\u200d", "").replace("\u200c", "")
        longest = 120 if text in words else 60
        if not (1 <= len(text) <= longest and seen.isprintable() and text == text.strip()):
            yield f"text of {len(text)} characters {text[:80]!r}"


def _is_amount(ug_l: Decimal) -> bool:
    return ug_l.is_finite() and 0 <= ug_l <= 100_000_000 and ug_l == round(ug_l, 9)


def _is_day(day: date) -> bool:
    return not isinstance(day, datetime) and 1900 <= day.year <= 2200


class ShelfFiles:
    """The field of shelf files.

    Args:
        folder: Where files may be written.
    """

    name, share = "shelf file", 8

    def __init__(self, folder: Path) -> None:
        words = {key: key for key in KEYS} | {"Butter": "diacetyl"}
        self.vocabulary, self.path = Vocabulary(words), folder / "shelf.toml"

    def attempt(self, draw: Random) -> bool:
        """Try one file; whether it was accepted."""
        self.path.write_bytes(fuzz_toml.mutated(draw, GOOD))
        try:
            shelf = read_shelf(self.path, self.vocabulary)
        except PanelError as refused:
            check_clear(refused)
            return False
        judge(shelf)
        return True
