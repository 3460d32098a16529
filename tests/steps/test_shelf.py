from decimal import Decimal

import pytest
from written import flight, results

from seatworthy.errors import PanelError
from seatworthy.shipped import shipped
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.shelf import shelf, time_zones
from seatworthy.steps.shelf_amounts import TypedAmount, record_thresholds
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
    assert [thing.is_done for thing in view.first_things] == [True, True, True, False, False]
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
