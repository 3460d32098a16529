"""Paper sheets typed by keyboard into a real store, through the real steps, in a real Chromium."""

from decimal import Decimal

import pytest
from served_sessions import NAMES, Brewery, Server

from seatworthy.sessions.wish import WantedSample

pytestmark = pytest.mark.browser

# What is typed for the eight glasses of a sheet, and what is on record then.
TYPED = ("dia", "DMS", "0", "?", "T2N", "acetal", "n", "papery")
MEANT = ("Diacetyl", "DMS", "nothing", "something, no name", "t2n", "Acetaldehyde", "nothing", "Papery")  # fmt: skip
SAMPLES = (
    WantedSample("diacetyl", Decimal(3), "50 µl of stock D in 1 l", 2),
    WantedSample("dms", Decimal(3), "60 µl of stock S in 1 l", 2),
    WantedSample(None, None, glasses=2),
    WantedSample(None, None, glasses=2),
)
# One glass of the blank to be named, then two sets of three whose other glasses are the blank.
SAMPLES_IN_SETS = (
    WantedSample(None, None),
    WantedSample("diacetyl", Decimal(1), method="3afc"),
    WantedSample("diacetyl", Decimal(2), method="3afc"),
)
# Rated for diacetyl twice, asked about DMS by yes and no twice, with a blank each.
SAMPLES_ASKED = (
    WantedSample("diacetyl", Decimal(3), "", 1, "intensity", "diacetyl"),
    WantedSample(None, None, "", 1, "intensity", "diacetyl"),
    WantedSample("dms", Decimal(3), "", 1, "a_not_a", "dms"),
    WantedSample(None, None, "", 1, "a_not_a", "dms"),
)
ROOT = "document.querySelector('[data-testid=stBidiComponentIsolated]').shadowRoot"


@pytest.fixture(scope="module")
def server(request, tmp_path_factory):
    """One server for the tests of this file, with a session for each of them."""
    here = [item for item in request.session.items if item.module is request.module]
    params = [item.callspec.params if hasattr(item, "callspec") else {} for item in here]
    pours = [each.get("brewery", SAMPLES) for each in params]
    served = Server(tmp_path_factory.mktemp("served"), pours)
    yield served
    served.stop()


@pytest.fixture
def brewery(request, server):
    """A session of one's own at the served brewery."""
    server.start()
    return Brewery(server, server.session_of(getattr(request, "param", SAMPLES)))


@pytest.fixture
def leader(browser, brewery):
    """Opens the sheets as one more panel leader."""
    contexts = []

    def open_sheets(shade="light", **screen):
        contexts.append(browser.new_context(color_scheme=shade, **screen))
        page = contexts[-1].new_page()
        page.goto(f"{brewery.address}/answers?session={brewery.session_id}")
        page.locator("input.answer:visible").first.wait_for(timeout=30_000)
        return page

    yield open_sheets
    for context in contexts:
        context.close()


def enter(page, *words):
    for said in words:
        page.keyboard.type(said)
        page.keyboard.press("Enter")


def note(page):
    return page.locator("tr:focus-within .note").inner_text()


def field_in_focus(page):
    return page.evaluate(f"{ROOT}.activeElement?.getAttribute('aria-label')")


def codes(page):
    return [field.get_attribute("placeholder") for field in page.locator("input.code").all()]


def test_a_pile_of_ballots_is_typed_without_a_pause_and_every_answer_is_stored_once(
    leader, brewery
):
    page = leader()
    enter(page, *(TYPED * len(NAMES)))
    page.locator(".finished", has_text="all are saved").wait_for(timeout=60_000)
    assert brewery.on_record() == ([MEANT] * len(NAMES), 8 * len(NAMES))


def test_a_wrong_code_is_said_at_its_third_digit_and_lets_nothing_be_stored(leader, brewery):
    page = leader()
    first = codes(page)[0]
    wrong = next(c for c in (first[::-1], first[1] + first[0] + first[2]) if c not in codes(page))
    page.keyboard.press("Shift+Tab")
    page.keyboard.type(wrong)
    assert f"{wrong} is not on this sheet." in note(page)
    page.locator("input.answer").first.focus()
    enter(page, "dia")
    assert f"{wrong} is not on this sheet." in note(page)
    assert brewery.on_record()[1] == 0


def test_a_code_typed_in_an_answer_goes_to_its_glass(leader):
    page = leader()
    third = codes(page)[2]
    page.keyboard.type(third)
    assert field_in_focus(page) == f"Answer to glass {third}"


def test_a_beginning_of_several_names_is_not_taken_until_one_is_chosen(leader, brewery):
    page = leader()
    enter(page, "acet")
    assert "begins" in note(page)
    page.keyboard.press("ArrowDown")
    chosen = page.locator("[aria-selected=true]").inner_text()
    page.keyboard.press("Enter")
    page.locator("tr:first-child .note", has_text="saved").wait_for()
    said, count = brewery.on_record()
    assert (said[0][0], count) == (chosen, 1)


def test_own_words_are_asked_about_and_kept_by_a_second_enter(leader, brewery):
    page = leader()
    enter(page, "wet dog")
    page.locator("tr:first-child .note", has_text="Enter again keeps it").wait_for()
    page.keyboard.press("Enter")
    page.locator("tr:first-child .note", has_text="saved").wait_for()
    said, count = brewery.on_record()
    assert (said[0][0], count) == ("wet dog", 1)


