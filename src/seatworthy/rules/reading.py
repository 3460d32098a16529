"""Reads a rulebook from its text: all faults at once, each with its line."""

from collections.abc import Collection, Mapping
from dataclasses import fields
from datetime import date, datetime
from typing import Any, Final

from seatworthy.rules.contradictions import blame_contradictions
from seatworthy.rules.reading_also import read_also
from seatworthy.rules.reading_lists import read_critical, read_families
from seatworthy.rules.reading_text import RulebookText, listed, nearest, quoted, shown
from seatworthy.rules.reading_values import is_whole, read_kind, word_faults
from seatworthy.rules.rulebook import CHOSEN_BY, EVERY_SECTION, NEEDED, SECTIONS, Asked, Rulebook
from seatworthy.rules.texts import rulebook_text

HIGHEST_VERSION: Final = 9999
LONGEST_NAME: Final = 60
LONGEST_TEXT: Final = 1000
_MENU: Final = ("default", "strict", "micro", "plain")
_EXAMPLES: Final = ("olive_oil", "olfactometry", "triangles", "matching")
_TOP: Final = ("name", "version", "counts_from", "about", "follows")
_WRITTEN: Final = {"families": "family"}  # [family.wheat] in the file


def read_rulebook(name: str, text: str, shelf: Collection[str] | None = None) -> Rulebook:
    """Read and check a rulebook.

    Args:
        name: What to call the file in messages.
        text: Its TOML.
        shelf: Keys of the compounds that stand on the shelf; None to take any compound.

    Raises:
        RulebookRefused: with every unknown or missing key, impossible number, rule that no
            evidence could meet and contradiction.
    """
    source = RulebookText(name, text)
    parts = _top(source)
    _blame_strange_sections(source)
    parts |= {section: _section(source, section) for section in (*SECTIONS, *CHOSEN_BY)}
    parts["critical"] = read_critical(source, shelf)
    parts["families"] = read_families(source, shelf)
    parts["also"] = read_also(source, shelf)
    if "asked" not in source.found:
        parts["asked"] = Asked()
    blame_contradictions(source, parts)
    source.refuse_if_blamed()
    return Rulebook(**parts)


def menu() -> tuple[str, ...]:
    """Names of the rulebooks that a brewery can take as they are."""
    return _MENU


def examples() -> tuple[str, ...]:
    """Names of the worked examples after published practice."""
    return _EXAMPLES


def rulebook_on_menu(name: str) -> Rulebook:
    """One of the rulebooks that travel with the program, the examples among them.

    Raises:
        ValueError: if there is none of that name.
    """
    return read_rulebook(f"{name}.toml", rulebook_text(name))


def _top(source: RulebookText) -> dict[str, Any]:
    found = source.found
    _blame_text(source, "name", LONGEST_NAME)
    _blame_text(source, "about", LONGEST_TEXT)
    if "follows" in found and found["follows"] != "":
        _blame_text(source, "follows", LONGEST_TEXT)
    version, day = found.get("version"), found.get("counts_from")
    if not is_whole(version) or not 1 <= version <= HIGHEST_VERSION:
        sentence = (
            f"version must be a whole number from 1 to {HIGHEST_VERSION}, found "
            f"{_found(source, 'version')}."
        )
        source.blame(("version",), sentence)
    if not isinstance(day, date) or isinstance(day, datetime):
        sentence = (
            "counts_from must be a day without a time and without quotation marks, like "
            f"2026-03-01; found {_found(source, 'counts_from')}."
        )
        source.blame(("counts_from",), sentence)
    return {"follows": ""} | {key: found[key] for key in _TOP if key in found}


def _blame_text(source: RulebookText, key: str, longest: int) -> None:
    value = source.found.get(key)
    if not isinstance(value, str) or not value.strip():
        sentence = f"{key} must be a text in quotation marks, found {_found(source, key)}."
        source.blame((key,), sentence)
    elif not value.isprintable() or value != value.strip():
        sentence = (
            f"{key} must be printable text in one line without blanks at its ends, found "
            f"{shown(value)}."
        )
        source.blame((key,), sentence)
    elif len(value) > longest:
        sentence = f"{key} must have at most {longest} characters, found {len(value)}; shorten it."
        source.blame((key,), sentence)


def _found(source: RulebookText, key: str) -> str:
    return shown(source.found[key]) if key in source.found else "nothing"


def _blame_strange_sections(source: RulebookText) -> None:
    sections = [_WRITTEN.get(section, section) for section in EVERY_SECTION]
    known = {*_TOP, *sections}
    for key, value in source.found.items():
        if key in known:
            continue
        what = "section" if isinstance(value, dict | list) else "key"
        choice = listed(sections if what == "section" else _TOP)
        sentence = (
            f"{quoted(key)} is not a {what} of a rulebook; the {what}s are {choice}."
            f"{nearest(key, known)}{_home_of(key)}"
        )
        source.blame((key,), sentence)


def _home_of(key: str) -> str:
    """Where a key that stands above all sections would belong."""
    kinds = [(section, kind) for section, kind in SECTIONS.items()]
    kinds += [(section, kind) for section, some in CHOSEN_BY.items() for kind in some.values()]
    homes = dict.fromkeys(
        f"[{section}]" for section, kind in kinds if key in {entry.name for entry in fields(kind)}
    )
    return f" It belongs in {' or '.join(homes)}." if homes else ""


def _section(source: RulebookText, section: str) -> Any:  # noqa: ANN401
    """One section as the rule it says; None where it is left out or something was blamed."""
    values = source.found.get(section)
    if values is None:
        if section in NEEDED:
            sentence = (
                f"the section [{section}] is missing; write it, a rulebook can't do without it."
            )
            source.blame((section,), sentence)
        return None
    if not isinstance(values, dict):
        sentence = f"{section} must be a section, written [{section}]; found {shown(values)}."
        source.blame((section,), sentence)
        return None
    if section in SECTIONS:
        return read_kind(source, (section,), values, SECTIONS[section])
    return _chosen(source, section, values)


def _chosen(source: RulebookText, section: str, values: Mapping[str, Any]) -> Any:  # noqa: ANN401
    """A section whose kind ``by`` chooses; left out, it is the first."""
    kinds = CHOSEN_BY[section]
    by = values.get("by", next(iter(kinds)))
    faults = list(word_faults("by", by, tuple(kinds)))
    for _, sentence in faults:
        source.blame((section, "by"), sentence)
    if faults:
        return None
    rest = {key: value for key, value in values.items() if key != "by"}
    return read_kind(source, (section,), rest, kinds[by], kinds)
