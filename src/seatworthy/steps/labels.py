"""Short names for compounds and people, as they stand in tables and sentences."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from unicodedata import normalize


def short_label(label: str) -> str:
    """The word people say: the one in brackets if there is one, with a capital."""
    bracket = re.search(r"\(([^()]+)\)$", label)
    word = bracket.group(1) if bracket else label
    return word[:1].upper() + word[1:]


def choice_label(label: str) -> str:
    """The word people say, then the long name, so that either finds it in a list."""
    short = short_label(label)
    rest = label.rsplit(" (", 1)[0] if label.endswith(")") else ""
    return f"{short}, {rest}" if rest and rest.casefold() != short.casefold() else short


def describing_word(label: str, descriptors: str) -> str:
    """The first descriptor that the short name does not say already."""
    known = short_label(label).casefold()
    words = (word for word in descriptors.split("|") if word)
    return next((word for word in words if word.casefold() not in known), "")


def first_names(people: Mapping[str, str]) -> dict[str, str]:
    """First name by person id; the whole name where two share the first, or it is an initial."""
    firsts = Counter(_first(name) for name in people.values())
    return {
        person: _first(name)
        if firsts[_first(name)] == 1 and len(_first(name).rstrip(".")) > 1
        else name
        for person, name in people.items()
    }


def item_label(item: Iterable[str], labels: Mapping[str, str]) -> str:
    """A critical compound, or "Acetic acid or lactic acid" for a group of which one counts."""
    words = [short_label(labels.get(compound, compound)) for compound in item]
    return " or ".join([words[0], *(word[:1].lower() + word[1:] for word in words[1:])])


def name_in_file(name: str, person_id: str) -> str:
    """A person's name as a part of a file's name: plain letters, and a bit of the id beside them."""
    letters = normalize("NFKD", name).encode("ascii", "ignore").decode()
    plain = re.sub(r"[^A-Za-z0-9]+", "-", letters).strip("-").lower()
    return f"{plain}-{person_id[:4]}".strip("-")


def _first(name: str) -> str:
    return name.split()[0] if name.split() else name
