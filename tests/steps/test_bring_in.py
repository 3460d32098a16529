import pytest
from written import flight, results

from seatworthy.errors import FileRefused, PanelError, StrangersInFile
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.people import everybody, known_spellings, merge_people, split_people
from seatworthy.steps.safekeeping import size_of, verify
from seatworthy.steps.words import map_words, open_words

MONDAY = flight("2026-03-02", "Ada", {"diacetyl": "diacetyl", "dms": "nothing", "blank": "nothing"})


def answers(desk):
    return size_of(desk).answers


def test_new_people_are_added_to_an_empty_store_and_listed(desk, tmp_path):
    rows = [*MONDAY, *flight("2026-03-02", "Bo", {"dms": "dms"}, first=200)]
    brought = bring_in_results(desk, results(tmp_path / "march.csv", rows))
    assert brought.new_people == ("Ada", "Bo")
    assert (brought.added, brought.known, brought.sessions) == (4, 0, 1)


def test_the_same_file_twice_adds_nothing(desk, tmp_path):
    path = results(tmp_path / "march.csv", MONDAY)
    bring_in_results(desk, path)
    version = desk.version
    again = bring_in_results(desk, path)
    assert (again.added, again.known) == (0, 3)
    assert desk.version == version
    verify(desk)


def test_a_longer_file_adds_only_what_is_new(desk, tmp_path):
    bring_in_results(desk, results(tmp_path / "march.csv", MONDAY))
    rows = [*MONDAY, *flight("2026-03-09", "Ada", {"dms": "dms"})]
    again = bring_in_results(desk, results(tmp_path / "march.csv", rows))
    assert (again.added, again.known) == (1, 3)


def test_a_file_that_contradicts_the_record_changes_nothing(desk, tmp_path):
    bring_in_results(desk, results(tmp_path / "march.csv", MONDAY))
    other = [*MONDAY[:1], (*MONDAY[1][:-1], "dms"), *flight("2026-03-09", "Ada", {"dms": "dms"})]
    version = desk.version
    with pytest.raises(FileRefused, match="line 3: the record already holds “nothing”"):
        bring_in_results(desk, results(tmp_path / "other.csv", other))
    assert desk.version == version
    assert answers(desk) == 3


def test_a_stranger_in_a_filled_store_is_asked_about(desk, tmp_path):
    bring_in_results(desk, results(tmp_path / "march.csv", MONDAY))
    path = results(tmp_path / "april.csv", flight("2026-04-06", "Adda", {"dms": "dms"}))
    with pytest.raises(StrangersInFile, match='“Adda” is not on record.*like Ada.*--new "Adda"'):
        bring_in_results(desk, path)
    assert [known.name for known in everybody(desk)] == ["Ada"]
    brought = bring_in_results(desk, path, new_people=["Adda"])
    assert brought.new_people == ("Adda",)


def test_another_spelling_of_somebody_known_counts_for_them(desk, tmp_path):
    bring_in_results(desk, results(tmp_path / "march.csv", MONDAY))
    path = results(tmp_path / "april.csv", flight("2026-04-06", "A. Moran", {"dms": "dms"}))
    brought = bring_in_results(desk, path, same_people={"A. Moran": "Ada"})
    assert brought.new_people == ()
    (ada,) = everybody(desk)
    assert (ada.name, ada.other_spellings) == ("Ada", ("A. Moran",))


def test_capitals_alone_are_the_same_person_and_can_be_split(desk, tmp_path):
    rows = [*MONDAY, *flight("2026-03-09", "ADA", {"dms": "dms"})]
    brought = bring_in_results(desk, results(tmp_path / "march.csv", rows))
    assert brought.read_as == {"ADA": "Ada"}
    assert len(everybody(desk)) == 1
    split_people(desk, "ADA")
    assert {known.name for known in everybody(desk)} == {"Ada", "ADA"}
    merge_people(desk, "ADA", "Ada")
    assert len(everybody(desk)) == 1
    verify(desk)


def test_accents_are_asked_about_even_in_an_empty_store(desk, tmp_path):
    rows = [
        *flight("2026-03-02", "Jose", {"dms": "dms"}),
        *flight("2026-03-02", "José", {"dms": "dms"}, 200),
    ]
    path = results(tmp_path / "march.csv", rows)
    with pytest.raises(StrangersInFile, match="“José” is not on record. It looks like Jose"):
        bring_in_results(desk, path)
    assert known_spellings(desk).ids == {}
    both = bring_in_results(desk, path, new_people=["José"])
    assert both.new_people == ("Jose", "José")


