"""What stood in the glass and what was said instead, as lines from left to right."""

from collections.abc import Sequence
from typing import Final

import altair as alt

from seatworthy.charts.palette import COLOURS, Shade
from seatworthy.steps.views import Mixup

NOTHING: Final = "nothing"
MOST_DRAWN: Final = 9
ROW: Final = 46
COUNT_PLACES: Final = (0.34, 0.2, 0.48, 0.62, 0.78)


def mixups_chart(mixups: Sequence[Mixup], shade: Shade) -> alt.LayerChart:
    """Draw each mix-up as a line, as wide as it has glasses; one that stands out in amber.

    Args:
        mixups: Most frequent first; at most ``MOST_DRAWN`` are drawn.
        shade: What the reader's browser shows.

    Raises:
        ValueError: if there is none; a page says so in words instead.
    """
    if not mixups:
        msg = "there is no mix-up to draw"
        raise ValueError(msg)
    drawn = mixups[:MOST_DRAWN]
    left = _places(mixup.served for mixup in drawn)
    right = _places(sorted((mixup.said for mixup in drawn), key=lambda said: said == NOTHING))
    rows = max(len(left), len(right))
    sides = _Sides(left, right, rows)
    layers = [_lines(drawn, sides, shade), *_counts(drawn, sides, shade), *_names(sides, shade)]
    return alt.layer(*layers).properties(height=ROW * rows + 30)


def heaviest(mixups: Sequence[Mixup]) -> Mixup | None:
    """The one mix-up that stands out: seen more than once, and more often than any other."""
    counts = [mixup.glasses for mixup in mixups]
    if not counts or max(counts) < 2 or counts.count(max(counts)) > 1:
        return None
    return mixups[counts.index(max(counts))]


class _Sides:
    """Where the names stand: x from 0 (in the glass) to 1 (said), y in rows from the top."""

    def __init__(self, left: dict[str, int], right: dict[str, int], rows: int) -> None:
        self.left, self.right = left, right
        longest = max(len(name) for name in (*left, *right))
        reach = f"min({8 * longest + 12}, width * 0.42)"
        side = alt.Scale(
            domain=[0, 1],
            nice=False,
            rangeMin=alt.ExprRef(reach),
            rangeMax=alt.ExprRef(f"width - {reach}"),
        )
        self.limit = alt.ExprRef(f"{reach} - 8")
        self.x = alt.X("x:Q", scale=side, axis=None)
        down = alt.Scale(domain=[rows - 0.45, -0.9], nice=False)
        self.y = alt.Y("y:Q", scale=down, axis=None)

    def height_at(self, mixup: Mixup, across: float) -> float:
        start, end = self.left[mixup.served], self.right[mixup.said]
        return start + across * (end - start)


def _places(names: Sequence[str]) -> dict[str, int]:
    return {name: place for place, name in enumerate(dict.fromkeys(names))}


def _lines(mixups: Sequence[Mixup], sides: _Sides, shade: Shade) -> alt.Chart:
    amber = heaviest(mixups)
    rows = [
        {
            "pair": str(number),
            "x": x,
            "y": sides.height_at(mixup, x),
            "glasses": mixup.glasses,
            "served": mixup.served,
            "said": mixup.said,
            "stands_out": mixup is amber,
        }
        for number, mixup in enumerate(mixups)
        for x in (0, 1)
    ]
    ink = COLOURS[shade]
    most = max(mixup.glasses for mixup in mixups)
    width = alt.Scale(domain=[1, max(most, 2)], range=[1.4, 6])
    return (
        alt.Chart(alt.Data(values=rows))
        .mark_line(strokeCap="butt")
        .encode(
            sides.x,
            sides.y,
            detail="pair:N",
            size=alt.Size("glasses:Q", scale=width),
            color=alt.condition(
                "datum.stands_out", alt.value(ink["amber"]), alt.value(ink["rule2"])
            ),
            tooltip=["served:N", "said:N", "glasses:Q"],
        )
    )


def _counts(mixups: Sequence[Mixup], sides: _Sides, shade: Shade) -> list[alt.Chart]:
    placed: list[tuple[float, float]] = []
    for mixup in mixups:
        spots = [(across, sides.height_at(mixup, across)) for across in COUNT_PLACES]
        free = [spot for spot in spots if not _is_near(spot, placed)]
        placed.append((free or spots)[0])
    rows = [
        {"x": x, "y": y, "glasses": mixup.glasses}
        for mixup, (x, y) in zip(mixups, placed, strict=True)
    ]
    base = alt.Chart(alt.Data(values=rows)).encode(sides.x, sides.y)
    ground = base.mark_point(shape="circle", size=270, fill=COLOURS[shade]["paper"], stroke=None)
    return [ground, base.mark_text(fontSize=13).encode(text="glasses:Q")]


def _is_near(spot: tuple[float, float], placed: Sequence[tuple[float, float]]) -> bool:
    return any(abs(spot[0] - x) < 0.12 and abs(spot[1] - y) < 0.42 for x, y in placed)


def _names(sides: _Sides, shade: Shade) -> list[alt.Chart]:
    layers = []
    ends = ((sides.left, 0, -9, "right", "in the glass"), (sides.right, 1, 9, "left", "said"))
    for names, x, away, align, head in ends:
        rows = [{"x": x, "y": place, "name": name} for name, place in names.items()]
        style = {"align": align, "dx": away, "baseline": "middle"}
        text = alt.Chart(alt.Data(values=rows)).mark_text(fontSize=14, limit=sides.limit, **style)
        over = alt.Chart(alt.Data(values=[{"x": x, "y": -0.68, "name": head}]))
        title = over.mark_text(fontSize=12.5, color=COLOURS[shade]["ink3"], **style)
        layers += [part.encode(sides.x, sides.y, text="name:N") for part in (text, title)]
    return layers
