"""What an answer says, given its method: the words people use for nothing, something, right."""

import unicodedata
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from types import MappingProxyType
from typing import Final

from seatworthy.intake.cells import read_rating
from seatworthy.intake.words import Unreadable, Vocabulary, fold, quoted, read_text

WORDS_LENGTH: Final = 120


def _listed(words: str) -> frozenset[str]:
    return frozenset(fold(word) for word in words.split("|"))


NOTHING_WORDS: Final = _listed(
    "nothing|none|no|0|nil|clean|blank|nothing there|nothing found|not detected|no off flavour"
    "|no off-flavor|no taint|as it should be|nichts|kein|keine|keiner|sauber|nada|ninguno|ninguna|limpio"
)
SOMETHING_WORDS: Final = _listed(
    "something|something there|something else|yes|noticed|no name|name open|off|off flavour"
    "|off flavor|not as it should be|etwas|irgendwas|ja|algo|si"
)
_UNCLEAR_WORDS: Final = _listed(
    "n/a|na|x|ok|fine|unknown|unsure|not sure|don't know|dont know"
    "|absent|abs|away|missing|missed session|skipped|not tasted|didn't taste|did not taste"
    "|not there|not present|no show|out|off sick|sick|ill|holiday|on holiday|leave|on leave|late"
    "|left early|fehlt|abwesend|krank|urlaub|ausente|enfermo|vacaciones"
)
_RIGHT_WORDS: Final = _listed("right|correct|1|yes|y|true|hit|richtig|ja|correcto|correcta|si")
_WRONG_WORDS: Final = _listed("wrong|incorrect|0|no|n|false|miss|falsch|nein|incorrecto|incorrecta")
_YES_WORDS: Final = _listed("yes|y|1|true|there|different|ja|anders|si|diferente")
_NO_WORDS: Final = _listed("no|n|0|false|nothing|same|nein|nichts|gleich|nada|igual")
_BLANK_WORDS: Final = _listed(
    "blank|none|control|unspiked|not spiked|no spike|nothing added|plain|leer|blindprobe|blanco"
)

FORCED_CHOICE: Final = frozenset({"3afc", "triangle", "duo_trio", "2afc"})
_METHODS: Final = MappingProxyType(
    {
        "naming": "naming|name|identification|identify|description|benennen|identificacion",
        "3afc": "3afc|3 afc|three afc|3 alternative forced choice",
        "triangle": "triangle|triangle test|triangular|dreieckstest|dreieck",
        "duo_trio": "duo trio|duotrio|duo trio test",
        "2afc": "2afc|2 afc|two afc|paired comparison|2 alternative forced choice",
        "a_not_a": "a not a|a/not a|a or not a",
        "intensity": "intensity|intensity rating|rating|scale|intensitat|intensidad",
    }
)
_METHOD_OF: Final = {
    fold(word).replace(" ", ""): method
    for method, words in _METHODS.items()
    for word in words.split("|")
}


@dataclass(frozen=True, slots=True)
class Answer:
    """What an answer says.

    Attributes:
        kind: words, something, nothing, right, wrong, yes, no or rating.
        words: As written, for words.
        rating: The number, for rating.
    """

    kind: str
    words: str | None = None
    rating: Decimal | None = None


NOTHING: Final = Answer("nothing")
SOMETHING: Final = Answer("something")


def read_method(text: str) -> str:
    """Code of a method; raises `Unreadable` if it is not one of ours."""
    method = _METHOD_OF.get(fold(text).replace(" ", ""))
    if method is None:
        message = (
            f"must be naming, 3-AFC, triangle, duo-trio, 2-AFC, A/not-A or intensity, "
            f"got {quoted(text)}."
        )
        raise Unreadable(message)
    return method


class CompoundReader:
    """Reads what was added to a glass.

    Attributes:
        vocabulary: The words that stand for a compound.
        hints_left: Suggestions are costly; beyond so many unknown wordings none are made.
    """

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.hints_left = 40

    def read(self, text: str) -> str:
        """Key of the compound, or "" for a blank.

        Raises:
            Unreadable: if the wording stands for nothing on the shelf.
        """
        key = self.vocabulary.find(text)
        if key is not None:
            return key
        if fold(text) in _BLANK_WORDS:
            return ""
        near = self.vocabulary.nearest(text) if self.hints_left > 0 else ()
        self.hints_left -= 1
        hint = f" Nearest: {', '.join(near)}." if near else ""
        message = (
            f"is not on the shelf: {quoted(text)}.{hint} Write blank for a glass without a spike, "
            "or put the wording on the shelf as a synonym."
        )
        raise Unreadable(message)


@cache
def _no_vocabulary() -> Vocabulary:
    return Vocabulary({})


def read_answer(
    method: str, text: str, code: str | None, vocabulary: Vocabulary | None = None
) -> Answer:
    """Read an answer.

    Args:
        method: Code of the method.
        text: The cell, not empty.
        code: Blind code of the glass; a forced choice may be answered with the code picked.
        vocabulary: A wording in it is a name, whatever else it might mean.

    Raises:
        Unreadable: if it does not fit its method, or may mean two things.
    """
    if method == "naming":
        return _named(text, vocabulary or _no_vocabulary())
    if method == "intensity":
        return Answer("rating", rating=read_rating(text))
    if method == "a_not_a":
        return _one_of(text, _YES_WORDS, _NO_WORDS, ("yes", "no"), "yes (it is there) or no")
    if code is not None and _same_code(text, code):
        return Answer("right")
    if code is not None and len(text) == len(code) > 1 and text.isdigit() and code.isdigit():
        return Answer("wrong")
    expected = "right, wrong or the code picked"
    return _one_of(text, _RIGHT_WORDS, _WRONG_WORDS, ("right", "wrong"), expected)


def _named(text: str, vocabulary: Vocabulary) -> Answer:
    key = fold(text)
    if vocabulary.find(text) is not None:
        return Answer("words", words=read_text(text, WORDS_LENGTH))
    if key in NOTHING_WORDS:
        return NOTHING
    if key in SOMETHING_WORDS or set(text) == {"?"}:
        return SOMETHING
    if _is_number(text):
        message = f"must be a name, nothing or something, got the number {quoted(text)}."
        raise Unreadable(message)
    if not key or key in _UNCLEAR_WORDS:
        message = (
            f"may mean two things: {quoted(text)}; write nothing or something, "
            "and leave out what was not tasted."
        )
        raise Unreadable(message)
    return Answer("words", words=read_text(text, WORDS_LENGTH))


def _is_number(text: str) -> bool:
    return unicodedata.normalize("NFKC", text).replace(",", "").replace(".", "").strip().isdigit()


def _same_code(text: str, code: str) -> bool:
    found, meant = text.strip().casefold(), code.casefold()
    return found == meant or (
        found.isdigit() and meant.isdigit() and len(meant) > 1 and found.zfill(len(meant)) == meant
    )


def _one_of(
    text: str,
    first: frozenset[str],
    second: frozenset[str],
    kinds: tuple[str, str],
    expected: str,
) -> Answer:
    key = fold(text)
    if key in first or key in second:
        return Answer(kinds[0] if key in first else kinds[1])
    message = f"must be {expected}, got {quoted(text)}."
    raise Unreadable(message)
