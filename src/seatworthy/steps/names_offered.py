"""The names that a panellist may choose from, on paper and on a phone, whatever is poured today."""

import threading
from typing import Final
from weakref import WeakKeyDictionary

from seatworthy.intake.tables import vocabulary_rows
from seatworthy.intake.words import Vocabulary, fold
from seatworthy.steps.ballot_views import NameOffered
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import describing_word, short_label
from seatworthy.steps.words import vocabulary
from seatworthy.store.file import Store

FEWEST_NAMES: Final = 24

_kept: WeakKeyDictionary[Store, tuple[int, tuple[NameOffered, ...]]] = WeakKeyDictionary()
_keeping = threading.Lock()


def names_offered(desk: Desk) -> tuple[NameOffered, ...]:
    """Compounds that a panellist may name, by name; a short list is half the key.

    Those with a working threshold and the critical ones, filled up with others in the order of the
    shipped table, which begins with those that breweries meet most. Kept until the shelf or the rules
    change.
    """
    stamp = int(desk.store.rows("names_stamp")[0]["entry_no"])
    with _keeping:
        kept = _kept.get(desk.store)
    if kept is None or kept[0] != stamp:
        kept = (stamp, _names(desk))
        with _keeping:
            _kept[desk.store] = kept
    return kept[1]


def name_and_word(name: NameOffered) -> str:
    """A name with the word that is said of it: "Diacetyl, butterscotch"."""
    return f"{name.label}, {name.word}" if name.word else name.label


def _names(desk: Desk) -> tuple[NameOffered, ...]:
    care = {row["compound"]: row for row in desk.store.rows("compound_care")}
    own = {row["compound"] for row in desk.store.rows("compounds_with_threshold")}
    own |= {row["compound"] for row in desk.store.rows("family_compounds")}
    own |= {compound for item in desk.rulebook.critical for compound in item}
    shipped = [str(row["compound"]) for table, row in vocabulary_rows() if table == "compound"]
    others = [key for key in shipped if key not in own and care[key]["serve"] != "no"]
    offered = [*(own & care.keys()), *others[: max(0, FEWEST_NAMES - len(own))]]
    known = vocabulary(desk)
    wordings: dict[str, list[str]] = {}
    for row in desk.store.rows("wordings"):
        wordings.setdefault(row["label"], []).append(row["words"])
    names = [_name(key, care[key], wordings.get(care[key]["label"], []), known) for key in offered]
    return tuple(sorted(names, key=lambda name: name_and_word(name).casefold()))


def said_of(compound: str, label: str, known: Vocabulary) -> str:
    """The words by which an answer that names a compound is kept: its short name if that names it."""
    name = short_label(label)
    return name if known.find(name) == compound else compound


def _name(
    compound: str, row: dict[str, str], wordings: list[str], known: Vocabulary
) -> NameOffered:
    label, word = short_label(row["label"]), describing_word(row["label"], row["descriptors"])
    shown = {fold(compound), fold(label), fold(word)}
    rest = tuple(words for words in wordings if fold(words) not in shown)
    return NameOffered(compound, label, word, rest, said_of(compound, row["label"], known))
