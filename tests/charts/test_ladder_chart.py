import pytest

from seatworthy.charts.dressing import dressed
from seatworthy.charts.ladder import ROW, ladder_chart
from seatworthy.steps.weigh_views import RungLine

RUNGS = (
    RungLine("Before anyone tasted", ("1 in 100 has some,", "a weak default"), 0.01, "start"),
    RungLine("Bo said DMS", ("finds it 8 of 8,",), 0.9, "called"),
    RungLine("Carmen said papery", (), 0.3, "other"),
    RungLine("Ada said nothing", (), 0.8, "silent"),
    RungLine("Dilek said nothing", (), 0.8, "nowhere"),
)


def layers(rungs, shade="light"):
    return dressed(ladder_chart(rungs, shade), shade).to_dict()["layer"]


def values(layer):
    return layer["data"]["values"]


@pytest.mark.parametrize("shade", ["light", "dark"])
def test_every_rung_is_drawn_with_its_words_and_its_number(shade):
    spec = dressed(ladder_chart(RUNGS, shade), shade).to_dict()
    assert spec["height"] == ROW * len(RUNGS)
    texts = [row["shown"] for layer in layers(RUNGS) if layer["mark"].get("type") == "text"
             and layer["encoding"]["text"]["field"] == "shown" for row in values(layer)]  # fmt: skip
    assert sorted(texts) == sorted(["1%", "90%", "30%", "80%", "80%"])


def test_the_line_runs_through_those_who_move_it_and_dashes_through_the_rest():
    solid, dashed = [layer for layer in layers(RUNGS) if layer["mark"].get("type") == "line"]
    assert [row["head"] for row in values(solid)] == [rung.head for rung in RUNGS[:4]]
    assert [row["head"] for row in values(dashed)] == ["Ada said nothing", "Dilek said nothing"]
    assert "strokeDash" in dashed["mark"]
    assert "strokeDash" not in solid["mark"]


def test_a_number_stands_where_no_flat_line_crosses_it():
    rows = {
        row["head"]: row["side"]
        for layer in layers(RUNGS)
        for row in values(layer)
        if "side" in row
    }
    assert rows["Before anyone tasted"] == "above"
    assert rows["Bo said DMS"] == "right"
    assert rows["Carmen said papery"] == "left"
    assert rows["Ada said nothing"] == "right"


def test_under_one_in_a_hundred_is_never_nought():
    small = (RUNGS[0], RungLine("Ada said nothing", (), 0.002, "silent"))
    shown = {row["shown"] for layer in layers(small) for row in values(layer) if "shown" in row}
    assert shown == {"1%", "<1%"}


def test_nothing_to_draw_is_a_slip():
    with pytest.raises(ValueError, match="no ladder"):
        ladder_chart((), "light")
