"""The shelf file: what stands on the brewery's shelf, checked, all faults at once."""

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Final

from seatworthy.errors import Fault, FileRefused
from seatworthy.intake.answers import NOTHING_WORDS, SOMETHING_WORDS, WORDS_LENGTH
from seatworthy.intake.cells import rounded
from seatworthy.intake.sheets import read_bytes
from seatworthy.intake.shelf_cells import (
    KEY_RULE,
    is_key,
    read_key,
    read_known,
    read_time_zone,
    read_unit,
)
from seatworthy.intake.shelf_items import (
    Background,
    BaseBeer,
    BeerFamily,
    Brewery,
    Compound,
    Shelf,
    Synonym,
    WorkingThreshold,
)
from seatworthy.intake.shelf_text import Entry, ShelfText
from seatworthy.intake.words import Unreadable, Vocabulary, fold, quoted, read_name, read_text

LARGEST: Final = 1_000_000  # bytes
HIGHEST_ABV: Final = 30
_HIGHEST_UG_L: Final = 100_000_000
_HEADS: Final = (
    *("brewery", "beer_families", "base_beers", "working_thresholds", "backgrounds"),
    *("synonyms", "compounds"),
)


def read_shelf(path: Path, vocabulary: Vocabulary) -> Shelf:
    """Read a shelf file.

    Args:
        path: TOML, UTF-8.
        vocabulary: The words that stand for a compound today; the file may add to them.

    Raises:
        FileRefused: with every fault of the file.
    """
    text = ShelfText(path.name, _text_of(path))
    for head in text.found.keys() - set(_HEADS):
        known = ", ".join(_HEADS)
        text.blame(text.line_of(head, 0), f"{quoted(head)} is not known here; known are {known}.")
    reader = _ShelfReader(text, vocabulary)
    shelf = reader.read()
    if text.faults:
        raise FileRefused(path.name, sorted(text.faults, key=lambda fault: fault.line or 0))
    return shelf


def _text_of(path: Path) -> str:
    data = read_bytes(path, LARGEST)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        fault = Fault(line, "is not UTF-8 text; save the file as UTF-8.")
        raise FileRefused(path.name, [fault]) from error


