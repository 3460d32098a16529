"""Written words: folded for comparing, tidied for keeping, quoted for messages, looked up."""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from functools import cache
from typing import Final

NAME_LENGTH: Final = 60
TEXT_LENGTH: Final = 500
_SHOWN_LENGTH: Final = 40
_FORMULA_STARTS: Final = frozenset("=+-@")
_MARKUP: Final = frozenset('<>[]{}|\\`"')
_STROKED: Final = str.maketrans(  # letters that no decomposition takes apart
    {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ħ": "h", "ı": "i"}
)
_JOINERS: Final = frozenset("\u200c\u200d")  # part of some scripts' spelling


class Unreadable(Exception):
    """One cell says nothing we may trust; the message goes after the column's name."""


def fold(text: str) -> str:
    """Reduce a wording to what two spellings of it share.

    Accents and strokes, capitals, punctuation and the width of spaces go; letters of any script and digits
    stay. Folding twice changes nothing; a text without letters or digits folds to "".
    """
    if text.isascii():
        return " ".join(re.findall(r"[a-z0-9]+", text.lower()))
    bare = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text).casefold())
    bare = bare.translate(_STROKED)
    kept = (
        letter if unicodedata.category(letter)[0] in "LNM" else " "
        for letter in bare
        if not unicodedata.combining(letter)
    )
    return " ".join("".join(kept).split())


def tidy(text: str) -> str:
    """The text as written, composed (NFC), without outer and double spaces."""
    return unicodedata.normalize("NFC", " ".join(text.split()))


def quoted(text: object) -> str:
    """A found text fit for a message: in quotation marks, short, every hidden character shown."""
    try:
        found = str(text)
    except ValueError:  # whole numbers of thousands of digits have no text
        found = "an endless number"
    short = found if len(found) <= _SHOWN_LENGTH else found[: _SHOWN_LENGTH - 1] + "…"
    seen = "".join(
        letter if letter.isprintable() else letter.encode("unicode_escape").decode("ascii")
        for letter in short
    )
    return f"“{seen}”"


def read_text(text: str, longest: int = TEXT_LENGTH) -> str:
    """Tidy a free text.

    Args:
        text: As found.
        longest: Characters allowed.

    Raises:
        Unreadable: if it is longer, or holds characters that cannot be seen.
    """
    found = tidy(text)
    if len(found) > longest:
        message = f"must have at most {longest} characters, got {len(found)}: {quoted(found)}."
        raise Unreadable(message)
    if not found.isprintable():
        _refuse_hidden(found)
    return found


def read_label(text: str) -> str:
    """Tidy a short label (a session, a beer, a mark); raises `Unreadable` as `read_text` does."""
    return read_text(text, NAME_LENGTH)


def read_name(text: str) -> str:
    """Tidy a person's name, which later stands on pages, on paper and in exported sheets.

    Raises:
        Unreadable: if it is too long, has no letter or digit, starts like a formula or holds
            characters of a mark-up language, hidden ones or one that was lost in saving.
    """
    found = read_label(text)
    if unicodedata.normalize("NFKC", found)[:1] in _FORMULA_STARTS:
        message = f"must be a name, got {quoted(found)}, which a spreadsheet takes for a formula."
        raise Unreadable(message)
    odd = sorted(_MARKUP.intersection(found))
    if odd:
        message = f"must be a name, got {quoted(found)}; leave out {' '.join(odd)}"
        raise Unreadable(message)
    if "\ufffd" in found:
        message = f"holds a letter that was lost in saving: {quoted(found)}; write it again."
        raise Unreadable(message)
    # the mark U+0345 alone folds to a letter, yet is none
    if not fold(found) or not any(
        letter.isalnum() for letter in unicodedata.normalize("NFKD", found)
    ):
        message = f"must be a name with letters or digits, got {quoted(found)}."
        raise Unreadable(message)
    return found


def _refuse_hidden(found: str) -> None:
    for letter in found:
        if not letter.isprintable() and letter not in _JOINERS:
            message = f"holds a hidden character: {quoted(found)}; write it again."
            raise Unreadable(message)


class Vocabulary:
    """The words that stand for a compound.

    Attributes:
        compounds: Compound key by folded wording.
        described: Compound keys by folded word that is often said of them; such a word stands for
            none of them by itself, since one word may be said of several.
    """

    def __init__(
        self, compounds: Mapping[str, str], described: Mapping[str, Sequence[str]] | None = None
    ) -> None:
        self.compounds = {fold(wording): key for wording, key in compounds.items() if fold(wording)}
        self.described = {fold(word): tuple(keys) for word, keys in (described or {}).items()}
        self.find = cache(self._find)

    def _find(self, text: str) -> str | None:
        """Key of the compound a text names, in any spelling that folds the same; else None."""
        return self.compounds.get(fold(text))

    def nearest(self, text: str) -> tuple[str, ...]:
        """Keys of up to three compounds: those the word is said of, else the likest wordings."""
        sought = fold(text[:NAME_LENGTH])
        if sought in self.described:
            return self.described[sought][:3]
        close = get_close_matches(sought, self.compounds, n=6, cutoff=0.6)
        return tuple(dict.fromkeys(self.compounds[wording] for wording in close))[:3]
