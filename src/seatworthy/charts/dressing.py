"""The last step of every chart: its fonts, inks and rules for the reader's shade."""

from typing import Any

import altair as alt

from seatworthy.charts.palette import COLOURS, SENTENCE_FACE, TEXT_FACE, Shade


def dressed(chart: alt.TopLevelMixin, shade: Shade) -> alt.TopLevelMixin:
    """Give one chart its look without touching the theme that all readers share.

    The process-wide theme would put a reader on dark into another one's light, so a page passes
    the result on with ``theme=None``.

    Args:
        chart: A finished chart, not configured yet.
        shade: What the reader's browser shows.
    """
    return chart.configure(**look_of(shade))


def look_of(shade: Shade) -> dict[str, Any]:
    """Vega-Lite config for one shade: hairlines, one ink line at the foot, no legend, no frame."""
    ink = COLOURS[shade]
    return {
        "background": "transparent",
        "font": TEXT_FACE,
        "padding": {"left": 2, "right": 16, "top": 6, "bottom": 2},
        "view": {"stroke": None},
        "legend": {"disable": True},
        "axis": _axis(ink) | {"grid": False, "domain": False, "ticks": False},
        "axisX": {"domain": True, "domainColor": ink["ink"], "domainWidth": 1},
        "axisY": {"grid": True, "gridColor": ink["rule"], "gridWidth": 1},
        "title": {"font": SENTENCE_FACE, "fontSize": 19, "color": ink["ink"], "anchor": "start"},
        "line": {"color": ink["ink"], "strokeCap": "round"},
        "rule": {"color": ink["rule2"], "strokeWidth": 1},
        "point": {"color": ink["ink"], "opacity": 1},
        "text": {"font": TEXT_FACE, "fontSize": 13, "color": ink["ink"]},
    }


def _axis(ink: dict[str, str]) -> dict[str, Any]:
    words = {"Font": TEXT_FACE, "FontSize": 13, "Color": ink["ink2"]}
    labels = {f"label{part}": value for part, value in words.items()}
    titles = {f"title{part}": value for part, value in words.items()}
    return {**labels, **titles, "titleFontWeight": "normal", "labelPadding": 6, "titlePadding": 10}