class _ShelfReader:
    """Reads the tables in the order in which one refers to another."""

    def __init__(self, text: ShelfText, vocabulary: Vocabulary) -> None:
        self._text, self._vocabulary = text, vocabulary
        self._own: dict[str, str] = {}  # compound by folded wording, of this file
        self._families: set[str] = set()
        self._beers: dict[str, str] = {}
        self._stated: dict[object, int | None] = {}

    def read(self) -> Shelf:
        compounds = tuple(self._compounds())
        synonyms = tuple(self._synonyms())
        families = tuple(self._beer_families())
        return Shelf(
            brewery=self._brewery(),
            families=families,
            base_beers=tuple(self._base_beers()),
            working_thresholds=tuple(self._working_thresholds()),
            backgrounds=tuple(self._backgrounds()),
            synonyms=synonyms,
            compounds=compounds,
        )

    def _brewery(self) -> Brewery | None:
        found = self._text.single("brewery")
        if found is None:
            return None
        with found as entry:
            name, zone = entry.text("name", read_name), entry.text("time_zone", read_time_zone)
        return Brewery(name, zone) if entry.is_whole else None

    def _compounds(self) -> Iterator[Compound]:
        for entry in self._text.listed("compounds"):
            with entry:
                key, label = entry.text("key", read_key), entry.text("label", read_name)
            if not entry.is_whole or self._is_repeated(entry, ("compound", key), key):
                continue
            meant = self._vocabulary.find(key)
            if meant not in (None, key):
                entry.blame(
                    "key", f"{quoted(key)} is a wording of {meant} already; choose another."
                )
                continue
            self._own |= {fold(key): key, fold(label): key}
            if meant is None:
                yield Compound(key, label)

    def _synonyms(self) -> Iterator[Synonym]:
        for entry in self._text.listed("synonyms"):
            with entry:
                compound = entry.text("compound", self._compound)
                if not entry.has("words"):
                    entry.blame("words", 'words is missing; write a list like ["sweetcorn"].')
                words = [
                    self._wording(entry, wording, compound) for wording in entry.texts("words")
                ]
            if entry.is_whole:
                yield Synonym(compound, tuple(words))

    def _wording(self, entry: Entry, wording: object, compound: str | None) -> str:
        text = wording if isinstance(wording, str) else ""
        key = fold(text)
        if not key:
            entry.blame("words", f"a wording must be a text with letters, got {quoted(wording)}.")
        elif key in NOTHING_WORDS or key in SOMETHING_WORDS:
            entry.blame("words", f"{quoted(text)} names no compound; take it out.")
        elif compound and self._own.setdefault(key, compound) != compound:
            entry.blame("words", f"{quoted(text)} stands for {self._own[key]} too; give it to one.")
        try:
            return read_text(text, WORDS_LENGTH)
        except Unreadable as fault:
            entry.blame("words", f"a wording {fault}")
            return ""

    def _beer_families(self) -> Iterator[BeerFamily]:
        for key, entry in self._text.named("beer_families"):
            with entry:
                self._families.add(key)
                if not is_key(key):
                    entry.blame(None, f"the key {quoted(key)} {KEY_RULE}.")
                label = entry.text("label", read_name) if entry.has("label") else key
                critical = self._items(entry, "critical")
                expected = self._items(entry, "expected")
            if entry.is_whole:
                yield BeerFamily(key, label, critical, expected)

    def _items(self, entry: Entry, key: str) -> tuple[tuple[str, ...], ...]:
        """Compounds and groups of them, each compound once."""
        groups, seen = [], set()
        for item in entry.texts(key):
            group = []
            for wording in item if isinstance(item, list) else [item]:
                compound = self._listed_compound(entry, key, wording)
                if compound in seen:
                    entry.blame(key, f"{key} lists {compound} twice; take one out.")
                elif compound is not None:
                    seen.add(compound)
                    group.append(compound)
            groups.append(tuple(group))
            if item == []:
                entry.blame(key, f"{key} holds an empty group; take it out.")
        return tuple(groups)

    def _listed_compound(self, entry: Entry, key: str, wording: object) -> str | None:
        try:
            return self._compound(wording if isinstance(wording, str) else str(wording))
        except Unreadable as fault:
            entry.blame(key, f"a compound in {key} {fault}")
            return None

    def _base_beers(self) -> Iterator[BaseBeer]:
        for entry in self._text.listed("base_beers"):
            with entry:
                label = entry.text("label", read_name)
                family = entry.text("family", self._family)
                abv = entry.number("abv", 0, HIGHEST_ABV) if entry.has("abv") else None
            if label is not None and not self._is_repeated(entry, ("beer", fold(label)), label):
                self._beers[fold(label)] = label
            if entry.is_whole:
                yield BaseBeer(label, family, None if abv is None else round(abv, 2))

    def _working_thresholds(self) -> Iterator[WorkingThreshold]:
        for entry in self._text.listed("working_thresholds"):
            with entry:
                compound = entry.text("compound", self._compound)
                family = entry.text("family", self._family) if entry.has("family") else None
                ug_l, since = self._concentration(entry), entry.day("from")
            if ug_l == 0:
                entry.blame("value", "value must be above 0.")
            stated = ("threshold", compound, family, since)
            if entry.is_whole and not self._is_repeated(entry, stated, f"{compound} from {since}"):
                yield WorkingThreshold(compound, family, ug_l, since)

    def _backgrounds(self) -> Iterator[Background]:
        for entry in self._text.listed("backgrounds"):
            with entry:
                beer = entry.text("beer", self._beer)
                compound = entry.text("compound", self._compound)
                known, since = entry.text("known", read_known), entry.day("from")
                ug_l = self._background_value(entry, known)
            stated = ("background", beer, compound, since)
            if entry.is_whole and not self._is_repeated(entry, stated, f"{compound} from {since}"):
                yield Background(beer, compound, ug_l, known, since)

    def _background_value(self, entry: Entry, known: str | None) -> Decimal | None:
        has_value, _ = entry.has("value"), entry.has("unit")
        if known != "unknown":
            return self._concentration(entry)
        if has_value:
            entry.blame("value", 'a value is given although known = "unknown"; leave one out.')
        return None

    def _concentration(self, entry: Entry) -> Decimal | None:
        """Value and unit in micrograms per litre."""
        value, factor = entry.number("value", 0, _HIGHEST_UG_L), entry.text("unit", read_unit)
        if value is None or factor is None:
            return None
        ug_l = rounded(value * factor)
        if ug_l > _HIGHEST_UG_L or (ug_l == 0 and value != 0):
            entry.blame(
                "value", f"value is beyond belief with this unit: {value}; correct one of them."
            )
        return ug_l

    def _is_repeated(self, entry: Entry, stated: object, what: str) -> bool:
        if stated not in self._stated:
            self._stated[stated] = entry.line
            return False
        entry.blame(None, f"{what} is stated already on line {self._stated[stated]}; keep one.")
        return True

    def _compound(self, text: str) -> str:
        key = self._own.get(fold(text)) or self._vocabulary.find(text)
        if key is None:
            near = ", ".join(self._vocabulary.nearest(text))
            hint = f" Nearest: {near}." if near else ""
            message = (
                f"is not on the shelf: {quoted(text)}.{hint} Add a new one under [[compounds]]."
            )
            raise Unreadable(message)
        return key

    def _family(self, text: str) -> str:
        if text not in self._families:
            known = ", ".join(sorted(self._families)) or "none"
            message = (
                f"must be one of the families under [beer_families] ({known}), got {quoted(text)}."
            )
            raise Unreadable(message)
        return text

    def _beer(self, text: str) -> str:
        label = self._beers.get(fold(text))
        if label is None:
            known = ", ".join(self._beers.values()) or "none"
            message = (
                f"must be one of the beers under [[base_beers]] ({known}), got {quoted(text)}."
            )
            raise Unreadable(message)
        return label
