from datetime import date, timedelta
from decimal import Decimal

import pytest

from seatworthy.errors import PanelError
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.concentrations import UNITS
from seatworthy.steps.shelf import shelf
from seatworthy.steps.shelf_amounts import (
    Background,
    TypedAmount,
    doubts,
    past_levels,
    record_thresholds,
    set_background,
)
from seatworthy.steps.shelf_writing import NOTHING_NEW, add_beer


@pytest.fixture
def pils(desk):
    add_beer(desk, "Quillmere Pils", "Pale lagers")
    return desk


def compound(desk, key):
    return next(line for line in shelf(desk).compounds if line.key == key)


# ---------- working thresholds ----------


def test_units_say_the_same_on_the_page_and_in_a_shelf_file(desk, tmp_path):
    for number, unit in enumerate(UNITS):
        day = desk.today() - timedelta(days=10 - number)
        text = f'[[working_thresholds]]\ncompound="dms"\nvalue=3\nunit="{unit}"\nfrom={day}\n'
        path = tmp_path / f"{number}.toml"
        path.write_text(text, encoding="utf-8")
        bring_in_shelf(desk, path)
        typed = [TypedAmount("dms", "3", unit)]
        assert record_thresholds(desk, typed, "", day, is_sure=True) == NOTHING_NEW


def test_thresholds_are_shown_in_the_unit_of_the_book(pils):
    record_thresholds(pils, [TypedAmount("acetaldehyde", "8000", "µg/l")], "", pils.today())
    (ours,) = compound(pils, "acetaldehyde").ours
    assert (ours.value, compound(pils, "acetaldehyde").unit) == (Decimal(8), "mg/l")


def test_a_familys_own_threshold_stands_beside_the_general_one(pils):
    record_thresholds(pils, [TypedAmount("dms", "32", "µg/l")], "", pils.today())
    record_thresholds(pils, [TypedAmount("dms", "40", "µg/l")], "pale_lagers", pils.today())
    ours = [(line.family_label, line.value) for line in compound(pils, "dms").ours]
    assert ours == [("all beers", 32), ("Pale lagers", 40)]


def test_several_thresholds_are_one_act(pils):
    version = pils.version
    typed = [TypedAmount("dms", "32", "µg/l"), TypedAmount("diacetyl", "0,06", "mg/l")]
    said = record_thresholds(pils, typed, "", pils.today())
    assert said.startswith("2 thresholds for all beers from")
    assert "DMS 32 µg/l and diacetyl 60 µg/l" in said
    assert pils.version == version + 1


def test_one_bad_number_keeps_all_thresholds_out(pils):
    version = pils.version
    typed = [TypedAmount("dms", "32", "µg/l"), TypedAmount("diacetyl", "sixty", "µg/l")]
    with pytest.raises(PanelError, match="threshold of diacetyl must be a number, got “sixty”"):
        record_thresholds(pils, typed, "", pils.today())
    assert pils.version == version


@pytest.mark.parametrize("written", ["0", "-3", "1e30", "0.0000000001"])
def test_a_threshold_is_above_zero_and_believable(pils, written):
    with pytest.raises(PanelError, match="threshold of DMS must be"):
        record_thresholds(pils, [TypedAmount("dms", written, "µg/l")], "", pils.today())


def test_the_same_threshold_again_leaves_no_entry(pils):
    record_thresholds(pils, [TypedAmount("dms", "32", "µg/l")], "", pils.today())
    version = pils.version
    typed = [TypedAmount("dms", "0.032", "mg/l")]
    assert record_thresholds(pils, typed, "", pils.today()) == NOTHING_NEW
    assert pils.version == version


@pytest.mark.parametrize(
    ("written", "is_doubted"), [("350", False), ("351", True), ("3", False), ("2.9", True)]
)
def test_ten_times_outside_the_books_range_is_asked_about(pils, written, is_doubted):
    # The vocabulary's range for DMS is 30 to 35 µg/l.
    typed = [TypedAmount("dms", written, "µg/l")]
    assert bool(doubts(pils, typed)) == is_doubted
    if is_doubted:
        with pytest.raises(PanelError, match="Is the unit right"):
            record_thresholds(pils, typed, "", pils.today())
        assert compound(pils, "dms").ours == ()
    record_thresholds(pils, typed, "", pils.today(), is_sure=True)
    assert len(compound(pils, "dms").ours) == 1


def test_where_the_books_are_silent_nothing_is_doubted(pils):
    assert doubts(pils, [TypedAmount("indole", "5", "mg/l")]) == ()


def test_a_threshold_cannot_count_from_a_day_to_come(pils):
    with pytest.raises(PanelError, match="at the latest"):
        record_thresholds(
            pils, [TypedAmount("dms", "32", "µg/l")], "", pils.today() + timedelta(days=1)
        )


def test_a_backdated_threshold_names_the_sessions_it_changes(pils, tmp_path):
    path = tmp_path / "dosed.csv"
    path.write_text(
        "date,session,panellist,code,compound,dose,volume,answer,base beer\n"
        "2026-03-02,Spring panel,Ada,123,dms,100 ug,1 l,dms,Quillmere Pils\n",
        encoding="utf-8",
    )
    bring_in_results(pils, path)
    since = date(2026, 1, 1)
    assert "Spring panel of 2 March" in past_levels(pils, ["dms"], since)
    assert "no dose on record" in past_levels(pils, ["dms"], date(2026, 3, 3))
    assert past_levels(pils, ["dms"], pils.today()) == ""
    said = record_thresholds(pils, [TypedAmount("dms", "32", "µg/l")], "", since)
    assert "levels change in Spring panel of 2 March" in said


def test_a_backdated_threshold_says_until_when_it_counts(pils):
    record_thresholds(pils, [TypedAmount("dms", "32", "µg/l")], "", pils.today())
    before = pils.today() - timedelta(days=30)
    said = record_thresholds(pils, [TypedAmount("dms", "40", "µg/l")], "", before)
    assert "DMS only until" in said


# ---------- background ----------


def test_a_background_may_be_measured_as_zero_or_be_unknown(pils):
    today = pils.today()
    set_background(pils, Background("quillmere pils", "dms", "measured", "0", "µg/l", today))
    assert shelf(pils).backgrounds[0].value == 0
    said = set_background(pils, Background("quillmere pils", "dms", "unknown", "", "µg/l", today))
    assert said.startswith("DMS in Quillmere Pils: unknown, from")
    assert shelf(pils).backgrounds[0].value is None


def test_the_same_background_again_leaves_no_entry(pils):
    stated = Background("quillmere pils", "dms", "assumed", "8", "µg/l", pils.today())
    set_background(pils, stated)
    version = pils.version
    assert set_background(pils, stated) == NOTHING_NEW
    assert pils.version == version


def test_a_background_needs_its_number_and_a_likely_one(pils):
    today = pils.today()
    with pytest.raises(PanelError, match="background of DMS must be a number"):
        set_background(pils, Background("quillmere pils", "dms", "measured", "", "µg/l", today))
    slip = Background("quillmere pils", "dms", "measured", "8", "mg/l", today)
    with pytest.raises(PanelError, match="Is the unit right"):
        set_background(pils, slip)
    assert shelf(pils).backgrounds == ()
