from datetime import date

import pytest

from seatworthy.charts.dressing import dressed
from seatworthy.charts.mixups import MOST_DRAWN, heaviest, mixups_chart
from seatworthy.charts.palette import COLOURS
from seatworthy.charts.threshold import threshold_chart
from seatworthy.steps.views import GlassView, Mixup, ThresholdPoint

AS_OF = date(2026, 11, 25)
POINTS = (
    ThresholdPoint(date(2026, 3, 5), 3.0, 1.4, 6.6),
    ThresholdPoint(date(2026, 9, 3), 1.24, 0.7, 2.1),
)
GLASSES = (
    GlassView(date(2026, 3, 5), 3.0, "naming", "missed", "", True),
    GlassView(date(2026, 6, 4), 2.0, "naming", "wrong", "banana", True),
    GlassView(date(2026, 9, 3), 12.0, "triangle", "right", "right", False),
    GlassView(date(2026, 9, 3), None, "naming", "right", "butter", False),
)


def spec(chart):
    return chart.to_dict()


def rows_of(drawn):
    sources = [part["data"]["values"] for part in (drawn, *drawn["layer"]) if "data" in part]
    return [row for rows in sources for row in rows]


def marks_of(drawn):
    return [layer["mark"]["type"] for layer in drawn["layer"]]


def test_threshold_over_time_is_a_band_a_line_and_the_glasses_on_a_log_axis():
    drawn = spec(threshold_chart(POINTS, GLASSES, AS_OF, "light"))
    assert marks_of(drawn)[:3] == ["area", "line", "text"]
    scale = drawn["layer"][0]["encoding"]["y"]["scale"]
    assert scale["type"] == "log"
    assert scale["domain"][0] < 0.5
    assert scale["domain"][1] > 12
    assert any(row.get("words") == "1.2× now" for row in rows_of(drawn))


def test_a_glass_without_a_level_is_not_drawn():
    rows = rows_of(spec(threshold_chart(POINTS, GLASSES, AS_OF, "light")))
    assert not any(row.get("said") == "butter" for row in rows)


def test_an_outcome_that_did_not_happen_has_no_layer():
    drawn = spec(threshold_chart((), GLASSES[2:3], AS_OF, "light"))
    assert marks_of(drawn) == ["point", "text"]


def test_one_threshold_alone_is_a_reach_with_a_tick():
    drawn = spec(threshold_chart(POINTS[:1], (), AS_OF, "light"))
    assert marks_of(drawn)[:2] == ["rule", "tick"]


def test_a_day_is_written_with_its_hour_so_that_no_time_zone_moves_it():
    rows = rows_of(spec(threshold_chart(POINTS, (), AS_OF, "light")))
    assert {row.get("day") for row in rows} >= {"2026-03-05T00:00:00", "2026-09-03T00:00:00"}


def test_a_threshold_chart_of_nothing_is_refused():
    with pytest.raises(ValueError, match="nothing to draw"):
        threshold_chart((), GLASSES[3:], AS_OF, "light")


def test_mixups_are_lines_with_their_count_and_only_what_stands_out_in_amber():
    mixups = (Mixup("Caprylic", "Isovaleric acid", 3), Mixup("Caprylic", "nothing", 1))
    drawn = spec(mixups_chart(mixups, "dark"))
    lines = drawn["layer"][0]
    assert lines["encoding"]["color"]["condition"]["value"] == COLOURS["dark"]["amber"]
    rows = [row for row in rows_of(drawn) if "stands_out" in row]
    assert [row["stands_out"] for row in rows] == [True, True, False, False]
    assert {row["glasses"] for row in rows} == {3, 1}


@pytest.mark.parametrize(
    ("counts", "place"), [((3, 2), 0), ((2, 2), None), ((1, 1), None), ((1,), None), ((2,), 0)]
)
def test_a_mixup_stands_out_if_seen_twice_and_more_often_than_any_other(counts, place):
    mixups = tuple(Mixup("Caprylic", f"compound {n}", count) for n, count in enumerate(counts))
    assert heaviest(mixups) == (None if place is None else mixups[place])


def test_nothing_said_stands_last_on_the_right():
    mixups = (Mixup("Caprylic", "nothing", 3), Mixup("Acetaldehyde", "Ethyl acetate", 1))
    rows = rows_of(spec(mixups_chart(mixups, "light")))
    right = {row["name"]: row["y"] for row in rows if row.get("name") and row["x"] == 1}
    assert right["Ethyl acetate"] == 0
    assert right["nothing"] == 1


def test_counts_do_not_stand_on_each_other():
    mixups = tuple(Mixup(served, said, 1) for served in "ABC" for said in "XYZ")
    counts = next(
        layer
        for layer in spec(mixups_chart(mixups, "light"))["layer"]
        if layer["mark"]["type"] == "text" and layer["encoding"]["text"]["field"] == "glasses"
    )
    spots = [(row["x"], row["y"]) for row in counts["data"]["values"]]
    assert len(spots) == 9
    assert len(set(spots)) == len(spots)


def test_no_more_mixups_are_drawn_than_can_be_read():
    mixups = tuple(Mixup(f"compound {number}", "nothing", 1) for number in range(30))
    rows = rows_of(spec(mixups_chart(mixups, "light")))
    assert len({row["pair"] for row in rows if "pair" in row}) == MOST_DRAWN


def test_mixups_of_nothing_are_refused():
    with pytest.raises(ValueError, match="no mix-up"):
        mixups_chart((), "light")


@pytest.mark.parametrize("shade", ["light", "dark"])
def test_a_dressed_chart_has_its_own_inks_and_no_legend(shade):
    config = spec(dressed(mixups_chart((Mixup("A", "B", 1),), shade), shade))["config"]
    assert config["text"]["color"] == COLOURS[shade]["ink"]
    assert config["legend"] == {"disable": True}
    assert config["background"] == "transparent"
