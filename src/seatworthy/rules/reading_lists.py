"""The lists of compounds in a rulebook: critical, expected, and those a further rule names."""

from collections.abc import Collection, Iterator

from seatworthy.rules.reading_lines import Path
from seatworthy.rules.reading_text import RulebookText, listed, nearest, quoted, shown
from seatworthy.rules.rulebook import FamilyLists, Item

Shelf = Collection[str] | None


def read_critical(source: RulebookText, shelf: Shelf) -> tuple[Item, ...] | None:
    """The section ``[critical]``; None where something was blamed."""
    found = source.found.get("critical")
    if not isinstance(found, dict) or "compounds" not in found:
        sentence = '[critical] needs a list called compounds, like compounds = ["diacetyl", "dms"].'
        source.blame(("critical",), sentence)
        return None
    blame_strange_keys(source, ("critical",), found, ("compounds",))
    return read_items(source, ("critical", "compounds"), found["compounds"], shelf)


def read_families(source: RulebookText, shelf: Shelf) -> dict[str, FamilyLists]:
    """The sections ``[family.wheat]`` and the like, by the key of the beer family."""
    tables = source.found.get("family", {})
    if not isinstance(tables, dict):
        source.blame(("family",), f"family must be written [family.wheat]; found {shown(tables)}.")
        return {}
    families = {}
    for key, table in tables.items():
        if not isinstance(table, dict):
            sentence = f"{quoted(key)} must be a section, written [family.some_beer_family]."
            source.blame(("family", key), sentence)
        elif (lists := _family(source, key, table, shelf)) is not None:
            families[key] = lists
    return families


def _family(
    source: RulebookText, key: str, table: dict[str, object], shelf: Shelf
) -> FamilyLists | None:
    path: Path = ("family", key)
    blame_strange_keys(source, path, table, ("critical", "expected"))
    critical = None
    if "critical" in table:
        critical = read_items(source, (*path, "critical"), table["critical"], shelf)
    else:
        sentence = f'critical is missing from [family.{key}]; write critical = ["diacetyl"].'
        source.blame(path, sentence)
    expected = read_compounds(source, (*path, "expected"), table.get("expected", []), shelf)
    if critical is None or expected is None:
        return None
    clashing = {compound for item in critical for compound in item} & set(expected)
    for compound in sorted(clashing):
        sentence = (
            f"{compound} is both critical and expected in [family.{key}]; keep it in one list."
        )
        source.blame((*path, "expected", expected.index(compound)), sentence)
    return FamilyLists(critical, expected)


def read_items(
    source: RulebookText, path: Path, found: object, shelf: Shelf
) -> tuple[Item, ...] | None:
    """Compounds, and groups of which one counts; None where something was blamed."""
    before = len(source.faults)
    if not isinstance(found, list) or not found:
        sentence = f"{path[-1]} must be a list of at least one compound, found {shown(found)}."
        source.blame(path, sentence)
        return None
    items = []
    for place, item in enumerate(found):
        if isinstance(item, list) and not item:
            sentence = "an empty group: name at least one compound in it or take it out."
            source.blame((*path, place), sentence)
        group = item if isinstance(item, list) else [item]
        items.append(tuple(group))
    _blame_compounds(source, list(_placed(path, found)), shelf)
    return tuple(items) if len(source.faults) == before else None


def read_compounds(
    source: RulebookText, path: Path, found: object, shelf: Shelf
) -> tuple[str, ...] | None:
    """A plain list of compounds, which may be empty; None where something was blamed."""
    before = len(source.faults)
    if not isinstance(found, list):
        sentence = f"{path[-1]} must be a list of compounds, found {shown(found)}."
        source.blame(path, sentence)
        return None
    _blame_compounds(source, [((*path, place), item) for place, item in enumerate(found)], shelf)
    return tuple(found) if len(source.faults) == before else None


def blame_strange_keys(
    source: RulebookText, path: Path, table: dict[str, object], known: Collection[str]
) -> None:
    """Note every key that a section does not know."""
    for key in (key for key in table if key not in known):
        section = ".".join(str(part) for part in path)
        sentence = (
            f"{quoted(key)} is not a word of [{section}]; it knows {listed(known)}."
            f"{nearest(key, known)}"
        )
        source.blame((*path, key), sentence)


def _placed(path: Path, found: list[object]) -> Iterator[tuple[Path, object]]:
    for place, item in enumerate(found):
        if isinstance(item, list):
            yield from (((*path, place, inner), one) for inner, one in enumerate(item))
        else:
            yield (*path, place), item


def _blame_compounds(source: RulebookText, placed: list[tuple[Path, object]], shelf: Shelf) -> None:
    seen: set[str] = set()
    for path, compound in placed:
        if not isinstance(compound, str) or not compound.strip():
            sentence = (
                f"{shown(compound)} is no compound; write its key in quotation marks, like "
                '"diacetyl", or a group of keys in brackets.'
            )
            source.blame(path, sentence)
        elif compound in seen:
            source.blame(path, f"{quoted(compound)} stands twice in one list; take one out.")
        elif shelf is not None and compound not in shelf:
            sentence = (
                f"{quoted(compound)} is not on the shelf; put it there or take it out here."
                f"{nearest(compound, shelf)}"
            )
            source.blame(path, sentence)
        seen |= {compound} if isinstance(compound, str) else set()
