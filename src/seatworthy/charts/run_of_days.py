"""One panellist's share named right, day by day, and its moving average between its limits."""

from collections.abc import Sequence
from typing import Final

import altair as alt

from seatworthy.charts.palette import COLOURS, Shade
from seatworthy.steps.figures_views import DayShare

HEIGHT: Final = 150


def run_of_days_chart(days: Sequence[DayShare], shade: Shade) -> alt.LayerChart:
    """Draw each day as a ring, the average as a line, its limits as a band.

    Args:
        days: Oldest first, at least one.
        shade: What the reader's browser shows.

    Raises:
        ValueError: if there is no day.
    """
    if not days:
        msg = "there is no day to draw"
        raise ValueError(msg)
    ink = COLOURS[shade]
    rows = [
        {
            "day": f"{one.day.isoformat()}T00:00:00",
            "share": one.named_right / one.glasses,
            "average": one.average,
            "low": one.low,
            "high": one.high,
            "count": f"{one.named_right} of {one.glasses}",
        }
        for one in days
    ]
    base = alt.Chart(alt.Data(values=rows)).encode(
        alt.X("day:T", axis=alt.Axis(title=None, format="%b %Y", tickCount=6, grid=False))
    )
    scale = alt.Scale(domain=[0, 1])
    axis = alt.Axis(title=None, format="%", values=[0, 0.5, 1])
    band = base.mark_area(color=ink["flint"], opacity=0.16).encode(
        alt.Y("low:Q", scale=scale, axis=axis), y2="high:Q"
    )
    line = base.mark_line(color=ink["ink"], strokeWidth=2).encode(
        alt.Y("average:Q", scale=scale, axis=axis)
    )
    rings = base.mark_point(
        shape="circle", size=46, fill=ink["paper"], stroke=ink["flint"], strokeWidth=1.4
    ).encode(
        alt.Y("share:Q", scale=scale, axis=axis),
        tooltip=[
            alt.Tooltip("day:T", title="Day", format="%-d %B %Y"),
            alt.Tooltip("count:N", title="Named right"),
        ],
    )
    return alt.layer(band, rings, line).properties(height=HEIGHT)
