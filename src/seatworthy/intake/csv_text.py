"""Bytes of a text file as text: which encoding, and when to say that it cannot be told."""

import re
import unicodedata
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from typing import Final

from seatworthy.errors import Fault, FileRefused
from seatworthy.intake.words import quoted

SAVE_AS: Final = "Save it again as “CSV UTF-8”."
_NEAR: Final = 40  # characters
_WESTERN_SIGNS: Final = frozenset("µ×°–—‘’‚“”„…€£§«»¡¿·½¼¾±\xa0®©²³")
_TWICE_ENCODED: Final = re.compile("[ÂÃÅÄâ][\u0080-\u00bfŒœŠšŸŽžƒˆ˜–—‘’‚“”„†‡•…‰‹›€™]")


def text_of(name: str, data: bytes) -> tuple[str, tuple[str, ...]]:
    """Decode the bytes of a text file.

    Args:
        name: The file's name, for messages.
        data: UTF-8 with or without a mark, UTF-16 with one, or Windows-1252 if that is plausible.

    Returns:
        The text, and notes on an encoding that had to be guessed.

    Raises:
        FileRefused: if it is none of these, or no text at all.
    """
    notes: tuple[str, ...] = ()
    if data.startswith((BOM_UTF16_LE, BOM_UTF16_BE)):
        text = _utf_16(name, data)
    else:
        try:
            text = data.removeprefix(BOM_UTF8).decode("utf-8")
        except UnicodeDecodeError as error:
            text, notes = _western(name, data, error.start)
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        fault = f"holds NUL bytes, which no text has. {SAVE_AS}"
        raise FileRefused(name, [Fault(line, fault)])
    return text, notes


def _utf_16(name: str, data: bytes) -> str:
    try:
        return data.decode("utf-16")
    except UnicodeDecodeError as error:
        fault = f"begins like UTF-16 text but breaks off at byte {error.start}. {SAVE_AS}"
        raise FileRefused(name, [Fault(None, fault)]) from error


def _western(name: str, data: bytes, start: int) -> tuple[str, tuple[str, ...]]:
    """Windows-1252, if what comes out looks like words of western Europe."""
    try:
        text = data.decode("cp1252")
    except UnicodeDecodeError:
        text = ""
    foreign = [letter for letter in sorted(set(text)) if not _is_western(letter)]
    if not text or foreign or _TWICE_ENCODED.search(text):
        line = data.count(b"\n", 0, start) + 1
        fault = f"the encoding cannot be told: not UTF-8, nor plausible Windows text. {SAVE_AS}"
        raise FileRefused(name, [Fault(line, fault)])
    at = next(place for place, letter in enumerate(text) if not letter.isascii())
    near = text[
        max(0, at - _NEAR) : at + _NEAR
    ]  # a search through the whole text may take its square
    example = next(re.finditer(r"\w*[^\x00-\x7f]+\w*", near))[0]
    note = (
        f"Read as Windows-1252 text; check that letters like those in {quoted(example)} are right."
    )
    return text, (note,)


def _is_western(letter: str) -> bool:
    if letter.isascii():
        return letter.isprintable() or letter in "\t\r\n"
    return letter in _WESTERN_SIGNS or unicodedata.category(letter)[0] == "L"
