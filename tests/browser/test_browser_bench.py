"""From the bench to a session whose bottles are all dosed, at a desk and on a phone, in one browser."""

import re

import pytest

pytestmark = pytest.mark.browser

WIDTHS = "[document.querySelector('[data-testid=stMain]').scrollWidth, window.innerWidth]"
JUGS = (("Diacetyl", "3"), ("DMS, Dimethyl sulfide", "2.5"))
STEPS = ("capped", "tipped and tight", "in the cold")


@pytest.fixture
def phone(leader, browser):
    """A reader on a phone, at the store of the reader at the desk."""
    reader = type(leader)(browser, leader.address, "phone", "light")
    yield reader
    reader.context.close()


def test_bottles_are_planned_from_the_bench_and_all_prepared_on_either_screen(leader, phone):
    for reader, jugs in ((leader, JUGS), (phone, JUGS[:1])):
        see_the_bench(reader)
        plan_in_bottles(reader, f"Dosed at the {reader.size}", jugs)
        prepare_all(reader)
        back_to_the_session(reader)
        assert reader.outside == []
        assert reader.complaints == []


def fits(reader):
    wanted, given = reader.page.evaluate(WIDTHS)
    assert wanted <= given


def settle(reader):
    reader.page.wait_for_timeout(300)  # a click reaches the server a moment after it was made
    reader.settle()


def click(reader, name):
    reader.page.get_by_role("button", name=name, exact=True).first.click()
    settle(reader)


def choose(reader, name, option, place=0):
    reader.page.get_by_role("combobox", name=name, exact=True).nth(place).click()
    reader.page.keyboard.type(option)
    reader.page.get_by_role("option", name=option, exact=True).click()
    settle(reader)


def fill(reader, name, text, place=0):
    field = reader.page.get_by_label(name, exact=True).nth(place)
    field.fill(text)
    field.press("Tab")
    settle(reader)


def see_the_bench(reader):
    page = reader.open("bench")
    assert "stand on the bench" in page.locator("h1.answer").inner_text()
    assert page.get_by_text("lot D-14").first.is_visible()
    fits(reader)


def plan_in_bottles(reader, label, jugs):
    page = reader.open("plan")
    fill(reader, "Name", label)
    for place, (compound, level) in enumerate(jugs, start=1):
        click(reader, "Add a jug")
        choose(reader, "Compound", compound, place)
        fill(reader, "Level (×)", level, place)
    choose(reader, "Dosed from the bench, in", "bottle 330 ml")
    assert "diacetyl 1 g/l, lot D-14" in page.locator(".st-key-plan_outcome").inner_text()
    fits(reader)
    page.get_by_role("button", name="Record this plan").click()
    page.wait_for_url("**/session?session=*")
    settle(reader)
    fits(reader)


def prepare_all(reader):
    page = reader.page
    page.get_by_role("link", name=re.compile("Prepare the vessels")).click()
    page.wait_for_url("**/prepare?session=*")
    settle(reader)
    assert "none is dosed yet" in page.locator("h1.answer").inner_text()
    fits(reader)
    buttons = page.get_by_role("button", name="Dosed as planned", exact=True)
    for left in range(buttons.count(), 0, -1):
        assert buttons.count() == left
        buttons.first.dblclick()  # a hasty hand
        settle(reader)
    for step in STEPS:
        page.get_by_role("button", name=re.compile(rf"^All \d+ that wait: {step}$")).click()
        settle(reader)
    assert page.locator("h1.answer").inner_text().startswith("Every vessel is dosed, capped")
    fits(reader)


def back_to_the_session(reader):
    page = reader.page
    page.get_by_role("link", name="To the session").click()
    page.wait_for_url("**/session?session=*")
    settle(reader)
    page.get_by_text("Labels for bottles, caps and glasses").click()
    settle(reader)
    with page.expect_download() as taken:
        page.get_by_role("button", name="Labels for bottles", exact=True).click()
    assert taken.value.suggested_filename.endswith("-labels-bottles.pdf")
    assert taken.value.path().read_bytes().startswith(b"%PDF")
    fits(reader)
