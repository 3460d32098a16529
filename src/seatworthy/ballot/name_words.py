"""The words said of compounds, in the panellist's language; a name stays as the brewery wrote it."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from importlib.resources import files
from types import MappingProxyType

from seatworthy.ballot.shown import folded
from seatworthy.ballot.texts import LANGUAGES, USUAL
from seatworthy.steps.ballot_views import NameOffered


@dataclass(frozen=True)
class NameWord:
    """What is said of a shipped compound.

    Attributes:
        english: The shipped word; may be "".
        word: The same in another language.
    """

    english: str
    word: str


@cache
def name_words(language: str) -> Mapping[str, NameWord]:
    """Words by compound; none in English, in which they are shipped.

    Raises:
        FileNotFoundError: if there are none in that language.
    """
    if language == USUAL:
        return MappingProxyType({})
    file = files(__package__) / "texts" / f"words_{language}.toml"
    read = tomllib.loads(file.read_text("utf-8"))
    return MappingProxyType({compound: NameWord(**words) for compound, words in read.items()})


def in_language(names: Sequence[NameOffered], language: str) -> tuple[NameOffered, ...]:
    """Names with their word in a language; the English one becomes a further wording.

    A word that the brewery has changed stands as it is.
    """
    return _in_language(tuple(names), language)


@lru_cache(maxsize=len(LANGUAGES))  # a whole table has one list of names
def _in_language(names: tuple[NameOffered, ...], language: str) -> tuple[NameOffered, ...]:
    words = name_words(language)
    return tuple(_said_in(name, words.get(name.compound)) for name in names)


def _said_in(name: NameOffered, known: NameWord | None) -> NameOffered:
    if known is None or name.word != known.english or folded(known.word) == folded(name.label):
        return name
    english = (name.word,) if name.word else ()
    return replace(name, word=known.word, wordings=(*english, *name.wordings))


def wordings_offered(names: Sequence[NameOffered], language: str) -> Iterator[tuple[str, str]]:
    """What may be written of each name, and what is told beside it.

    A word of our own translation only leads to the name: no answer that holds it would be read.

    Args:
        names: As the ballot is given them.
        language: Of the ballot.
    """
    for name, said in zip(names, in_language(names, language), strict=True):
        yield name.label, said.word
        for wording in (name.word, *name.wordings):
            if wording:
                yield wording, name.label
