"""Values of a section against what its kind of rule says of them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import MISSING, Field, fields
from math import isfinite
from typing import Any, Final

from seatworthy.rules.reading_lines import Path
from seatworthy.rules.reading_text import RulebookText, listed, nearest, quoted, shown

_WHOLE: Final = (int, int | None)


def read_kind(
    text: RulebookText,
    path: Path,
    values: Mapping[str, Any],
    kind: type,
    others: Mapping[str, type] | None = None,
) -> Any:  # noqa: ANN401
    """Build one rule from the values of its section.

    Args:
        text: Where faults are noted.
        path: Where the section stands.
        values: Its keys, those that choose the kind taken away.
        kind: The dataclass of the rule.
        others: The kinds that ``by`` could have chosen, to say whose key a strange one is.

    Returns:
        The rule; None where something was blamed.
    """
    before = len(text.faults)
    known = {entry.name: entry for entry in fields(kind)}
    for key in (key for key in values if key not in known):
        text.blame((*path, key), _strange_key(path, key, known, others or {}))
    given = {}
    for key, entry in known.items():
        if key not in values:
            if entry.default is MISSING:
                text.blame(path, f"{key} is missing from {head(path)}; {_write(key, entry)}")
            continue
        faults = list(_faults(key, values[key], entry))
        for inner, sentence in faults:
            text.blame((*path, key, *inner), sentence)
        given[key] = tuple(values[key]) if isinstance(values[key], list) else values[key]
    return kind(**given) if len(text.faults) == before else None


def head(path: Path) -> str:
    """How a section is written."""
    keys = [str(part) for part in path if isinstance(part, str)]
    marks = ("[[", "]]") if any(isinstance(part, int) for part in path) else ("[", "]")
    return f"{marks[0]}{'.'.join(keys)}{marks[1]}"


def is_number(value: object) -> bool:
    """Whether it is a number that can be compared; true and false are none."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def is_whole(value: object) -> bool:
    """Whether it is a whole number; true and false are none."""
    return isinstance(value, int) and not isinstance(value, bool)


def _strange_key(
    path: Path, key: str, known: Mapping[str, object], others: Mapping[str, type]
) -> str:
    owners = [
        f'by = "{word}"'
        for word, kind in others.items()
        if key in {entry.name for entry in fields(kind)}
    ]
    if owners:
        return f"{key} belongs to {' or '.join(owners)}; take it out of {head(path)} or change by."
    return (
        f"{quoted(key)} is not a word of {head(path)}; it knows {listed(known)}."
        f"{nearest(key, known.keys())}"
    )


def _faults(key: str, value: object, entry: Field[Any]) -> Iterator[tuple[Path, str]]:
    if "is_flag" in entry.metadata:
        if not isinstance(value, bool):
            yield (), f"{key} must be true or false, found {shown(value)}."
    elif "is_list" in entry.metadata:
        yield from _list_faults(key, value, entry.metadata["words"])
    elif "words" in entry.metadata:
        yield from word_faults(key, value, entry.metadata["words"])
    else:
        yield from _number_faults(key, value, entry)


def word_faults(key: str, value: object, words: Sequence[str]) -> Iterator[tuple[Path, str]]:
    """A fault if the value is not one of the words."""
    if not isinstance(value, str) or value not in words:
        near = nearest(value, words) if isinstance(value, str) else ""
        choice = listed(f'"{word}"' for word in words)
        yield (), f"{key} must be one of {choice}; found {shown(value)}.{near}"


def _list_faults(key: str, value: object, words: Sequence[str]) -> Iterator[tuple[Path, str]]:
    if not isinstance(value, list) or not value:
        choice = listed(f'"{word}"' for word in words)
        yield (), f"{key} must be a list of at least one of {choice}; found {shown(value)}."
        return
    for place, word in enumerate(value):
        for _, sentence in word_faults(f"each word of {key}", word, words):
            yield (place,), sentence
        if isinstance(word, str) and word in value[:place]:
            yield (place,), f"{shown(word)} stands twice in {key}; take one out."


def _number_faults(key: str, value: object, entry: Field[Any]) -> Iterator[tuple[Path, str]]:
    wants_whole = entry.type in _WHOLE
    low, high = entry.metadata["low"], entry.metadata["high"]
    if not (is_whole(value) if wants_whole else is_number(value)):
        meant = "a whole number" if wants_whole else "a number"
        yield (), f"{key} must be {meant} between {low:g} and {high:g}, found {shown(value)}."
    elif isinstance(value, float) and not isfinite(value) or not low <= value <= high:
        as_share = f" Write a share of 1: {value / 100:g}?" if high <= 1 < value <= 100 else ""
        yield (), f"{key} must lie between {low:g} and {high:g}, found {shown(value)}.{as_share}"


def _write(key: str, entry: Field[Any]) -> str:
    if "words" in entry.metadata:
        choice = " or ".join(f'"{word}"' for word in entry.metadata["words"])
        return f"write {key} = {choice}."
    low, high = entry.metadata["low"], entry.metadata["high"]
    meant = "a whole number" if entry.type in _WHOLE else "a number"
    return f"write {key} = {meant} between {low:g} and {high:g}."
