"""One line of text in a place it never leaves: set smaller first, then cut between words."""

from typing import Final

from seatworthy.paper.label_sheets import Place
from seatworthy.paper.lettering import CUT, Lettering
from seatworthy.paper.sheet import LEAST_SIZE, WRITING, Align, Sheet

POINT: Final = 0.44  # mm of height that a point of size takes
_LARGEST: Final = 40.0
_FOOT: Final = 0.7  # mm free under a line to write on, where there is room
_STEPS: Final = 20  # sizes in a point; widths at a size are known once measured


def put_line(
    sheet: Sheet,
    text: str,
    place: Place,
    lettering: Lettering,
    align: Align = "L",
    ending: str = "",
) -> None:
    """Set one line; what is too long even at `LEAST_SIZE` loses words, and says so with a mark.

    Args:
        sheet: Where it stands.
        text: User text or ours.
        place: Left, top, width and height, mm.
        lettering: Face, and the size if there is room.
        align: Within the width.
        ending: Set after the text, and never cut before the text is gone: a level, a day.
    """
    _, _, width, height = place
    whole = " ".join([*text.split(), *ending.split()])
    fitting = largest(sheet, whole, (width, height), lettering.size, lettering)
    if sheet.text_width(whole, fitting) > width:
        whole = _cut(sheet, text.split(), ending, width, fitting)
    sheet.put(whole, place, fitting, align)


def largest(
    sheet: Sheet,
    text: str,
    room: tuple[float, float],
    most: float,
    lettering: Lettering,
) -> Lettering:
    """The lettering in the largest size at which one line fits, or in `LEAST_SIZE`.

    Args:
        sheet: Where it stands.
        text: The line.
        room: Width and height, mm.
        most: The largest size, points.
        lettering: The face.
    """
    width, height = room
    wide = sheet.text_width(text, lettering.at(_LARGEST))
    fits = _LARGEST * width / wide if wide else most
    size = int(min(most, fits, height / POINT) * _STEPS) / _STEPS
    return lettering.at(max(LEAST_SIZE, size))


def last_words(sheet: Sheet, text: str, width: float, lettering: Lettering) -> tuple[str, str]:
    """Text in two: its beginning, and as many last words as take no more than this width.

    A lot stands at the end of a line; cut in the middle, the line keeps it.
    """
    words = text.split()
    number = 0
    while number < len(words) and (
        sheet.text_width(" ".join(words[-number - 1 :]), lettering.at(LEAST_SIZE)) <= width
    ):
        number += 1
    split = len(words) - number
    return " ".join(words[:split]), " ".join(words[split:])


def write_in(sheet: Sheet, words: str, place: Place, lettering: Lettering) -> None:
    """Words, and a line to write on up to the end of the place."""
    left, top, width, height = place
    fitting = largest(sheet, words, (width, height), lettering.size, lettering)
    across = sheet.text_width(words, fitting)
    foot = top + height - min(_FOOT, height - fitting.line)
    sheet.put(words, (left, foot - fitting.line, across + 0.1, fitting.line), fitting)
    sheet.rule(foot - 0.3, 0.2, WRITING, (left + across + 1, left + width))


def _cut(sheet: Sheet, words: list[str], ending: str, width: float, lettering: Lettering) -> str:
    """The first words that fit before a mark and the ending; letters of the first if none does."""
    after = f" {CUT} {ending}".rstrip() if words else ending
    for number in range(len(words) - 1, 0, -1):
        kept = " ".join(words[:number]).rstrip(",;:") + after
        if sheet.text_width(kept, lettering) <= width:
            return kept
    after = f"{CUT} {ending}".rstrip()
    first = words[0] if words else ""
    while first and sheet.text_width(first + after, lettering) > width:
        first = first[:-1]
    if not first and ending:
        return ending if not words else after
    return first + after
