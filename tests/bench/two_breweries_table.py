"""The figures of two breweries as lines and as a table."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from two_breweries_run import Outcome

GUIDED: Final = "guided"
FEWER: Final = "guided, a third fewer glasses"


@dataclass(frozen=True)
class Row:
    """What became of one brewery in N panels.

    Attributes:
        group: Kind of panel and how often it meets.
        name: The brewery.
        outcomes: One a panel.
    """

    group: str
    name: str
    outcomes: tuple[Outcome, ...]

    def values(self, figure: str) -> np.ndarray:
        """One figure of every panel; shape (N,)."""
        return np.array([getattr(one, figure) for one in self.outcomes], dtype=float)

    def total(self, figure: str) -> float:
        """Its sum over all panels."""
        return float(self.values(figure).sum())

    def mean(self, figure: str, digits: int = 1) -> str:
        """Its mean with one standard error."""
        values = self.values(figure)
        error = values.std(ddof=1) / np.sqrt(values.size) if values.size > 1 else np.nan
        return f"{values.mean():.{digits}f} ± {error:.{digits}f}"

    def until(self, figure: str) -> str:
        """Median of glasses until something, and how many panels never came to it."""
        values = self.values(figure)
        middle = np.median(np.where(np.isnan(values), np.inf, values))
        never = int(np.isnan(values).sum())
        said = "-" if np.isinf(middle) else f"{middle:.0f}"
        return f"{said} ({never} of {values.size} never)"

    def text(self) -> str:
        """The row as a line."""
        cells = (f"{heading} {show(self)}" for heading, show in COLUMNS.items())
        return f"{self.group:12} {self.name:34} " + "; ".join(cells)


COLUMNS: Final[dict[str, Callable[[Row], str]]] = {
    "seats": lambda row: row.mean("seated", 0),
    "wrong": lambda row: row.mean("wrong"),
    "clearly": lambda row: row.mean("clearly_wrong"),
    "deserving without": lambda row: row.mean("missing", 0),
    "wrong, without at the end": lambda row: (
        f"{row.mean('wrong_at_end', 2)}, {row.mean('missing_at_end', 2)}"
    ),
    "faults released": lambda row: (
        f"{row.mean('released', 2)} of {row.values('faulty').mean():.1f}"
    ),
    "good held": lambda row: f"{row.mean('held', 2)} of {row.values('good').mean():.0f}",
    "glasses: sessions, tanks": lambda row: (
        f"{row.values('glasses').mean():.0f}, {row.values('tank_glasses').mean():.0f}"
    ),
    "until four right": lambda row: row.until("until_four"),
    "until four right, none wrong": lambda row: row.until("until_clean"),
}


def ratio(row: Row, other: Row, figure: str) -> tuple[float, float]:
    """One brewery's total as a part of another's, with its jackknife error over panels.

    Both nan where the other has none.
    """
    top, bottom = row.values(figure), other.values(figure)
    without = bottom.sum() - bottom
    if not bottom.sum() or not without.all():
        return float("nan"), float("nan")
    left = (top.sum() - top) / without
    error = np.sqrt((left.size - 1) * np.mean((left - left.mean()) ** 2))
    return float(top.sum() / bottom.sum()), float(error)


def floors(rows: Sequence[Row]) -> list[str]:
    """Guided as a part of the first brewery of its group: wrong seats, faults, good beer, glasses."""
    said = []
    for row in rows:
        if not row.name.startswith(GUIDED):
            continue
        first = next(one for one in rows if one.group == row.group)
        parts = []
        for figure in ("wrong", "missing", "released", "held", "glasses"):
            part, error = ratio(row, first, figure)
            parts.append(f"{figure} {part:.2f} ± {error:.2f}")
        said.append(f"{row.group}: {row.name} / {first.name}: {', '.join(parts)}")
    return said


def deciles(rows: Sequence[Row], apart: str) -> list[str]:
    """Chances of a fault claimed by the guided, beside how often there was one; one group apart."""
    said = []
    for name, some in (
        ("all others", [row for row in rows if row.group != apart]),
        (apart, [row for row in rows if row.group == apart]),
    ):
        for figure, pour in (("weighed", "first pour"), ("weighed_last", "last pour")):
            pairs = [pair for row in some for one in row.outcomes for pair in getattr(one, figure)]
            if pairs:
                said.append(f"Weighed calls, {name}, {pour}: claimed, true (tanks)")
                said.append("  " + "; ".join(_deciles(np.array(pairs, dtype=float))))
    return said


def _deciles(pairs: np.ndarray) -> list[str]:
    claimed, true = pairs.T
    place = np.minimum((claimed * 10).astype(int), 9)
    found = []
    for tenth in range(10):
        at = place == tenth
        if at.any():
            share = true[at].mean()
            error = np.sqrt((true[at].sum() + 0.5) * (at.sum() - true[at].sum() + 0.5)) / (
                (at.sum() + 1) * np.sqrt(at.sum() + 2)
            )
            found.append(f"{claimed[at].mean():.3f}, {share:.3f} ± {error:.3f} ({at.sum()})")
    return found


def markdown(rows: Sequence[Row], apart: str) -> str:
    """The table of DEVELOPERS.md."""
    lines = [
        "| panel | brewery | " + " | ".join(COLUMNS) + " |",
        "|" + " --- |" * (len(COLUMNS) + 2),
    ]
    for row in rows:
        cells = " | ".join(show(row) for show in COLUMNS.values())
        lines.append(f"| {row.group} | {row.name} | {cells} |")
    return "\n".join([*lines, "", *floors(rows), "", *deciles(rows, apart), ""])