def test_what_is_typed_while_own_words_are_looked_up_belongs_to_the_next_glass(leader):
    page = leader()
    enter(page, "clean")  # a word for nothing, which only the record knows
    page.keyboard.type("dms")
    page.locator("tr:first-child .note", has_text="saved").wait_for()
    assert field_in_focus(page) == f"Answer to glass {codes(page)[1]}"
    assert page.locator("input.answer").nth(1).input_value() == "dms"


def test_another_leaders_answer_appears_with_the_next_line_saved(leader):
    one, other = leader(), leader()
    other.keyboard.press("ArrowDown")
    enter(one, "dia")
    one.locator("tr:first-child .note", has_text="saved").wait_for()
    enter(other, "dms")
    other.locator("tr:first-child .note", has_text="was entered elsewhere").wait_for()
    assert other.locator("tr:first-child input.answer").is_hidden()


def test_two_leaders_who_disagree_are_told_and_the_first_answer_stands(leader, brewery):
    one, other = leader(), leader()
    enter(one, "dia")
    one.locator("tr:first-child .note", has_text="saved").wait_for()
    enter(other, "dms")
    other.locator("tr:first-child .note", has_text="is on record as “Diacetyl”").wait_for()
    assert brewery.on_record()[0][0][0] == "Diacetyl"


def test_answers_typed_while_the_server_is_away_are_stored_when_it_is_back(leader, brewery):
    page = leader()
    brewery.server.stop()
    enter(page, "dia", "dms", "0")
    page.locator("tr:first-child .note", has_text="not saved yet").wait_for()
    brewery.server.start()
    page.locator("tr:nth-child(3) .note", has_text="saved").filter(
        has_not_text="not saved"
    ).wait_for(timeout=40_000)
    assert brewery.on_record()[0][0][:3] == ("Diacetyl", "DMS", "nothing")


def test_the_sheets_are_changed_by_keyboard_and_the_address_follows(leader):
    page = leader()
    page.keyboard.press("Alt+ArrowRight")
    page.wait_for_url("**sheet=*")
    assert page.locator("h2#whose").inner_text() == "Bo Larsen"
    page.reload()
    page.locator("h2#whose", has_text="Bo Larsen").wait_for()


@pytest.mark.parametrize("brewery", [SAMPLES_IN_SETS], indirect=True)
def test_a_set_is_answered_with_the_code_that_was_circled_and_with_nothing_else(leader, brewery):
    page = leader()
    enter(page, "0")
    first, second = ([code.inner_text() for code in row.locator(".code:visible").all()]
                     for row in page.locator("tr.is-set").all())  # fmt: skip
    assert field_in_focus(page) == "Answer to set 2"
    page.keyboard.type(second[0])
    assert f"“{second[0]}” is not in set 2." in note(page)
    page.keyboard.press("Enter")
    assert field_in_focus(page) == "Answer to set 2"
    page.keyboard.press("Escape")
    enter(page, "dia")
    assert "is not in set 2. Type the code that was circled" in note(page)
    page.keyboard.press("Escape")
    enter(page, first[1])
    page.locator("tr:nth-child(2) .note", has_text="saved").wait_for()
    assert page.locator("tr:nth-child(2) .said").inner_text() == f"picked {first[1]}"
    enter(page, second[2])
    page.locator("nav .is-done", has_text="Ada Moran").wait_for()
    said, count = brewery.on_record()
    assert (said[0], count) == (("nothing", f"picked {first[1]}", f"picked {second[2]}"), 3)


@pytest.mark.parametrize("shade", ["light", "dark"])
@pytest.mark.parametrize("width", [1440, 390])
def test_axe_finds_nothing_while_an_answer_is_typed(leader, axe, width, shade):
    page = leader(shade, viewport={"width": width, "height": 900})
    enter(page, "dia", "acet")
    page.locator("tr:first-child .note", has_text="saved").wait_for()
    page.evaluate(axe)
    found = page.evaluate("async () => (await axe.run()).violations.map(v => v.id)")
    assert found == []
    wanted, given = page.evaluate(
        "[document.querySelector('[data-testid=stMain]').scrollWidth, window.innerWidth]"
    )
    assert wanted <= given


@pytest.mark.parametrize("brewery", [SAMPLES_ASKED], indirect=True)
def test_a_question_is_answered_with_a_number_or_yes_and_no(leader, brewery):
    page = leader()
    kept = []
    for _ in range(4):
        asked = note(page)
        if asked == "diacetyl, 0 to 10":
            enter(page, "12")
            page.locator("tr:focus-within .note", has_text="whole number from 0").wait_for()
            page.keyboard.press("Escape")
            enter(page, "1" if "10" in kept else "10")
            kept.append("1" if "10" in kept else "10")
        else:
            assert asked == "DMS, y or n"
            enter(page, "n" if "yes" in kept else "y")
            kept.append("no" if "yes" in kept else "yes")
    page.locator("nav .is-done", has_text=NAMES[0]).wait_for()
    said, count = brewery.on_record()
    assert (said[0], count) == (tuple(kept), 4)
