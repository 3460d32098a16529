"""Whose word moved a chance, and how far: a line that runs down through the tasters."""

from collections.abc import Sequence
from typing import Any, Final

import altair as alt

from seatworthy.charts.palette import COLOURS, Shade
from seatworthy.charts.threshold import HALF_DISC
from seatworthy.phrases import weighed_percent
from seatworthy.steps.weigh_views import RungLine

ROW: Final = 66  # px a taster
_SHAPES: Final = {
    "start": "square",
    "called": "circle",
    "other": HALF_DISC,
    "silent": "circle",
    "nowhere": "stroke",
}
_FLAT: Final = 0.2  # a line that moves so far in one row is flat enough to run through a number
# Where the number of a mark stands: its alignment, and how far to the right and down, px.
_SIDES: Final = (
    ("right", "left", 15, 0),
    ("above", "left", 13, -13),
    ("below", "left", 13, 14),
    ("left", "right", -15, 0),
)


def ladder_chart(rungs: Sequence[RungLine], shade: Shade) -> alt.LayerChart:
    """Draw what was known first, then each taster; x is the chance.

    Called: disc; another name: half a disc; silent: ring; a word that means nothing: slate dashes
    down to a coaster.

    Args:
        rungs: From top to bottom; those that move nothing stand last.
        shade: What the reader's browser shows.

    Raises:
        ValueError: if there is none.
    """
    if not rungs:
        msg = "there is no ladder to draw"
        raise ValueError(msg)
    rows = [_row(number, rung, _side(rungs, number)) for number, rung in enumerate(rungs)]
    frame = _Frame(len(rows), shade)
    layers = [frame.rules(), *_words(rows, frame), *_lines(rows, frame), *_marks(rows, frame)]
    return alt.layer(*layers).properties(height=ROW * len(rows))


class _Frame:
    """What all layers share: the chance across, right of the words, and rows downwards."""

    def __init__(self, rows: int, shade: Shade) -> None:
        self.rows, self.ink = rows, COLOURS[shade]
        across = alt.Scale(
            domain=[0, 1],
            nice=False,
            rangeMin=alt.ExprRef("min(230, width * 0.47)"),
            rangeMax=alt.ExprRef("width - 44"),
        )
        axis = alt.Axis(
            orient="top", values=[0, 0.5, 1], format="%", grid=True, title=None,
            gridColor=self.ink["rule"], domain=False, labelFlush=True,
        )  # fmt: skip
        self.x = alt.X("chance:Q", scale=across, axis=axis)
        self.down = alt.Scale(domain=[rows - 0.5, -0.5], nice=False)
        self.y = alt.Y("row:Q", scale=self.down, axis=None)

    def rules(self) -> alt.Chart:
        """Hairlines between the rows."""
        ends = [{"row": number - 0.5} for number in range(self.rows + 1)]
        chart = alt.Chart(alt.Data(values=ends)).mark_rule(color=self.ink["rule"], strokeWidth=1)
        return chart.encode(self.y)


def _side(rungs: Sequence[RungLine], number: int) -> str:
    """Where a number is crossed by no line: right, above or below that, or left."""
    here = rungs[number].chance
    comes = number > 0 and rungs[number - 1].chance - here > _FLAT
    goes = number + 1 < len(rungs) and rungs[number + 1].chance - here > _FLAT
    if comes and goes:
        return "left"
    return "below" if comes else "above" if goes else "right"


def _row(number: int, rung: RungLine, side: str) -> dict[str, Any]:
    return {
        "row": number,
        "chance": rung.chance,
        "head": rung.head,
        "notes": "\n".join(rung.notes[:2]),
        "mark": rung.mark,
        "shown": weighed_percent(rung.chance),
        "side": side,
    }


def _words(rows: list[dict[str, Any]], frame: _Frame) -> list[alt.Chart]:
    limit = alt.ExprRef("min(230, width * 0.47) - 8")
    base = alt.Chart(alt.Data(values=rows)).encode(frame.y, x=alt.value(0))
    style = {"align": "left", "baseline": "middle", "limit": limit, "lineBreak": "\n"}
    head = base.mark_text(fontSize=14, fontWeight=600, dy=-18, **style).encode(text="head:N")
    notes = base.transform_filter("datum.notes != ''")
    below = notes.mark_text(
        fontSize=13, color=frame.ink["ink2"], dy=2, lineHeight=17, **style
    ).encode(text="notes:N")
    return [head, below]


def _lines(rows: list[dict[str, Any]], frame: _Frame) -> list[alt.Chart]:
    moving = [row for row in rows if row["mark"] != "nowhere"]
    still = [row for row in rows if row["mark"] == "nowhere"]
    order = alt.Order("row:Q")
    layers = []
    if len(moving) > 1:
        line = alt.Chart(alt.Data(values=moving)).mark_line(
            color=frame.ink["ink"], strokeWidth=2, interpolate="linear"
        )
        layers.append(line.encode(frame.x, frame.y, order=order))
    if still:
        path = [moving[-1], *still] if moving else still
        dashes = alt.Chart(alt.Data(values=path)).mark_line(
            color=frame.ink["slate"], strokeWidth=2, strokeDash=[4, 3]
        )
        layers.append(dashes.encode(frame.x, frame.y, order=order))
    return layers


def _marks(rows: list[dict[str, Any]], frame: _Frame) -> list[alt.Chart]:
    layers = []
    for mark, shape in _SHAPES.items():
        some = [row for row in rows if row["mark"] == mark]
        if not some:
            continue
        base = alt.Chart(alt.Data(values=some)).encode(
            frame.x, frame.y, tooltip=["head:N", "shown:N"]
        )
        layers += _mark(base, mark, shape, frame)
    for side, align, away, lift in _SIDES:
        some = [row for row in rows if row["side"] == side]
        if some:
            text = alt.Chart(alt.Data(values=some)).mark_text(
                align=align, dx=away, dy=lift, baseline="middle", fontSize=14, fontWeight=600
            )
            layers.append(text.encode(frame.x, frame.y, text="shown:N"))
    return layers


def _mark(base: alt.Chart, mark: str, shape: str, frame: _Frame) -> list[alt.Chart]:
    ink, ground = frame.ink["ink"], frame.ink["paper"]
    if mark == "nowhere":
        style = {"stroke": frame.ink["slate"], "strokeWidth": 3, "size": 260}
        return [base.mark_point(shape=shape, filled=False, **style)]
    ring = {"shape": "circle", "size": 130, "stroke": ink, "strokeWidth": 1.6, "opacity": 1}
    if mark == "silent":
        return [base.mark_point(filled=True, fill=ground, **ring)]
    if mark == "other":
        half = base.mark_point(shape=shape, size=130, filled=True, fill=ink, stroke=None, opacity=1)
        return [base.mark_point(filled=True, fill=ground, **ring), half]
    size = 120 if mark == "start" else 130
    return [base.mark_point(shape=shape, size=size, filled=True, fill=ink, opacity=1)]
