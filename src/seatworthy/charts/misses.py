"""One compound's chance to slip past a panel, from threshold to five times it.

Altair checks a chart against its whole schema, which takes longer than a slider may. So the drawing is
made once, without data, and every move of a slider only fills it.
"""

from collections.abc import Mapping, Sequence
from typing import Any, Final

import altair as alt

from seatworthy.charts.palette import COLOURS, Shade
from seatworthy.steps.miss_views import Chance

HEIGHT: Final = 128
_HIGH: Final = 0.80
_MARGIN: Final = 0.4  # kept free right of the strongest level, so that words are not cut


def misses_drawing(
    levels: Sequence[float],
    shade: Shade,
    *,
    is_weak: bool,
    has_others: bool = True,
    words_below: bool = False,
) -> alt.LayerChart:
    """The chart without data; `filled` puts them in.

    Args:
        levels: Multiples of the working threshold, rising.
        shade: What the reader's browser shows.
        is_weak: Whether it is drawn in amber.
        has_others: Whether there are thin lines of other compounds.
        words_below: Whether the value is written under its point, which stands high.
    """
    ink = COLOURS[shade]
    colour = ink["amber" if is_weak else "bottle"]
    x, y = _across(levels), _up()
    base = alt.Chart(alt.Data(values=[]))
    thin = base.mark_line(color=ink["rule2"], strokeWidth=0.8).encode(x, y, detail="line:N")
    words = {"align": "left", "dx": -4, "fontWeight": 600, "fontSize": 12.5, "color": ink["ink"]}
    point = {"fill": colour, "stroke": ink["paper"], "strokeWidth": 1.6, "size": 70}
    layers = [
        base.mark_area(color=colour, opacity=0.22).encode(x, _up("low"), y2="high:Q"),
        base.mark_line(color=colour, strokeWidth=2.6).encode(x, y),
        base.mark_point(filled=True, **point).encode(x, y),
        base.mark_text(dy=17 if words_below else -15, **words).encode(x, y, text="words:N"),
    ]
    return alt.layer(*([thin] if has_others else []), *layers).properties(height=HEIGHT)


def stands_high(own: Sequence[Chance], levels: Sequence[float], asked: float) -> bool:
    """Whether there is no room over the point at the level asked."""
    return own[list(levels).index(asked)].mean > _HIGH


def filled(
    drawing: Mapping[str, Any],
    levels: Sequence[float],
    own: Sequence[Chance],
    others: Sequence[Sequence[Chance]],
    asked: float,
) -> dict[str, Any]:
    """A drawing with its data.

    Args:
        drawing: The dictionary of a chart made by `misses_drawing`.
        levels: Those of the drawing.
        own: One chance a level.
        others: The same of each other compound.
        asked: The level at which the value is written; one of `levels`.

    Raises:
        ValueError: if there is no chance for each level.
    """
    if not own or any(len(line) != len(levels) for line in (own, *others)):
        msg = "every line needs one chance for each level"
        raise ValueError(msg)
    rows = _rows(levels, own, "own")
    thin = [row for n, line in enumerate(others) for row in _rows(levels, line, str(n))]
    at = next(row for row in rows if row["level"] == asked)
    number = "<1" if 0 < at["slips"] < 0.5 else f"{at['slips']:.0f}"
    value = [at | {"words": f"{number} at {asked:g}×"}]
    data = [*([thin] if others else []), rows, rows, value, value]
    layers = zip(drawing["layer"], data, strict=True)
    return {**drawing, "layer": [{**layer, "data": {"values": own}} for layer, own in layers]}


def _across(levels: Sequence[float]) -> alt.X:
    ends = [min(levels), max(levels) + _MARGIN]
    axis = alt.Axis(
        values=list(levels),
        labelExpr="format(datum.value, '~g') + '×'",
        title=None,
        labelOverlap=False,
    )
    return alt.X("level:Q", scale=alt.Scale(domain=ends, nice=False), axis=axis)


def _up(field: str = "slips") -> alt.Y:
    axis = alt.Axis(values=[0, 50, 100], title=None)
    return alt.Y(f"{field}:Q", scale=alt.Scale(domain=[0, 100], nice=False), axis=axis)


def _rows(levels: Sequence[float], line: Sequence[Chance], name: str) -> list[dict[str, Any]]:
    return [
        {
            "level": level,
            "slips": 100 * chance.mean,
            "low": 100 * chance.low,
            "high": 100 * chance.high,
            "line": name,
        }
        for level, chance in zip(levels, line, strict=True)
    ]
