from datetime import date, timedelta
from decimal import Decimal

import pytest
from written import flight, results

from seatworthy.errors import PanelError
from seatworthy.shipped import shipped
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.concentrations import UNITS
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.shelf import shelf, time_zones
from seatworthy.steps.shelf_amounts import (
    Background,
    TypedAmount,
    doubts,
    past_levels,
    record_thresholds,
    set_background,
)
from seatworthy.steps.shelf_history import shelf_history
from seatworthy.steps.shelf_words import add_compound, give_meaning
from seatworthy.steps.shelf_writing import (
    NOTHING_NEW,
    add_beer,
    add_family,
    change_beer,
    rename_family,
    set_brewery,
    set_lists,
)
from seatworthy.steps.words import NO_COMPOUND


@pytest.fixture
def pils(desk):
    set_brewery(desk, "Quillmere Brewery", "UTC")
    add_beer(desk, "Quillmere Pils", "Pale lagers", "4,8")
    return desk


@pytest.fixture
def sample_shelf(desk):
    bring_in_shelf(desk, shipped("sample_data/shelf.toml"))
    return desk


def compound(desk, key):
    return next(line for line in shelf(desk).compounds if line.key == key)


# ---------- setting up ----------


def test_an_empty_shelf_says_what_to_do_first(desk):
    view = shelf(desk)
    assert view.answer == "The shelf is empty"
    assert [thing.place for thing in view.first_things] == [
        "beers",
        "beers",
        "thresholds",
        "people",
        "plan",
    ]


def test_three_acts_make_a_shelf_ready(pils):
    record_thresholds(pils, [TypedAmount("dms", "32", "µg/l")], "", pils.today())
    view = shelf(pils)
    assert view.first_things == ()
    assert view.answer == "One compound has a working threshold for the pale lagers"
    verify(pils)


def test_the_sentence_names_a_critical_compound_without_a_threshold(sample_shelf):
    add_compound(sample_shelf, "Hop creep oil", "", "µg/l")
    set_lists(sample_shelf, "pale_lager", [("diacetyl",), ("hop_creep_oil",)], [])
    view = shelf(sample_shelf, "pale_lager")
    assert view.answer == "16 compounds have a working threshold for the pale lagers"
    assert view.catch == "hop creep oil, a critical one, has none."


def test_a_group_is_covered_by_one_of_its_compounds(pils):
    today = pils.today()
    record_thresholds(pils, [TypedAmount("lactic_acid", "400", "mg/l")], "", today)
    set_lists(pils, "pale_lagers", [("acetic_acid", "lactic_acid")], [])
    assert shelf(pils).catch == ""


# ---------- brewery, families, beers ----------


def test_a_brewery_needs_a_name_and_a_known_time_zone(desk):
    with pytest.raises(PanelError, match="The brewery's name is empty"):
        set_brewery(desk, " ", "Europe/Dublin")
    with pytest.raises(PanelError, match="Choose a time zone"):
        set_brewery(desk, "Quillmere", "Europe/Atlantis")


def test_time_zones_of_places_come_first():
    assert "/" in time_zones()[0]
    assert "UTC" in time_zones()


def test_saying_what_stands_already_leaves_no_entry(pils):
    version = pils.version
    assert set_brewery(pils, "Quillmere Brewery", "UTC") == NOTHING_NEW
    assert change_beer(pils, "quillmere pils", "pale_lagers", "4.80") == NOTHING_NEW
    assert set_lists(pils, "pale_lagers", [], []) == NOTHING_NEW
    assert rename_family(pils, "pale_lagers", "Pale lagers") == NOTHING_NEW
    assert pils.version == version


def test_a_beer_makes_its_new_family_in_one_act(desk):
    add_beer(desk, "Quillmere Weisse", "Wheat beers", "5.2%")
    (beer,) = shelf(desk).beers
    assert (beer.key, beer.family, beer.abv_percent) == (
        "quillmere weisse",
        "wheat_beers",
        Decimal("5.20"),
    )


def test_a_results_file_finds_the_beer_of_the_page(desk, tmp_path):
    add_beer(desk, "Pils", "Pale lagers")
    rows = flight("2026-03-02", "Ada", {"diacetyl": "diacetyl"})
    bring_in_results(desk, results(tmp_path / "march.csv", rows))
    assert [beer.family for beer in shelf(desk).beers] == ["pale_lagers"]


@pytest.mark.parametrize("abv", ["-1", "30.5", "strong", "1e40"])
def test_a_strength_beyond_belief_is_refused(desk, abv):
    with pytest.raises(PanelError, match="Alcohol by volume"):
        add_beer(desk, "Pils", "Pale lagers", abv)
    assert shelf(desk).families == ()


def test_a_beer_and_a_family_are_added_once(pils):
    with pytest.raises(PanelError, match="stands on the shelf already"):
        add_beer(pils, "QUILLMERE pils", "Pale lagers")
    with pytest.raises(PanelError, match="is a beer family already"):
        add_family(pils, "pale LAGERS")


def test_a_changed_beer_moves_to_its_new_family(pils):
    assert "is among bocks now" in change_beer(pils, "quillmere pils", "Bocks", "6.5")
    (beer,) = shelf(pils).beers
    assert (beer.family_label, beer.abv_percent) == ("Bocks", Decimal("6.50"))


