"""Reads a rulebook from its text: all faults at once, each with its line."""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import fields
from datetime import date
from pathlib import Path
from typing import Any

from seatworthy.errors import Fault, RulebookRefused
from seatworthy.rules.rulebook import SECTIONS, Item, Rulebook


def read_rulebook(name: str, text: str) -> Rulebook:
    """Read and check a rulebook.

    Args:
        name: What to call the file in messages.
        text: Its TOML.

    Raises:
        RulebookRefused: with every unknown or missing key, impossible number and contradiction.
    """
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line = re.search(r"line (\d+)", str(error))
        fault = Fault(int(line.group(1)) if line else None, f"not readable as TOML: {error}.")
        raise RulebookRefused(name, [fault]) from error
    faults = sorted(
        (Fault(_line_of(text, *place), sentence) for place, sentence in _faults(found)),
        key=lambda fault: fault.line or 0,
    )
    if faults:
        raise RulebookRefused(name, faults)
    book = _built(found)
    contradictions = [Fault(_line_of(text, *place), s) for place, s in _contradictions(book)]
    if contradictions:
        raise RulebookRefused(name, contradictions)
    return book


def rulebook_on_menu(name: str) -> Rulebook:
    """One of the rulebooks that travel with the program."""
    path = Path(__file__).with_name("menu") / f"{name}.toml"
    return read_rulebook(path.name, path.read_text(encoding="utf-8"))


Place = tuple[str, str]  # section ("" for the top) and key


def _faults(found: dict[str, Any]) -> Iterator[tuple[Place, str]]:
    top = {"name": str, "version": int, "counts_from": date}
    yield from _top_faults(found, top)
    for section, kind in SECTIONS.items():
        values = found.get(section)
        if not isinstance(values, dict):
            yield (section, ""), f"the section [{section}] is missing."
            continue
        yield from _section_faults(section, values, kind)
    yield from _critical_faults(found.get("critical"))


def _top_faults(found: dict[str, Any], top: dict[str, type]) -> Iterator[tuple[Place, str]]:
    for key, kind in top.items():
        if type(found.get(key)) is not kind:
            meant = {str: "a text", int: "a whole number", date: "a day like 2026-03-01"}[kind]
            yield ("", key), f"{key} must be {meant}, found {found.get(key)!r}."
    for key in found.keys() - top.keys() - SECTIONS.keys() - {"critical"}:
        yield ("", key), f"{key} is not a word of a rulebook."


def _section_faults(
    section: str, values: dict[str, Any], kind: type
) -> Iterator[tuple[Place, str]]:
    known = {entry.name: entry for entry in fields(kind)}
    for key in values.keys() - known.keys():
        yield (section, key), f"{key} is not a word of [{section}]; it knows {', '.join(known)}."
    for key, entry in known.items():
        value, low, high = values.get(key), entry.metadata["low"], entry.metadata["high"]
        allowed = int if entry.type is int else (int, float)
        if value is None:
            yield (section, key), f"{key} is missing from [{section}]."
        elif isinstance(value, bool) or not isinstance(value, allowed):
            meant = "a whole number" if entry.type is int else "a number"
            yield (section, key), f"{key} must be {meant}, found {value!r}."
        elif not low <= value <= high:
            yield (section, key), f"{key} must lie between {low:g} and {high:g}, found {value!r}."


def _critical_faults(found: object) -> Iterator[tuple[Place, str]]:
    items = found.get("compounds") if isinstance(found, dict) else None
    if not isinstance(items, list) or not items:
        yield ("critical", "compounds"), "[critical] needs a list called compounds."
        return
    for item in items:
        group = item if isinstance(item, list) else [item]
        if not group or not all(isinstance(compound, str) for compound in group):
            yield ("critical", "compounds"), f"{item!r} is neither a compound nor a group of them."


def _contradictions(book: Rulebook) -> Iterator[tuple[Place, str]]:
    """Rules that no evidence could meet, or that say two things at once."""
    if book.counted.lowest_level > book.counted.highest_level:
        yield (
            ("counted", "lowest_level"),
            "no glass can count: lowest_level is above highest_level.",
        )
    if book.compound.days > book.compound.glasses:
        yield ("compound", "days"), "days above glasses: every glass would need more than one day."
    if book.compound.not_met_when_below >= book.compound.met_when_sure:
        yield ("compound", "not_met_when_below"), "one chance would be both met and not met."
    if book.compound.met_ends_below > book.compound.met_when_sure:
        yield ("compound", "met_ends_below"), "a met would end on the day it is met."
    if book.seat.critical_met > len(book.critical):
        yield (
            ("seat", "critical_met"),
            (
                f"{book.seat.critical_met} critical compounds are asked for, "
                f"[critical] lists {len(book.critical)}."
            ),
        )
    if book.panel.people_per_compound > book.panel.quorum:
        yield ("panel", "quorum"), "a full quorum could not cover one compound."


def _built(found: dict[str, Any]) -> Rulebook:
    sections = {name: kind(**found[name]) for name, kind in SECTIONS.items()}
    return Rulebook(
        name=found["name"],
        version=found["version"],
        counts_from=found["counts_from"],
        critical=tuple(as_item(item) for item in found["critical"]["compounds"]),
        **sections,
    )


def as_item(item: str | list[str]) -> Item:
    """A compound, or a group of which one counts, as a tuple."""
    return (item,) if isinstance(item, str) else tuple(item)


def _line_of(text: str, section: str, key: str) -> int | None:
    """Line of a key in its section, or of the section's head; None if neither is there."""
    current, head = "", None
    for number, line in enumerate(text.splitlines(), start=1):
        start = line.strip()
        if match := re.match(r"\[\s*([\w.]+)\s*\]", start):
            current = match.group(1)
            head = number if current == section else head
        elif current == section and key and re.match(rf"{re.escape(key)}\s*=", start):
            return number
    return head
