from datetime import date, timedelta

import pytest
from written import flight, results

from seatworthy.errors import PanelError
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.panel import (
    NOTHING_NEW,
    add_people,
    lookalikes,
    not_to_serve,
    panel,
    people_of_panel,
    set_panellist,
)
from seatworthy.steps.people import merge_people
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.shelf_writing import add_beer

SINCE = date(2026, 1, 12)


@pytest.fixture
def three(desk):
    add_people(desk, ["Ada Moran", "Bo Lindqvist", "Cleo Varga"], SINCE)
    return desk


def person(desk, name):
    return next(person for person in people_of_panel(desk) if person.name == name)


def test_an_empty_list_asks_for_names(desk):
    view = panel(desk)
    assert (view.answer, view.people) == ("Nobody is on the panel yet", ())


def test_people_are_added_one_name_a_line(desk):
    said = add_people(desk, ["  Ada   Moran ", "", "Łukasz Petrić"], SINCE)
    assert said == "Ada Moran and Łukasz Petrić are on the panel."
    assert [(p.name, p.since_on, p.is_panellist) for p in people_of_panel(desk)] == [
        ("Ada Moran", SINCE, True),
        ("Łukasz Petrić", SINCE, True),
    ]
    verify(desk)


@pytest.mark.parametrize(
    ("names", "sentence"),
    [
        (["ada moran"], "ada moran is already on the list as Ada Moran"),
        (["Ada Moram"], "Ada Moram: did you mean Ada Moran"),
        (["Bo"], "Bo: did you mean Bo Lindqvist"),
        (["Dilek", "DILEK"], "DILEK stands in the list twice"),
        (["<b>Emil</b>"], "A name must be a name"),
        (["=1+1"], "a spreadsheet takes for a formula"),
        (["", " "], "No name was written"),
    ],
)
def test_names_that_will_not_do_are_refused(three, names, sentence):
    with pytest.raises(PanelError, match=sentence):
        add_people(three, names, SINCE)


def test_one_refused_name_keeps_all_of_them_out(three):
    version = three.version
    with pytest.raises(PanelError, match="Nobody was added"):
        add_people(three, ["Farid Osei", "Ada Moran"], SINCE)
    assert three.version == version


def test_a_lookalike_is_added_once_said_to_be_somebody_else(three):
    assert "did you mean Ada Moran" in lookalikes(three, ["Ada Moram"])[0]
    add_people(three, ["Ada Moram"], None, lookalikes_are_new=True)
    assert person(three, "Ada Moram").since_on is None


def test_a_name_on_record_cannot_be_passed_off_as_a_lookalike(three):
    assert lookalikes(three, ["Ada Moran"]) == ()
    with pytest.raises(PanelError, match="already on the list"):
        add_people(three, ["Ada Moran"], None, lookalikes_are_new=True)


@pytest.mark.parametrize("since", [date(1899, 12, 31), date.today() + timedelta(days=400)])
def test_a_first_day_beyond_belief_is_refused(desk, since):
    with pytest.raises(PanelError, match="Name a day from 1900-01-01 to"):
        add_people(desk, ["Ada"], since)


def test_somebody_who_leaves_keeps_the_record_and_may_come_back(three):
    who = person(three, "Bo Lindqvist").person_id
    assert "not on the panel any more" in set_panellist(three, who, False)
    assert not person(three, "Bo Lindqvist").is_panellist
    assert panel(three).answer == "Two on the panel"
    assert "again" in set_panellist(three, who, True)
    assert person(three, "Bo Lindqvist").since_on == SINCE


def test_saying_the_same_again_leaves_no_entry(three):
    who, version = person(three, "Bo Lindqvist").person_id, three.version
    assert set_panellist(three, who, True) == NOTHING_NEW
    assert not_to_serve(three, who, [], []) == NOTHING_NEW
    assert three.version == version


def test_what_somebody_is_not_to_be_served_is_stated_whole(three):
    add_beer(three, "Pils", "Pale lagers")
    who = person(three, "Cleo Varga").person_id
    said = not_to_serve(three, who, ["dms", "diacetyl"], ["pils"])
    assert said.startswith("Cleo Varga is not to be served")
    not_to_serve(three, who, ["dms"], [])
    cleo = person(three, "Cleo Varga")
    assert (cleo.refused_compounds, cleo.refused_beers) == ({"dms"}, frozenset())
    assert panel(three).answer == "Three on the panel; one is not to be served something"
    verify(three)


def test_a_compound_that_is_not_there_cannot_be_refused(three):
    who = person(three, "Cleo Varga").person_id
    with pytest.raises(PanelError, match="“nonsense” is not a compound on the shelf"):
        not_to_serve(three, who, ["nonsense"], [])


def test_nobody_of_that_id_is_a_sentence(desk):
    with pytest.raises(PanelError, match="Nobody on the list of people goes by that id"):
        set_panellist(desk, "0" * 16, False)


def test_somebody_from_a_results_file_counts_as_on_the_panel(desk, tmp_path):
    rows = flight("2026-03-02", "Ada", {"diacetyl": "diacetyl"})
    bring_in_results(desk, results(tmp_path / "march.csv", rows))
    (ada,) = people_of_panel(desk)
    assert (ada.is_panellist, ada.since_on) == (True, None)


def test_what_was_said_of_another_spelling_holds_for_the_person(three):
    add_people(three, ["A. Moran-Reyes"], None, lookalikes_are_new=True)
    not_to_serve(three, person(three, "A. Moran-Reyes").person_id, ["dms"], [])
    merge_people(three, "A. Moran-Reyes", "Ada Moran")
    assert person(three, "Ada Moran").refused_compounds == {"dms"}


def test_too_few_people_are_told_what_a_release_panel_needs(three):
    assert panel(three).catch == "a release panel needs four."
    add_people(three, ["Dilek Aydin"], None)
    assert panel(three).catch == ""
