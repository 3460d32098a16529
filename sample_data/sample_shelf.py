"""Writes the shelf file of the sample brewery: what a brewery would state, no truth about people."""

from collections.abc import Iterator, Mapping
from typing import Any

SINCE = "2025-01-01"


def shelf_text(truth: Mapping[str, Any]) -> str:
    """The whole shelf file as text."""
    parts = (_brewery, _families, _beers, _thresholds, _backgrounds, _synonyms)
    opening = "# What stands on the shelf of the sample brewery. Everything here is invented."
    return "\n".join([opening, *(line for part in parts for line in part(truth))]) + "\n"


def _brewery(truth: Mapping[str, Any]) -> Iterator[str]:
    yield from _table("\n[brewery]", truth["brewery"])


def _families(truth: Mapping[str, Any]) -> Iterator[str]:
    for key, facts in truth["families"].items():
        shown = {name: facts[name] for name in ("label", "critical", "expected")}
        yield from _table(f"\n[beer_families.{key}]", shown)


def _beers(truth: Mapping[str, Any]) -> Iterator[str]:
    for key, facts in truth["families"].items():
        shown = {"label": facts["beer"], "family": key, "abv": facts["abv"]}
        yield from _table("\n[[base_beers]]", shown)


def _thresholds(truth: Mapping[str, Any]) -> Iterator[str]:
    for compound, facts in truth["compounds"].items():
        for family, value in facts["thresholds"].items():
            shown = {"compound": compound}
            if family != "all":
                shown["family"] = family
            shown |= {"value": value, "unit": facts["unit"]}
            yield from _table("\n[[working_thresholds]]", shown)
            yield f"from = {SINCE}"


def _backgrounds(truth: Mapping[str, Any]) -> Iterator[str]:
    for facts in truth["families"].values():
        for row in facts["backgrounds"]:
            yield from _table("\n[[backgrounds]]", {"beer": facts["beer"], **row})
            yield f"from = {SINCE}"


def _synonyms(truth: Mapping[str, Any]) -> Iterator[str]:
    for compound, facts in truth["compounds"].items():
        shown = {"compound": compound, "words": facts["synonyms"]}
        yield from _table("\n[[synonyms]]", shown)


def _table(heading: str, entries: Mapping[str, Any]) -> Iterator[str]:
    yield heading
    for name, value in entries.items():
        yield f"{name} = {_value(value)}"


def _value(value: object) -> str:
    if isinstance(value, list):
        return "[" + ", ".join(_value(item) for item in value) + "]"
    return f'"{value}"' if isinstance(value, str) else str(value)
