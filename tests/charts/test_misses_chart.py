"""One compound's chance to slip past, drawn."""

import pytest

from seatworthy.charts.misses import filled, misses_drawing, stands_high
from seatworthy.charts.palette import COLOURS
from seatworthy.steps.miss_views import Chance

LEVELS = (1.0, 2.0, 3.0, 5.0)
OWN = tuple(Chance(m, m / 2, min(1.0, m * 1.2)) for m in (0.91, 0.74, 0.58, 0.33))
OTHER = tuple(Chance(m, m, m) for m in (0.5, 0.2, 0.06, 0.001))


def drawn(own=OWN, others=(OTHER,), shade="light", is_weak=False):
    chart = misses_drawing(
        LEVELS, shade, is_weak=is_weak, has_others=bool(others),
        words_below=bool(own) and len(own) == 4 and stands_high(own, LEVELS, 3.0),
    )  # fmt: skip
    return filled(chart.to_dict(), LEVELS, own, others, 3.0)


def values(layer):
    return layer["data"]["values"]


def test_thin_lines_then_band_line_point_and_value():
    chart = drawn()
    kinds = [layer["mark"]["type"] for layer in chart["layer"]]
    assert kinds == ["line", "area", "line", "point", "text"]
    assert [row["slips"] for row in values(chart["layer"][2])] == pytest.approx([91, 74, 58, 33])
    assert values(chart["layer"][4])[0]["words"] == "58 at 3×"


def test_without_others_no_thin_line():
    assert drawn(others=())["layer"][0]["mark"]["type"] == "area"


def test_under_one_in_a_hundred_is_written_so():
    tiny = tuple(Chance(0.002, 0.001, 0.003) for _ in LEVELS)
    assert values(drawn(own=tiny)["layer"][4])[0]["words"] == "<1 at 3×"


def test_a_weak_compound_is_amber():
    chart = drawn(others=(), shade="dark", is_weak=True)
    assert chart["layer"][1]["mark"]["color"] == COLOURS["dark"]["amber"]


def test_a_line_that_lacks_a_level_is_a_slip():
    with pytest.raises(ValueError, match="one chance for each level"):
        drawn(own=OWN[:3])
    with pytest.raises(ValueError, match="one chance for each level"):
        drawn(own=())


def test_filling_leaves_the_drawing_as_it_was():
    """It is kept for every reader."""
    drawing = misses_drawing(LEVELS, "light", is_weak=False).to_dict()
    before = repr(drawing)
    filled(drawing, LEVELS, OWN, (OTHER,), 3.0)
    assert repr(drawing) == before


def test_a_value_that_stands_high_is_written_under_its_point():
    high = tuple(Chance(0.97, 0.9, 1.0) for _ in LEVELS)
    assert drawn(own=high)["layer"][4]["mark"]["dy"] > 0
    assert drawn()["layer"][4]["mark"]["dy"] < 0
