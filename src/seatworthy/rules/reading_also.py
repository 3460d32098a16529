"""Reads the further rules of a rulebook, ``[[also]]``."""

from collections.abc import Collection, Mapping
from typing import Any, Final

from seatworthy.rules.compound_rules import COMPOUND_KINDS, AlsoRule
from seatworthy.rules.reading_lines import Path
from seatworthy.rules.reading_lists import read_compounds
from seatworthy.rules.reading_text import RulebookText, listed, quoted, shown
from seatworthy.rules.reading_values import is_whole, read_kind, word_faults

LONGEST_NAME: Final = 60
MOST_COMPOUNDS: Final = 40
_OVER: Final = ("each", "together")
_IN_WORDS: Final[Mapping[str, int]] = {"all": 0, "any": 1}
_OWN_KEYS: Final = ("name", "by", "over", "compounds", "met_in", "asked_for")


def read_also(source: RulebookText, shelf: Collection[str] | None) -> tuple[AlsoRule | None, ...]:
    """The further rules in the order of the file; None in place of one that was blamed."""
    tables = source.found.get("also", [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        sentence = f"also must be written [[also]], once for each rule; found {shown(tables)}."
        source.blame(("also",), sentence)
        return ()
    _blame_repeated_names(source, tables)
    return tuple(_also(source, ("also", nth), table, shelf) for nth, table in enumerate(tables))


def _also(
    source: RulebookText, path: Path, table: Mapping[str, Any], shelf: Collection[str] | None
) -> AlsoRule | None:
    before = len(source.faults)
    _blame_name(source, path, table)
    over = table.get("over", _OVER[0])
    for _, sentence in word_faults("over", over, _OVER):
        source.blame((*path, "over"), sentence)
    asked_for = table.get("asked_for", True)
    if not isinstance(asked_for, bool):
        sentence = f"asked_for must be true or false, found {shown(asked_for)}."
        source.blame((*path, "asked_for"), sentence)
    met_in = _met_in(source, path, table)
    compounds = _compounds(source, path, table, shelf)
    rule = _rule(source, path, table)
    if len(source.faults) > before:
        return None
    return AlsoRule(table["name"], rule, over, compounds, met_in, asked_for)


def _blame_name(source: RulebookText, path: Path, table: Mapping[str, Any]) -> None:
    name = table.get("name")
    if not isinstance(name, str) or not name.strip():
        found = shown(name) if "name" in table else "nothing"
        sentence = f"name must be a text in quotation marks, found {found}."
        source.blame((*path, "name"), sentence)
    elif len(name) > LONGEST_NAME:
        sentence = f"name must have at most {LONGEST_NAME} characters, found {len(name)}."
        source.blame((*path, "name"), sentence)


def _blame_repeated_names(source: RulebookText, tables: list[Mapping[str, Any]]) -> None:
    seen: set[str] = set()
    for nth, table in enumerate(tables):
        name = table.get("name")
        if not isinstance(name, str):
            continue
        if name in seen:
            sentence = f"two rules are called {quoted(name)}; give each [[also]] its own name."
            source.blame(("also", nth, "name"), sentence)
        seen.add(name)


def _met_in(source: RulebookText, path: Path, table: Mapping[str, Any]) -> int:
    value = table.get("met_in", "all")
    if table.get("over") == "together" and "met_in" in table:
        sentence = 'met_in belongs to over = "each"; take it out, or count each by itself.'
        source.blame((*path, "met_in"), sentence)
    if isinstance(value, str) and value in _IN_WORDS:
        return _IN_WORDS[value]
    if not is_whole(value) or not 1 <= value <= MOST_COMPOUNDS:
        sentence = (
            f'met_in must be "all", "any" or a whole number between 1 and {MOST_COMPOUNDS}, '
            f"found {shown(value)}."
        )
        source.blame((*path, "met_in"), sentence)
        return 0
    return value


def _compounds(
    source: RulebookText, path: Path, table: Mapping[str, Any], shelf: Collection[str] | None
) -> tuple[str, ...]:
    if "compounds" not in table:
        return ()
    if table["compounds"] == []:
        sentence = "compounds is an empty list; leave it out to mean the critical ones."
        source.blame((*path, "compounds"), sentence)
        return ()
    return read_compounds(source, (*path, "compounds"), table["compounds"], shelf) or ()


def _rule(source: RulebookText, path: Path, table: Mapping[str, Any]) -> Any:  # noqa: ANN401
    """The rule itself; None where ``by`` or one of its keys was blamed."""
    by = table.get("by")
    if "by" not in table:
        choice = listed(f'"{word}"' for word in COMPOUND_KINDS)
        source.blame(path, f"by is missing from [[also]]; write by = one of {choice}.")
        return None
    faults = list(word_faults("by", by, tuple(COMPOUND_KINDS)))
    for _, sentence in faults:
        source.blame((*path, "by"), sentence)
    if faults:
        return None
    rest = {key: value for key, value in table.items() if key not in _OWN_KEYS}
    return read_kind(source, path, rest, COMPOUND_KINDS[by], COMPOUND_KINDS)
