import pytest
from streamlit.testing.v1 import AppTest

from seatworthy.pages import source
from seatworthy.shipped import shipped
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.shelf import shelf
from seatworthy.steps.shelf_history import shelf_history
from seatworthy.steps.shelf_writing import add_beer

PARTS = (
    "beers", "lists", "thresholds", "panel", "background", "words", "compounds", "history",
)  # fmt: skip


def _page():
    from seatworthy.pages import shelf

    shelf.show()


@pytest.fixture
def page(desk, monkeypatch):
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    return AppTest.from_function(_page, default_timeout=20)


@pytest.fixture
def filled(desk):
    bring_in_shelf(desk, shipped("sample_data/shelf.toml"))
    return desk


def run(test, **address):
    for name, value in address.items():
        test.query_params[name] = value
    test.run()
    assert not test.exception
    return test


def press(test, label):
    (button,) = [button for button in test.button if button.label == label]
    button.click()
    return run(test)


def html_of(test):
    return "\n".join(element.proto.body for element in test.get("html"))


def type_thresholds(test, **numbers):
    """Type numbers into the table, by the place of their row."""
    key = test.get("dataframe")[0].proto.id.split("-", 2)[2]
    rows = {int(row.removeprefix("row")): {"ours": text} for row, text in numbers.items()}
    test.session_state[key] = {"edited_rows": rows, "added_rows": [], "deleted_rows": []}
    return run(test)


def write_new(box, words):
    """Write what a selectbox does not offer; the test driver only knows how to choose."""
    box.options.append(words)
    box.set_value(words)


def compound(desk, key):
    return next(line for line in shelf(desk).compounds if line.key == key)


@pytest.mark.parametrize("part", PARTS)
def test_every_part_opens_on_an_empty_store(page, part):
    html = html_of(run(page, part=part))
    assert "The shelf is empty" in html
    assert "Say what the brewery is called" in html


@pytest.mark.parametrize("part", PARTS)
def test_every_part_opens_on_the_sample_shelf(page, filled, part):
    html = html_of(run(page, part=part, family="wheat_beer"))
    assert "compounds have a working threshold for the wheat beers" in html
    assert html_of(page).count("<dt>Done</dt>") == 3


def test_an_unknown_part_opens_the_first(page):
    assert "Base beers" in html_of(run(page, part="cellar"))


def test_choosing_a_part_moves_the_address(page):
    run(page).get("button_group")[0].set_value("history")
    run(page)
    assert page.query_params["part"] == "history"
    assert "What was stated, newest first" in html_of(page)


def test_a_brewery_sets_up_without_a_file(page, desk):
    run(page).text_input(key="brewery_name").set_value("Quillmere Brewery")
    page.selectbox(key="brewery_zone").set_value("Europe/Dublin")
    press(page, "Record the brewery")
    assert "Quillmere Brewery, Europe/Dublin: recorded." in html_of(page)
    page.text_input(key="beer_name").set_value("Quillmere Pils")
    write_new(page.selectbox(key="beer_family"), "Pale lagers")
    page.text_input(key="beer_abv").set_value("4,8")
    press(page, "Put it on the shelf")
    assert "No compound has a working threshold for the pale lagers yet" in html_of(page)
    run(page, part="thresholds")
    type_thresholds(page, row0="8")
    press(page, "Record 1 threshold")
    assert "One compound has a working threshold for the pale lagers" in html_of(page)
    assert [thing.is_done for thing in shelf(desk).first_things][:3] == [True, True, True]


def test_a_refusal_stands_in_the_page_and_keeps_what_was_typed(page, desk):
    run(page).text_input(key="beer_name").set_value("Pils")
    write_new(page.selectbox(key="beer_family"), "Pale lagers")
    page.text_input(key="beer_abv").set_value("strong")
    press(page, "Put it on the shelf")
    assert "Alcohol by volume must be a number, got “strong”" in html_of(page)
    assert page.text_input(key="beer_name").value == "Pils"
    assert shelf(desk).beers == ()


def test_a_beer_is_changed(page, filled):
    run(page).selectbox(key="changed_family_quillmere pils").set_value("wheat_beer")
    press(page, "Record the change")
    assert "Quillmere Pils, 4.8% ABV, is among wheat beers now." in html_of(page)
    assert {beer.family for beer in shelf(filled).beers} == {"wheat_beer"}


def test_editing_a_list_keeps_its_group(page, filled):
    run(page, part="lists", family="pale_lager")
    critical = page.multiselect[0]
    assert "acetic_acid+lactic_acid" in critical.value
    critical.set_value(["diacetyl", "acetic_acid+lactic_acid"])
    press(page, "Record both lists")
    (line,) = [line for line in shelf(filled).families if line.key == "pale_lager"]
    assert line.critical == (("diacetyl",), ("acetic_acid", "lactic_acid"))


def test_a_new_group_takes_the_place_of_its_members(page, filled):
    run(page, part="lists", family="pale_lager")
    page.selectbox(key="group_one").set_value("dms")
    page.selectbox(key="group_other").set_value("h2s")
    press(page, "Add the group to the critical ones")
    assert page.multiselect[0].value[-1] == "dms+h2s"
    assert "dms" not in page.multiselect[0].value
    assert ("dms",) in next(f.critical for f in shelf(filled).families if f.key == "pale_lager")


def test_a_family_without_a_list_can_begin_with_the_rulebooks(page, desk):
    add_beer(desk, "Quillmere Stout", "Stouts")
    run(page, part="lists")
    assert "so the rulebook&#x27;s counts: diacetyl" in html_of(page)
    press(page, "Begin with the rulebook's list")
    press(page, "Record both lists")
    assert len(shelf(desk).families[0].critical) == 6


