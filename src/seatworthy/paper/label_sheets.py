"""A sheet of labels as somebody measures it: how many, how large, how far apart."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import isfinite
from types import MappingProxyType
from typing import Final, Literal

from seatworthy.errors import PanelError

PAPERS: Final = MappingProxyType({"A4": (210.0, 297.0), "Letter": (215.9, 279.4)})
LEAST_WIDTH, LEAST_HEIGHT = 12.0, 9.0  # mm; ours: below it a code can't be read at arm's length
LEAST_BOTTLE: Final = (38.0, 21.0)  # mm; ours: five lines to read, two of them to write on
_HAIR: Final = 0.05  # mm; what somebody measures is never exact

Kind = Literal["caps", "bottles", "glasses"]
KINDS: Final[tuple[Kind, ...]] = ("caps", "bottles", "glasses")
Place = tuple[float, float, float, float]


class LabelsRefused(PanelError):
    """Labels can't be printed as they were asked for; nothing was made.

    Attributes:
        faults: All that must be changed, a finished sentence each.
    """

    def __init__(self, *faults: str) -> None:
        self.faults = faults
        super().__init__("\n".join(["These labels can't be printed yet:", *_listed(faults)]))


def _listed(faults: tuple[str, ...]) -> list[str]:
    return [f"- {fault}" for fault in faults]


@dataclass(frozen=True)
class LabelSheet:
    """One sheet of labels, all of one size, in rows and columns. All lengths are millimetres.

    Attributes:
        paper: "A4" or "Letter".
        columns: Labels from left to right.
        rows: Labels from top to bottom.
        left_mm: From the left edge of the paper to the first label.
        top_mm: From the upper edge of the paper to the first label.
        width_mm: Of one label.
        height_mm: Of one label.
        across_mm: From the left edge of one label to the left edge of the next.
        down_mm: From the upper edge of one label to the upper edge of the next.

    Raises:
        LabelsRefused: if labels would leave the paper, lie over one another or can't be read.
    """

    paper: str
    columns: int
    rows: int
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    across_mm: float
    down_mm: float

    def __post_init__(self) -> None:
        faults = tuple(_faults(self))
        if faults:
            raise LabelsRefused(*faults)

    @property
    def count(self) -> int:
        """Labels on one sheet."""
        return self.columns * self.rows

    def place(self, number: int) -> Place:
        """Left, top, width and height of one label.

        Args:
            number: 0 is the first; row by row from the top, each from left to right.
        """
        row, column = divmod(number % self.count, self.columns)
        left = self.left_mm + column * self.across_mm
        return left, self.top_mm + row * self.down_mm, self.width_mm, self.height_mm


def _faults(sheet: LabelSheet) -> Iterator[str]:
    if sheet.paper not in PAPERS:
        yield f"Paper comes in {' and '.join(PAPERS)}, not in {sheet.paper!r}: choose one of them."
        return
    out_of_bounds = [*_not_counted(sheet), *_not_measured(sheet)]
    yield from out_of_bounds
    if out_of_bounds:
        return
    yield from _too_small(sheet)
    yield from _overlapping(sheet)
    yield from _off_the_paper(sheet)


def _not_counted(sheet: LabelSheet) -> Iterator[str]:
    for words, number in (("columns", sheet.columns), ("rows", sheet.rows)):
        if not isinstance(number, int) or number < 1:
            yield f"The sheet has {number} {words} of labels: at least 1 is needed, a whole number."


def _not_measured(sheet: LabelSheet) -> Iterator[str]:
    edges = (
        ("the left edge to the first label", sheet.left_mm),
        ("the upper edge to the first label", sheet.top_mm),
    )
    for words, length in edges:
        if not (isfinite(length) and length >= 0):
            yield f"From {words} are {_mm(length)}: measure it, 0 mm or more."
    sizes = (("width", sheet.width_mm), ("height", sheet.height_mm))
    steps = (("across", sheet.across_mm), ("down", sheet.down_mm))
    for words, length in sizes:
        if not (isfinite(length) and length > 0):
            yield f"A label's {words} is {_mm(length)}: measure it, more than 0 mm."
    for words, length in steps:
        if not (isfinite(length) and length > 0):
            yield f"From one label to the next {words} are {_mm(length)}: measure it, more than 0 mm."


def _too_small(sheet: LabelSheet) -> Iterator[str]:
    if sheet.width_mm < LEAST_WIDTH or sheet.height_mm < LEAST_HEIGHT:
        yield (
            f"A label of {_mm(sheet.width_mm)} by {_mm(sheet.height_mm)} is too small to read: choose "
            f"one of at least {_mm(LEAST_WIDTH)} by {_mm(LEAST_HEIGHT)}."
        )


def _overlapping(sheet: LabelSheet) -> Iterator[str]:
    across = ("across", sheet.across_mm, "width", sheet.width_mm, sheet.columns)
    down = ("down", sheet.down_mm, "height", sheet.height_mm, sheet.rows)
    for words, step, side, length, number in (across, down):
        if number > 1 and step < length - _HAIR:
            yield (
                f"Labels lie over one another: from one to the next {words} are {_mm(step)}, and a "
                f"label's {side} is {_mm(length)}. Measure from edge to edge of the same side."
            )


def _off_the_paper(sheet: LabelSheet) -> Iterator[str]:
    width, height = PAPERS[sheet.paper]
    right = sheet.left_mm + (sheet.columns - 1) * sheet.across_mm + sheet.width_mm
    bottom = sheet.top_mm + (sheet.rows - 1) * sheet.down_mm + sheet.height_mm
    for many, end, edge, words in (
        (f"{sheet.columns} columns", right, width, "wide"),
        (f"{sheet.rows} rows", bottom, height, "high"),
    ):
        if end > edge + _HAIR:
            yield (
                f"{many} of labels end at {_mm(end)}, and {sheet.paper} is {_mm(edge)} {words}: "
                "measure again, or take fewer."
            )


def _mm(length: float) -> str:
    return f"{length:.5g} mm"
