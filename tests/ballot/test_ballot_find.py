"""Finding a name on a long list without a script."""

from html_checks import faults_of, read
from invented_ballots import NAMES, SIX, address, glass, view

from seatworthy.ballot.pages import FIND_FROM
from seatworthy.ballot.shown import folded, found_names
from seatworthy.steps.ballot_views import NameOffered, OwnAnswer

NUTTY = NameOffered("nutty", "Nussig", "Walnuss", ("Öl von Nüssen",))


def offered(page):
    values = [found["value"] for found in page.all_of("input", type="radio", name="what")]
    return values[1:-1]


def test_a_word_is_found_in_label_word_and_further_wordings():
    assert [name.compound for name in found_names(NAMES, "paper")] == ["t2n"]
    assert [name.compound for name in found_names(NAMES, "CARDB")] == ["t2n"]
    assert [name.compound for name in found_names(NAMES, "nelke")] == ["phenolic"]
    assert [name.compound for name in found_names(NAMES, "acetate ban")] == ["isoamyl"]


def test_accents_and_capitals_make_no_difference():
    for asked in ("ol von nussen", "ÖL", "WALNUẞ", "walnuss", "nu\u0308ssen"):
        assert found_names([NUTTY], asked) == (NUTTY,)


def test_nothing_to_look_for_finds_nothing():
    for asked in ("", "  ", "!?", "\u0301"):
        assert found_names(NAMES, asked) == ()


def test_folding_twice_changes_nothing():
    for text in ("Öl-Säure ", "İstanbul", "ﬁne", "4-Vinylguaiacol"):
        assert folded(folded(text)) == folded(text)


def test_the_page_keeps_to_the_names_that_were_found(phone):
    page = phone.get(address("3?find=PAPER"))
    assert faults_of(page) == []
    assert offered(read(page)) == ["t2n"]
    assert "One name goes by “PAPER”." in read(page).text
    assert read(page).all_of("input", name="find")[0]["value"] == "PAPER"
    assert "Show all names" in read(page).text


def test_what_is_on_record_stays_to_be_seen(steps, phone):
    steps.view = view(glasses=(glass(1, "208", said=OwnAnswer("words", "Sour")),))
    page = read(phone.get(address("1?find=paper")))
    assert offered(page) == ["t2n", "sour"]
    assert [found["id"] for found in page.all_of("input") if "checked" in found] == ["what-2"]


def test_what_is_not_found_can_be_sent_as_own_words(phone):
    page = phone.get(address("3?find=theatre%20foyer"))
    assert faults_of(page) == []
    assert offered(read(page)) == []
    assert "Nothing on the list goes by “theatre foyer”." in read(page).text
    assert read(page).all_of("input", name="words")[0]["value"] == "theatre foyer"


def test_own_words_on_record_are_not_replaced_by_what_is_looked_for(steps, phone):
    steps.view = view(glasses=(glass(1, "208", said=OwnAnswer("words", "old hall")),))
    page = read(phone.get(address("1?find=xyzzy")))
    assert page.all_of("input", name="words")[0]["value"] == "old hall"


def test_a_short_list_has_no_field_to_find_names(steps, phone):
    steps.view = view(names=NAMES[:FIND_FROM])
    assert read(phone.get(address(3))).all_of("input", name="find")
    steps.view = view(names=NAMES[: FIND_FROM - 1])
    assert not read(phone.get(address(3))).all_of("input", name="find")


def test_finding_asks_and_never_sends(steps, phone):
    form = read(phone.get(address(3))).all_of("form", method="get")[0]
    assert form["action"] == address("3#find")
    phone.get(address("3?find=paper&what=t2n&words=x"))
    assert steps.forms == []
    assert SIX[2].answer is None


def test_a_list_too_long_for_two_columns_runs_across(steps, phone):
    many = tuple(NameOffered(f"c{n}", f"Name {n}", "") for n in range(130))
    steps.view = view(names=many)
    assert 'class="names"' in phone.get(address(3)).text
    steps.view = view(names=many[:120])
    assert 'class="names rows-60"' in phone.get(address(3)).text
