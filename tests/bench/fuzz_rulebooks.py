"""Hostile rulebooks: those that travel with the program, with numbers and words that can't be."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from math import isfinite
from pathlib import Path
from random import Random
from typing import Any, Final

import fuzz_toml
from fuzz_clear import check_all, check_clear, fail

from seatworthy.errors import PanelError
from seatworthy.rules.read_aloud import read_aloud
from seatworthy.rules.rulebook import Rulebook
from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.rulebooks import supposed_rulebook

_SHELF: Final = (
    *("diacetyl", "dms", "acetaldehyde", "t2n", "h2s", "acetic_acid", "lactic_acid"),
    *("butyric_acid", "isoamyl_acetate", "vinylguaiacol", "isovaleric_acid", "geosmin"),
)
SHELF: Final = frozenset(_SHELF)
_TEXTS: Final = ("default", "strict", "micro", "plain",
                 "olive_oil", "olfactometry", "triangles", "matching")  # fmt: skip
_SECTIONS: Final = {
    *("name", "version", "counts_from", "about", "follows", "counted", "asked", "compound"),
    *("also", "insensitive", "false_calls", "duplicates", "deviation", "order", "attendance"),
    *("seat", "probation", "start_up", "recheck", "panel", "critical", "family", "knows_beer"),
}
_SHARES: Final = re.compile(r"share|_sure$|_below$|named_right|chance|agreement")
_HIGHEST: Final = 10_000


def judge(text: str, book: Rulebook) -> None:
    """Raise where a rulebook was taken that should not have been."""
    raw = tomllib.loads(text.removeprefix("\ufeff").replace("\r\n", "\n"))
    check_all(_broken(raw, book))


def _broken(raw: Mapping[str, Any], book: Rulebook) -> Iterator[str]:
    if strange := raw.keys() - _SECTIONS:
        yield f"knows {strange}"
    if not (1 <= len(book.name) <= 60 and book.name.isprintable() and book.name.strip()):
        yield f"name {book.name!r}"
    if type(book.version) is not int or book.version < 1 or type(book.counts_from) is not date:
        yield f"version {book.version}, {book.counts_from!r}"
    for key, value in _values(raw):
        if isinstance(value, float) and not isfinite(value):
            yield f"{key} = {value}"
        if isinstance(value, datetime):
            yield f"{key} = {value}"
        if type(value) in (int, float) and not 0 <= value <= _HIGHEST:
            yield f"{key} = {value}"
        if type(value) in (int, float) and _SHARES.search(key) and value > 1:
            yield f"{key} = {value} is no share"
    items = [*book.critical, *(item for own in book.families.values() for item in own.critical)]
    if (
        not book.critical
        or not all(items)
        or not all(one.strip() for item in items for one in item)
    ):
        yield f"critical {items}"
    yield from _broken_words(book)


def _values(raw: Any, key: str = "") -> Iterator[tuple[str, Any]]:
    if isinstance(raw, dict):
        for name, value in raw.items():
            yield from _values(value, name)
    elif isinstance(raw, list):
        for value in raw:
            yield from _values(value, key)
    else:
        yield key, raw


def _broken_words(book: Rulebook) -> Iterator[str]:
    parts = read_aloud(book, {})
    if not parts:
        yield "nothing to read aloud"
    for part in parts:
        for sentence in part.sentences:
            if sentence in (book.about, book.follows, book.name):
                continue
            if re.search(r"\b(nan|inf|None|True|False)\b|%%|\d[eE][+-]?\d", sentence):
                yield f"reads {sentence!r}"


class Rulebooks:
    """The field of rulebooks.

    Args:
        folder: Not used; a rulebook is a text.
    """

    name, share = "rulebook", 14

    def __init__(self, folder: Path) -> None:
        self.good = [rulebook_text(name) for name in _TEXTS]

    def attempt(self, draw: Random) -> bool:
        """Try one text; whether it was accepted."""
        data = fuzz_toml.mutated(draw, draw.choice(self.good))
        text = data.decode("utf-8", draw.choice(("replace", "surrogateescape", "ignore")))
        shelf = draw.choice((None, None, SHELF))
        try:
            first = supposed_rulebook(text, shelf)
        except PanelError as refused:
            check_clear(refused)
            return False
        judge(text, first.rulebook)
        again = supposed_rulebook(text, shelf)
        if (again.rulebook, again.digest) != (first.rulebook, first.digest):
            fail("read twice, it says two things")
        return True
