"""A table on paper: heads over an ink rule, hairlines under rows, heads again on the next page."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from seatworthy.paper.lettering import BODY, COLUMN, Lettering
from seatworthy.paper.sheet import BLACK, MARGIN, WRITING, Align, Sheet

_GAP: Final = 2.0  # between the text of two columns
_HEADS: Final = 5.0
_PADDING: Final = 1.2  # over and under text that needs more than one line


@dataclass(frozen=True)
class Column:
    """One column.

    Attributes:
        key: What it is called in the code.
        head: What stands over it.
        width: Millimetres, the gap to the next column included; 0 takes what the others leave.
        align: Of head and cells.
    """

    key: str
    head: str
    width: float
    align: Align = "L"


class Ledger:
    """A table under way: start it, then open a row, fill its cells, open the next."""

    def __init__(self, sheet: Sheet, columns: Sequence[Column]) -> None:
        """Lay out the columns.

        Args:
            sheet: Where it stands.
            columns: From left to right; at most one of them with width 0.
        """
        self._sheet = sheet
        self._columns = {column.key: column for column in columns}
        left = sheet.width - sum(column.width for column in columns)
        self._places: dict[str, tuple[float, float]] = {}
        x = MARGIN
        for column in columns:
            width = column.width or left
            self._places[column.key] = (x, width)
            x += width
        self._right = x
        self._top = 0.0
        self._height = 0.0

    def start(self, first_row: float = 10) -> None:
        """Draw the heads, on the page where the first row stands."""
        self._sheet.room(_HEADS + 1 + first_row)
        self._draw_heads()

    def open_row(self, height: float) -> None:
        """Begin a row of this height, on the next page with the heads again if it must be."""
        if self._sheet.room(height):
            self._draw_heads()
        self._top, self._height = self._sheet.y, height
        self._sheet.rule(self._top + height, ends=(MARGIN, self._right))
        self._sheet.set_xy(MARGIN, self._top + height)

    def height_for(self, texts: dict[str, tuple[str, Lettering]], least: float) -> float:
        """How high a row must be for these cells to be set in their own size.

        Args:
            texts: By key of the column, text and lettering.
            least: The height if all of them are short.
        """
        heights = [
            len(self._sheet.lines(text, self.cell(key)[1], lettering)) * lettering.line
            for key, (text, lettering) in texts.items()
        ]
        return max([least, *(height + 2 * _PADDING for height in heights)])

    def cell(self, key: str) -> tuple[float, float]:
        """Where the text of a column begins, and how wide it may be."""
        x, width = self._places[key]
        return x, width - (_GAP if x + width < self._right - 0.01 else 0)

    @property
    def row(self) -> tuple[float, float]:
        """Top and height of the open row."""
        return self._top, self._height

    def put(self, key: str, text: str, lettering: Lettering = BODY) -> None:
        """Set one cell of the open row."""
        x, width = self.cell(key)
        box = (x, self._top + 0.3, width, self._height - 0.6)
        self._sheet.put(text, box, lettering, self._columns[key].align)

    def put_code(self, key: str, code: str, lettering: Lettering) -> None:
        """Set a code, underlined, at the left of one cell."""
        self._sheet.code(code, self.cell(key)[0], self._top, self._height, lettering)

    def put_box(self, key: str) -> None:
        """Draw a box to tick."""
        self._sheet.tick_box(self.cell(key)[0], self._top + (self._height - 4) / 2)

    def put_line(self, key: str) -> None:
        """Draw a line to write on."""
        x, width = self.cell(key)
        self._sheet.rule(self._top + self._height - 2.2, 0.2, WRITING, (x, x + width))

    def _draw_heads(self) -> None:
        sheet = self._sheet
        y = sheet.y + 0.6
        for key, column in self._columns.items():
            x, width = self.cell(key)
            sheet.put(column.head, (x, y, width, _HEADS - 0.6), COLUMN, column.align)
        sheet.rule(y + _HEADS - 0.6, 0.5, BLACK, (MARGIN, self._right))
        sheet.set_xy(MARGIN, y + _HEADS - 0.6)
