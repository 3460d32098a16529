"""One panellist's threshold for one compound over time, with every glass that taught us."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, Final

import altair as alt

from seatworthy.charts.palette import COLOURS, Shade
from seatworthy.phrases import METHOD_WORDS, multiple, outcome_words
from seatworthy.steps.views import GlassView, ThresholdPoint

# A glass seen from above: disc named right, half disc another name, ring not noticed, and a ring
# with a dot for "something, but no name". Vega reads a path in a box from -1 to 1.
HALF_DISC: Final = "M0,-1A1,1,0,0,1,0,1Z"
DOUBLINGS: Final = (0.0625, 0.125, 0.25, 0.5, 1, 2, 4, 8, 16, 32, 64)
LEAST_DOMAIN: Final = (0.5, 8.0)
MOST_DOMAIN: Final = (0.125, 64.0)  # a band beyond is cut: nothing was ever poured there
HEIGHT: Final = 260
GUTTER: Final = 70  # px kept free on the right for the last value


def threshold_chart(
    points: Sequence[ThresholdPoint],
    glasses: Sequence[GlassView],
    as_of: date,
    shade: Shade,
) -> alt.LayerChart:
    """Draw the threshold's band and best guess, and the glasses at their actual level.

    Args:
        points: Oldest first; multiples of the working threshold; may be empty.
        glasses: Oldest first; those without a known level are left out, for they have no height.
        as_of: Right end of the time axis.
        shade: What the reader's browser shows.

    Raises:
        ValueError: if there is neither a point nor a glass with a level.
    """
    levelled = [glass for glass in glasses if glass.level is not None]
    if not points and not levelled:
        msg = "there is nothing to draw: no threshold and no glass with a level"
        raise ValueError(msg)
    frame = _Frame.around(points, levelled, as_of)
    layers = [
        *_band_layers(points, frame, shade),
        *_glass_layers(levelled, frame, shade),
        _end_words(frame, shade),
    ]
    return alt.layer(*layers).properties(height=HEIGHT)


@dataclass(frozen=True)
class _Frame:
    """What all layers share: days from left to right, multiples upwards by doublings."""

    first: date
    last: date
    low: float
    high: float

    @classmethod
    def around(
        cls, points: Sequence[ThresholdPoint], glasses: Sequence[GlassView], as_of: date
    ) -> "_Frame":
        days = [*(point.day for point in points), *(glass.day for glass in glasses), as_of]
        drawn = [*(point.mean for point in points), *(glass.level for glass in glasses)]
        low = max(MOST_DOMAIN[0], min([LEAST_DOMAIN[0], *(point.low for point in points)]))
        high = min(MOST_DOMAIN[1], max([LEAST_DOMAIN[1], *(point.high for point in points)]))
        return cls(min(days), max(days), min([low, *drawn]), max([high, *drawn]))

    @property
    def x(self) -> alt.X:
        span = max(self.last - self.first, timedelta(days=28))
        edge = span * 0.025
        ends = [_moment(self.last - span - edge), _moment(self.last + edge)]
        right = alt.ExprRef(f"width - {GUTTER}")
        scale = alt.Scale(domain=ends, nice=False, rangeMin=0, rangeMax=right)
        ticks = {"title": None, "labelOverlap": "greedy", "grid": False}
        if span <= timedelta(days=60):
            axis = alt.Axis(format="%-d %b", tickCount=5, **ticks)
        elif span <= timedelta(days=430):
            axis = alt.Axis(format="%b", tickCount="month", **ticks)
        else:
            axis = alt.Axis(format="%b %Y", tickCount=6, **ticks)
        return alt.X("day:T", scale=scale, axis=axis)

    @property
    def scale(self) -> alt.Scale:
        return alt.Scale(type="log", domain=[self.low * 0.94, self.high * 1.06], nice=False)

    @property
    def y(self) -> alt.Y:
        shown = [value for value in DOUBLINGS if self.low <= value <= self.high]
        # Without tickCount a log axis drops the labels that are not powers of ten.
        axis = alt.Axis(
            values=shown,
            tickCount=4 * len(shown),
            labelExpr="format(datum.value, '~g') + '×'",
            labelOverlap=False,
            title=None,
        )
        return alt.Y("height:Q", scale=self.scale, axis=axis)


def _band_layers(points: Sequence[ThresholdPoint], frame: _Frame, shade: Shade) -> list[alt.Chart]:
    if not points:
        return []
    bottle = COLOURS[shade]["bottle"]
    rows = [{"day": _moment(p.day), "height": p.low, "top": p.high, "mean": p.mean} for p in points]
    base = alt.Chart(alt.Data(values=rows)).encode(frame.x)
    mean = alt.Y("mean:Q", scale=frame.scale)
    if len(points) == 1:
        reach = base.mark_rule(clip=True, color=bottle, strokeWidth=7, opacity=0.3)
        best = base.mark_tick(color=bottle, thickness=2.5, size=16)
    else:
        reach = base.mark_area(interpolate="monotone", clip=True, color=bottle, opacity=0.22)
        best = base.mark_line(interpolate="monotone", color=bottle, strokeWidth=2.2)
    written = f"{multiple(points[-1].mean)} now"
    label = alt.Chart(alt.Data(values=[rows[-1] | {"words": written}])).mark_text(
        align="left", dx=9, fontWeight=600, color=COLOURS[shade]["ink"]
    )
    return [
        reach.encode(frame.y, y2="top:Q"),
        best.encode(mean),
        label.encode(frame.x, mean, text="words:N"),
    ]


def _glass_layers(glasses: Sequence[GlassView], frame: _Frame, shade: Shade) -> list[alt.Chart]:
    ink = COLOURS[shade]
    filled = {"fill": ink["ink"], "stroke": None}
    ring = {"fill": ink["paper"], "stroke": ink["ink"], "strokeWidth": 1.6}
    drawings = (
        (("wrong", "open", "missed"), {"shape": "circle", "size": 78, **ring}),
        (("right",), {"shape": "circle", "size": 92, **filled}),
        (("wrong",), {"shape": HALF_DISC, "size": 78, **filled}),
        (("open",), {"shape": "circle", "size": 14, **filled}),
    )
    layers = []
    for outcomes, drawing in drawings:
        rows = [_glass_row(glass) for glass in glasses if glass.outcome in outcomes]
        if rows:
            layers.append(_glasses(rows, frame).mark_point(**drawing))
    return layers


def _glasses(rows: list[dict[str, Any]], frame: _Frame) -> alt.Chart:
    return alt.Chart(alt.Data(values=rows)).encode(
        frame.x,
        frame.y,
        opacity=alt.condition("datum.counts", alt.value(1), alt.value(0.45)),
        tooltip=[
            alt.Tooltip("day:T", title="Day", format="%-d %B %Y"),
            alt.Tooltip("level:N", title="Level"),
            alt.Tooltip("method:N", title="Asked"),
            alt.Tooltip("outcome:N", title="Answer"),
            alt.Tooltip("said:N", title="Said"),
            alt.Tooltip("counted:N", title="Counted"),
        ],
    )


def _glass_row(glass: GlassView) -> dict[str, Any]:
    return {
        "day": _moment(glass.day),
        "height": glass.level,
        "level": multiple(glass.level),
        "method": METHOD_WORDS.get(glass.method, glass.method),
        "outcome": outcome_words(glass.method, glass.outcome),
        "said": glass.said or "nothing",
        "counts": glass.counts,
        "counted": "yes" if glass.counts else "no",
    }


def _end_words(frame: _Frame, shade: Shade) -> alt.Chart:
    ends = [(frame.high * 0.9, "needs more"), (frame.low * 1.12, "needs less")]
    rows = [{"height": height, "words": words} for height, words in ends]
    ink2 = COLOURS[shade]["ink2"]
    words = alt.Chart(alt.Data(values=rows)).mark_text(align="right", fontSize=12.5, color=ink2)
    return words.encode(alt.XValue("width"), frame.y, text="words:N")


def _moment(day: date) -> str:
    # Without a time of day a browser west of Greenwich would show the day before.
    return f"{day.isoformat()}T00:00:00"