def test_renaming_a_family_keeps_its_lists(sample_shelf):
    before = {line.key: line for line in shelf(sample_shelf).families}
    rename_family(sample_shelf, "wheat_beer", "Weissbier")
    after = {line.key: line for line in shelf(sample_shelf).families}
    assert after["wheat_beer"].label == "Weissbier"
    assert after["wheat_beer"].critical == before["wheat_beer"].critical
    assert after["wheat_beer"].expected == before["wheat_beer"].expected


# ---------- lists ----------


def test_lists_keep_their_groups(pils):
    critical = [("diacetyl",), ("acetic_acid", "lactic_acid")]
    said = set_lists(pils, "pale_lagers", critical, [("linalool",)])
    assert said == "Critical for pale lagers: diacetyl and acetic acid or lactic acid."
    (family,) = shelf(pils).families
    assert (list(family.critical), family.expected) == (critical, (("linalool",),))


def test_a_family_without_a_list_gets_the_rulebooks(pils):
    set_lists(pils, "pale_lagers", [("geosmin",)], [])
    assert "the rulebook's critical list counts" in set_lists(pils, "pale_lagers", [], [])
    view = shelf(pils)
    assert view.families[0].critical == ()
    assert ("dms",) in view.default_critical
    assert compound(pils, "dms").is_critical


def test_a_compound_stands_once_in_a_list(pils):
    with pytest.raises(PanelError, match="critical list names acetic acid twice"):
        set_lists(pils, "pale_lagers", [("acetic_acid",), ("acetic_acid", "lactic_acid")], [])


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


# ---------- words and own compounds ----------


def test_open_words_get_a_meaning(pils, tmp_path):
    rows = flight("2026-03-02", "Ada", {"dms": "boiled maize"})
    bring_in_results(pils, results(tmp_path / "march.csv", rows))
    assert [own.words for own in shelf(pils).open_words] == ["boiled maize"]
    assert "stands for DMS" in give_meaning(pils, "boiled maize", "dms")
    assert shelf(pils).open_words == ()
    assert "boiled maize" in compound(pils, "dms").synonyms


def test_words_may_name_no_compound(pils):
    give_meaning(pils, "pub carpet", NO_COMPOUND)
    assert shelf(pils).silent_words == ("pub carpet",)


def test_words_with_a_meaning_keep_it_until_said_again(pils):
    give_meaning(pils, "maize", "dms")
    with pytest.raises(PanelError, match="“maize” stands for DMS already"):
        give_meaning(pils, "maize", "diacetyl")
    assert give_meaning(pils, "Maize", "dms") == NOTHING_NEW
    assert "stands for diacetyl" in give_meaning(pils, "maize", "diacetyl", again=True)


@pytest.mark.parametrize("words", ["nothing", "yes", "diacetyl", " "])
def test_words_that_say_something_already_get_no_meaning(pils, words):
    with pytest.raises(PanelError, match="cannot|already|No words"):
        give_meaning(pils, words, "dms")


def test_an_own_compound_is_found_by_its_name(pils):
    add_compound(pils, "Hop creep oil", "resin, pine needles", "ng/l")
    own = compound(pils, "hop_creep_oil")
    assert (own.descriptors, own.unit, own.low) == ("resin, pine needles", "ng/l", None)
    assert give_meaning(pils, "hop creep OIL", "hop_creep_oil") == NOTHING_NEW
    record_thresholds(pils, [TypedAmount("hop_creep_oil", "5", "ng/l")], "", pils.today())
    verify(pils)


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("diacetyl", "stands for diacetyl already"),
        ("Nothing", "means nothing in every results file"),
        ("<i>", "compound's name must be a name"),
        ("", "compound's name is empty"),
    ],
)
def test_an_own_compound_needs_a_free_name(pils, name, sentence):
    with pytest.raises(PanelError, match=sentence):
        add_compound(pils, name, "", "µg/l")


def test_vocabulary_only_compounds_are_marked(desk):
    assert {line.key for line in shelf(desk).compounds if not line.is_served}
    assert compound(desk, "dms").is_served


# ---------- history ----------


def test_a_new_store_has_no_history_of_its_shelf(desk):
    assert shelf_history(desk) == ()


def test_history_tells_what_was_stated_newest_first(pils):
    record_thresholds(pils, [TypedAmount("dms", "32", "µg/l")], "", pils.today())
    set_lists(pils, "pale_lagers", [("dms",), ("acetic_acid", "lactic_acid")], [])
    told = [(line.what, line.value) for line in shelf_history(pils)]
    assert told[0] == ("Beer family Pale lagers", "critical: DMS, acetic acid or lactic acid")
    assert told[1][0] == "Working threshold of DMS"
    assert told[1][1].startswith("32 µg/l for all beers, from")
    assert told[-1] == ("Brewery", "Quillmere Brewery, UTC")


def test_history_says_who_when_somebody_said_so(pils):
    add_people(pils, ["Ada Moran"], None)
    (ada,) = people_of_panel(pils)
    record_thresholds(pils, [TypedAmount("dms", "32", "µg/l")], "", pils.today(), by=ada.person_id)
    assert [line.who for line in shelf_history(pils)][:2] == ["Ada Moran", ""]


def test_history_tells_a_whole_shelf_file(sample_shelf):
    lines = shelf_history(sample_shelf)
    assert any(line.what == "Background of DMS in Quillmere Pils" for line in lines)
    words = [line for line in lines if line.compound == "dms" and line.what == "Words for DMS"]
    assert len(words) == 1