def test_no_number_of_ours_is_taken_from_a_book(page, desk):
    run(page, part="thresholds")
    (button,) = [button for button in page.button if button.label == "Record thresholds"]
    assert button.disabled
    assert all(not line.ours for line in shelf(desk).compounds)


def test_a_likely_slip_of_the_unit_is_stored_only_once_confirmed(page, filled):
    run(page, part="thresholds", family="pale_lager")
    page.selectbox(key="threshold_compound").set_value("dms")
    page.text_input(key="threshold_number").set_value("40")
    page.selectbox(key="threshold_unit").set_value("mg/l")
    press(page, "Record the threshold")
    assert "DMS: 40000 µg/l is more than ten times outside what books say" in html_of(page)
    assert compound(filled, "dms").ours[0].value == 32
    press(page, "It is meant so: record it")
    assert compound(filled, "dms").ours[0].value == 40000


def test_another_number_after_the_question_is_asked_about_afresh(page, filled):
    run(page, part="thresholds", family="pale_lager")
    type_thresholds(page, row0="8000")
    press(page, "Record 1 threshold")
    type_thresholds(page, row0="9000")
    press(page, "They are meant so: record them")
    assert "9000 ng/l is more than ten times outside" in html_of(page)
    assert compound(filled, "t2n").ours[0].value == 60


def test_a_bad_number_in_the_table_keeps_all_of_it_out(page, filled):
    run(page, part="thresholds", family="pale_lager")
    version = filled.version
    type_thresholds(page, row0="70", row1="many")
    press(page, "Record 2 thresholds")
    assert "must be a number, got “many”" in html_of(page)
    assert filled.version == version


def test_nothing_new_is_said_and_leaves_no_entry(page, filled):
    run(page, part="thresholds")
    page.selectbox(key="threshold_compound").set_value("dms")
    page.text_input(key="threshold_number").set_value("32")
    version = filled.version
    press(page, "Record the threshold")
    assert "Nothing new to record." in html_of(page)
    assert filled.version == version


def test_a_background_is_recorded_for_its_beer(page, filled):
    run(page, part="background")
    page.selectbox(key="background_compound").set_value("linalool")
    page.text_input(key="background_number").set_value("12")
    press(page, "Record the background")
    assert "Linalool in Quillmere Pils: 12 µg/l, measured" in html_of(page)


def test_open_words_get_their_meaning(page, filled, tmp_path):
    path = tmp_path / "march.csv"
    path.write_text("date,panellist,compound,level,answer\n2026-03-02,Ada,dms,3,boiled maize\n")
    bring_in_results(filled, path)
    run(page, part="words")
    page.selectbox(key="open_words_mean").set_value("dms")
    next(button for button in page.button if button.label == "Say so").click()
    run(page)
    told = "“boiled maize” stands in 1 answer of 1 closed session. It would be read as DMS, so"
    assert told in html_of(page)
    assert len(shelf(filled).open_words) == 1
    press(page, "Read them so")
    assert "“boiled maize” stands for DMS" in html_of(page)
    assert shelf(filled).open_words == ()


def test_words_with_a_meaning_are_asked_about(page, filled):
    run(page, part="words")
    page.text_input(key="new_words_said").set_value("banana")
    page.selectbox(key="new_words_mean").set_value("dms")
    press(page, "Say so")
    told = "“banana” stands for isoamyl acetate already; it would stand for DMS instead."
    assert told in html_of(page)
    press(page, "Read them so")
    assert "banana" in compound(filled, "dms").synonyms


def test_a_compound_for_the_vocabulary_only_says_so(page, desk):
    only = next(line for line in shelf(desk).compounds if not line.is_served)
    run(page, part="compounds")
    page.selectbox(key="read_compound").set_value(only.key)
    assert "Not to be served; vocabulary only." in html_of(run(page))


def test_a_half_life_is_recorded_for_the_compound_shown(page, desk):
    run(page, part="compounds")
    page.selectbox(key="read_compound").set_value("dms").run()
    page.text_input(key="keeping_hours").set_value("6")
    press(page, "Record it")
    assert "Half of the DMS that was added is counted as gone after 6 hours, in jugs" in html_of(
        page
    )
    assert any("gone after 6 hours" in folded.label for folded in page.expander)


def test_an_own_compound_is_added_and_hostile_names_are_refused(page, desk):
    run(page, part="compounds")
    page.text_input(key="own_name").set_value("![x](http://outside.example)")
    press(page, "Add the compound")
    assert "name must be a name" in html_of(page)
    page.text_input(key="own_name").set_value("Hop creep oil")
    press(page, "Add the compound")
    assert compound(desk, "hop_creep_oil").label == "Hop creep oil"


def test_history_shows_who_stated_what_about_one_compound(page, filled):
    add_people(filled, ["Ada Moran"], None)
    run(page, part="thresholds")
    page.selectbox(key="shelf_by").set_value(people_of_panel(filled)[0].person_id)
    page.selectbox(key="threshold_compound").set_value("dms")
    page.text_input(key="threshold_number").set_value("33")
    press(page, "Record the threshold")
    assert shelf_history(filled)[0].who == "Ada Moran"
    run(page, part="history")
    page.selectbox(key="told_compound").set_value("dms")
    html = html_of(run(page))
    assert "33 µg/l for all beers" in html
    assert "Working threshold of diacetyl" not in html
