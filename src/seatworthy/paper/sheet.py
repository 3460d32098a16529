"""A sheet of paper: margins, foot, the sentence on top, text that never leaves its place.

All lengths are millimetres from the top left corner; grey runs from 0 (black) to 255.
"""

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Final, Literal

from fpdf import FPDF

from seatworthy.paper.lettering import (
    ANSWER,
    BODY,
    COLUMN,
    CUT,
    HEAD,
    PLAIN,
    Lettering,
    printable,
    take_faces,
)

SIZES: Final = ("A4", "Letter")
MARGIN: Final = 16.0
TOP: Final = 15.0
_FOOT: Final = 16.0  # from the lower edge to the rule over the foot
_PAGE_OF: Final = 24.0  # kept free for "12 of 14"
_RECORD: Final = 50.0  # kept free for the record's entry and digest under it
LEAST_SIZE: Final = 6.0  # points; smaller than this, text is cut

BLACK, WRITING, HAIRLINE = 0, 110, 170
Align = Literal["L", "C", "R"]


class Sheet(FPDF):
    """One document; it has parts (a person's, a sitting's) whose pages are counted apart."""

    def __init__(self, size: str, title: str, made_at: datetime, record: str = "") -> None:
        """Begin a document without pages.

        Args:
            size: One of `SIZES`.
            title: What a reader program shows.
            made_at: Local moment; the same one gives the same bytes.
            record: The record it was made from, as the foot of every page names it; "" for none.
        """
        if size not in SIZES:
            message = f"paper comes in {' and '.join(SIZES)}, not in {size!r}"
            raise ValueError(message)
        super().__init__("P", "mm", size)
        self.set_margins(MARGIN, TOP, MARGIN)
        self.set_auto_page_break(False)
        self.c_margin = 0
        self.str_alias_nb_pages = ""  # what somebody types is never a field to fill in
        self._known = take_faces(self)
        self._parts: list[tuple[int, str]] = []  # first page, foot
        self._running = ""
        self._record = record
        self._widths: dict[tuple[str, Lettering], float] = {}
        self._describe(title, made_at)

    def _describe(self, title: str, made_at: datetime) -> None:
        self.set_title(printable(title, self._known))
        self.set_lang("en-GB")
        self.set_creator("Seatworthy")
        self.set_producer("Seatworthy")
        # A moment without a zone would be read in the zone of the machine that prints.
        self.set_creation_date(made_at.replace(tzinfo=UTC))

    @property
    def right(self) -> float:
        """Where lines end."""
        return self.w - MARGIN

    @property
    def width(self) -> float:
        """From margin to margin."""
        return self.w - 2 * MARGIN

    @property
    def bottom(self) -> float:
        """Where a page is full."""
        return self.h - _FOOT - 3

    def begin(self, foot: str, running: str) -> None:
        """Start a part on a new page.

        Args:
            foot: Stands at the foot of all its pages.
            running: Stands on top of its second page and those after.
        """
        self._running = running
        self.add_page()
        self._parts.append((self.page, foot))

    def room(self, height: float) -> bool:
        """Turn the page unless so much still fits on it; whether it was turned."""
        if self.y + height <= self.bottom or self.y <= TOP:
            return False
        self.add_page()
        self.paragraph(f"{self._running}, continued", COLUMN)
        self.ln(2)
        return True

    def lines(self, text: str, width: float, lettering: Lettering) -> list[str]:
        """The text broken into lines no wider than this, between words if that can be."""
        space = self.text_width(" ", lettering)
        lines, line, used = [], "", 0.0
        for word in printable(text, self._known).split(" "):
            wide = self.text_width(word, lettering)
            if line and used + space + wide <= width:
                line, used = f"{line} {word}", used + space + wide
                continue
            lines += [line] if line else []
            *full, line = [word] if wide <= width else self._chopped(word, width, lettering)
            lines += full
            used = self.text_width(line, lettering)
        return [*lines, line]

    def _chopped(self, word: str, width: float, lettering: Lettering) -> list[str]:
        """A word too long for a line in parts that fit."""
        parts, used = [""], 0.0
        for letter in word:
            wide = self.text_width(letter, lettering)
            if parts[-1] and used + wide > width:
                parts.append("")
                used = 0.0
            parts[-1] += letter
            used += wide
        return parts

    def text_width(self, text: str, lettering: Lettering) -> float:
        """How wide the text is on one line."""
        known = self._widths.get((text, lettering))
        if known is None:
            self._set(lettering)
            known = self.get_string_width(printable(text, self._known))
            self._widths[text, lettering] = known
        return known

    def put(
        self,
        text: str,
        box: tuple[float, float, float, float],
        lettering: Lettering,
        align: Align = "L",
    ) -> None:
        """Set text into a box, in the middle of its height; it never leaves the box.

        What is too long is broken into lines, then made smaller, and cut only at `LEAST_SIZE`. The
        present height stays.

        Args:
            text: User text or ours.
            box: Left, top, width and height.
            lettering: Face, and the size if there is room.
            align: Within the width.
        """
        left, top, width, height = box
        present = self.y
        fitting, lines = self._fitted(text, width, height, lettering)
        start = top + (height - len(lines) * fitting.line) / 2
        for number, line in enumerate(lines):
            self._draw_line(line, (left, start + number * fitting.line, width), fitting, align)
        self.set_xy(MARGIN, present)

    def _fitted(
        self, text: str, width: float, height: float, lettering: Lettering
    ) -> tuple[Lettering, list[str]]:
        plain = " ".join(printable(text, self._known).split())
        if self.text_width(plain, lettering) <= width:
            return lettering, [plain]
        tried = lettering
        for may_break_words in (False, True):
            tried = lettering
            while tried.size >= LEAST_SIZE:
                lines = self.lines(plain, width, tried)
                is_whole = " ".join(line.strip() for line in lines) == plain
                if len(lines) * tried.line <= height and (is_whole or may_break_words):
                    return tried, lines
                tried = tried.at(tried.size - 0.5)
        least = lettering.at(LEAST_SIZE)
        kept = self.lines(plain, width, least)[: max(1, int(height / least.line))]
        last = kept[-1].strip()
        while last and self.text_width(last + CUT, least) > width:
            last = last[:-1]
        return least, [*kept[:-1], last + CUT]

    def paragraph(self, text: str, lettering: Lettering = BODY, indent: float = 0) -> None:
        """Text over the whole width at the present height; goes on with the next page."""
        for line in self.lines(text, self.width - indent, lettering):
            self.room(lettering.line)
            y = self.y
            self._draw_line(line, (MARGIN + indent, y, self.width - indent), lettering, "L")
            self.set_xy(MARGIN, y + lettering.line)

    def paragraph_height(self, text: str, lettering: Lettering, indent: float = 0) -> float:
        """How high `paragraph` would set it."""
        return len(self.lines(text, self.width - indent, lettering)) * lettering.line

    def opening(self, where: Sequence[str], sentence: str, lead: str = "") -> None:
        """What a page starts with: what it is about, the sentence, and what follows from it."""
        self.paragraph("     ".join(word for word in where if word), PLAIN)
        self.ln(1.5)
        self.paragraph(sentence, ANSWER)
        if lead:
            self.ln(2)
            self.paragraph(lead)
        self.ln(3.5)

    def heading(self, text: str, keep: float = 20) -> None:
        """The head of a section, with so much of the section on the same page."""
        self.room(keep)
        self.paragraph(text, HEAD)
        self.ln(0.8)

    def rule(
        self,
        y: float,
        weight: float = 0.2,
        grey: int = HAIRLINE,
        ends: tuple[float, float] | None = None,
    ) -> None:
        """A level line from margin to margin, or between ``ends``."""
        start, end = ends or (MARGIN, self.right)
        self.set_line_width(weight)
        self.set_draw_color(grey)
        self.line(start, y, end, y)

    def tick_box(self, x: float, y: float, side: float = 4) -> None:
        """A box to tick."""
        self.set_line_width(0.35)
        self.set_draw_color(BLACK)
        self.rect(x, y, side, side)

    def code(self, code: str, x: float, y: float, height: float, lettering: Lettering) -> None:
        """A code with a line under it, so that 6 and 9 keep their feet."""
        width = self.text_width(code, lettering)
        self.put(code, (x, y, width + 0.1, height), lettering)
        below = y + height / 2 + lettering.size * 0.172
        self.rule(below, max(0.35, lettering.size / 36), BLACK, (x, x + width))

    def write_in(self, words: str, x: float, until: float, lettering: Lettering = PLAIN) -> None:
        """Words and a line to write on, at the present height, which stays."""
        width = self.text_width(words, lettering)
        y = self.y
        self.put(words, (x, y, width + 0.1, lettering.line), lettering)
        self.rule(y + lettering.line, 0.2, WRITING, (x + width + 3, until))

    def finished(self) -> bytes:
        """The document, with the feet of all its pages."""
        starts = [first for first, _ in self._parts] + [self.page + 1]
        for number, (first, foot) in enumerate(self._parts):
            pages = starts[number + 1] - first
            for page in range(first, first + pages):
                self._draw_foot(page, foot, f"{page - first + 1} of {pages}")
        return bytes(self.output())

    def _draw_foot(self, page: int, foot: str, page_of: str) -> None:
        self.page = page
        # What this page was last drawn with is not known here: everything is set anew.
        self._set(HEAD)
        self._set(COLUMN)
        self.set_fill_color(254)
        self.set_draw_color(HAIRLINE)
        self.set_line_width(1)
        y = self.h - _FOOT
        self.rule(y, 0.2, BLACK)
        kept = _RECORD if self._record else _PAGE_OF
        high = 3.8 if self._record else 7.6
        self.put(foot, (MARGIN, y + 1, self.width - kept - 2, 7.6), COLUMN)
        if self._record:
            self.put(self._record, (self.right - kept, y + 4.8, kept, 3.8), COLUMN.at(7), "R")
        self.put(page_of, (self.right - kept, y + 1, kept, high), COLUMN, "R")

    def _draw_line(
        self, text: str, place: tuple[float, float, float], lettering: Lettering, align: Align
    ) -> None:
        """Set one line, whose letters can all be printed, at left, top and width."""
        left, top, width = place
        self._set(lettering)
        if not self.current_font_is_set_on_page:
            # fpdf2 sets the face within the state that a cell of two faces gives back at its end.
            self.text(left, top, "")
        self.set_xy(left, top)
        self.cell(width, lettering.line, text.strip(), align=align)

    def _set(self, lettering: Lettering) -> None:
        self.set_font(lettering.face, "B" if lettering.is_bold else "", lettering.size)