def test_own_words_are_kept_open_and_mapped_once_for_the_past_too(desk, tmp_path):
    rows = flight("2026-03-02", "Ada", {"dms": "tinned maize"})
    brought = bring_in_results(desk, results(tmp_path / "march.csv", rows))
    assert brought.open_words == {"tinned maize": 1}
    assert [words.words for words in open_words(desk)] == ["tinned maize"]
    map_words(desk, "tinned maize", "DMS")
    assert open_words(desk) == []


def test_a_store_of_results_adds_up(desk, tmp_path):
    bring_in_results(desk, results(tmp_path / "march.csv", MONDAY))
    size = verify(desk)
    assert (size.people, size.sessions, size.answers) == (1, 1, 3)


@pytest.mark.parametrize("written", ["ADA", "A. Moran"])
def test_the_same_glasses_under_another_spelling_are_one_fact(desk, tmp_path, written):
    bring_in_results(desk, results(tmp_path / "march.csv", MONDAY))
    other = [(row[0], written, *row[2:]) for row in MONDAY]
    path = results(tmp_path / "again.csv", other)
    again = bring_in_results(desk, path, same_people={"A. Moran": "Ada"})
    assert (again.added, again.known) == (0, 3)
    assert answers(desk) == 3


def test_people_who_answered_the_same_glasses_are_not_merged(desk, tmp_path):
    rows = [*MONDAY, *[(row[0], "Bo", *row[2:]) for row in MONDAY]]
    bring_in_results(desk, results(tmp_path / "march.csv", rows))
    with pytest.raises(PanelError, match="under the same code in 3 glasses"):
        merge_people(desk, "Bo", "Ada")


def test_a_later_file_may_set_a_recorded_glass_aside(desk, tmp_path):
    path = results(tmp_path / "march.csv", MONDAY)
    bring_in_results(desk, path)
    lines = path.read_text().splitlines()
    lines = [lines[0] + ",set aside", lines[1] + ",spilled", *(line + "," for line in lines[2:])]
    path.write_text("\n".join(lines))
    for expected in (1, 0):
        assert bring_in_results(desk, path).set_aside == expected
    assert len(desk.store.rows("scored_answers", until_on="2026-12-31")) == 1
    verify(desk)


def test_a_new_base_beer_is_named(desk, tmp_path):
    brought = bring_in_results(desk, results(tmp_path / "march.csv", MONDAY))
    assert any("New base beer: Pils, among Pale" in note for note in brought.notes)


def test_a_shelf_returned_to_an_earlier_text_counts_again(desk, tmp_path):
    path = tmp_path / "shelf.toml"
    for value, new in ((30, True), (30, False), (300, True), (30, True)):
        path.write_text(
            f'[[working_thresholds]]\ncompound = "dms"\nvalue = {value}\nunit = "ug/L"\n'
            "from = 2025-01-01\n"
        )
        assert bool(bring_in_shelf(desk, path).added) is new


def test_a_new_compound_cannot_take_anothers_name(desk, tmp_path):
    path = tmp_path / "shelf.toml"
    path.write_text('[[compounds]]\nkey = "lemon"\nlabel = "Diacetyl"\n')
    with pytest.raises(FileRefused, match="stands for diacetyl already"):
        bring_in_shelf(desk, path)


@pytest.mark.parametrize("words", ["nothing", "something", "absent", "dms", "!!!", "a\x1b[31mb"])
def test_words_that_have_a_meaning_of_their_own_keep_it(desk, words):
    with pytest.raises(PanelError, match="“"):
        map_words(desk, words, "none")


def test_a_meaning_is_changed_only_when_told(desk):
    map_words(desk, "corn", "dms")
    with pytest.raises(PanelError, match="stands for dms already"):
        map_words(desk, "corn", "diacetyl")
    assert map_words(desk, "corn", "diacetyl", again=True) == "diacetyl"


def test_a_split_finds_the_spelling_by_capitals(desk, tmp_path):
    rows = [*MONDAY, *flight("2026-03-09", "Adah", {"dms": "dms"})]
    bring_in_results(desk, results(tmp_path / "march.csv", rows))
    merge_people(desk, "Adah", "Ada")
    split_people(desk, "adah")
    assert len(everybody(desk)) == 2


def test_a_new_beer_leaves_the_lists_of_a_known_family_as_they_are(desk, tmp_path):
    shelf = tmp_path / "shelf.toml"
    shelf.write_text('[beer_families.pale]\nlabel = "Pale"\ncritical = ["dms"]\n', encoding="utf-8")
    bring_in_shelf(desk, shelf)
    rows = flight("2026-03-02", "Ada", {"dms": "dms"})
    bring_in_results(desk, results(tmp_path / "new.csv", rows), new_people=["*"])
    lists = desk.store.rows("family_compounds")
    assert [(row["family"], row["compound"]) for row in lists] == [("pale", "dms")]
