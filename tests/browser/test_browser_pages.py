import re
import urllib.error
import urllib.request
from datetime import date, timedelta

import pytest

from seatworthy.pages.figures import whole_day

pytestmark = pytest.mark.browser

CHART = "[data-testid=stVegaLiteChart] svg"
WIDTHS = "[document.querySelector('[data-testid=stMain]').scrollWidth, window.innerWidth]"
VIOLATIONS = """async () => (await axe.run()).violations.map(
  found => found.id + ' at ' + found.nodes.map(node => node.target.join(' ')).join(', '))"""


def open_first_record(reader):
    page = reader.open()
    links = page.locator("td.cell a" if reader.size == "desk" else ".lists a.line")
    links.first.click()
    page.wait_for_url("**/record?who=*")
    reader.settle()
    return page


def test_board_shows_everybody_within_its_screen_and_stays_on_this_machine(screen):
    page = screen.open()
    assert page.locator("h1.answer").inner_text().endswith(".")
    names = page.locator("th.who b" if screen.size == "desk" else ".lists a.line .name")
    assert names.count() >= 4
    assert all(name.is_visible() and name.inner_text() for name in names.all())
    wanted, given = page.evaluate(WIDTHS)
    assert wanted <= given
    assert screen.outside == []
    assert screen.complaints == []


def test_a_click_opens_the_record_with_its_charts(screen):
    page = open_first_record(screen)
    assert page.locator(".strip").first.is_visible()
    page.locator(CHART).first.wait_for()
    wanted, given = page.evaluate(WIDTHS)
    assert wanted <= given
    assert screen.outside == []
    assert screen.complaints == []


def test_axe_finds_nothing_on_board_and_record(screen, axe):
    screen.open()
    screen.page.evaluate(axe)
    assert screen.page.evaluate(VIOLATIONS) == []
    page = open_first_record(screen)
    page.locator(CHART).first.wait_for()
    page.get_by_text("Plain figures, for an auditor").click()
    page.locator(".figures").wait_for()
    page.evaluate(axe)
    assert page.evaluate(VIOLATIONS) == []


def test_fonts_come_from_this_server(desk):
    page = desk.open()
    page.evaluate("document.fonts.ready")
    loaded = page.evaluate(
        "[...document.fonts].filter(face => face.status === 'loaded').map(face => face.family)"
    )
    assert {"Asap", "Besley"} <= set(loaded)


def test_choosing_somebody_else_moves_page_and_address_and_back_returns(desk):
    page = open_first_record(desk)
    first = page.url
    page.get_by_role("combobox", name=re.compile("Somebody else")).click()
    page.get_by_role("option").nth(3).click()
    page.wait_for_url(lambda url: url != first)
    desk.settle()
    page.go_back()
    desk.settle()
    assert page.url == first


def test_the_board_can_be_taken_away_as_a_table(desk):
    page = desk.open()
    with page.expect_download() as taken:
        page.get_by_role("button", name="Take this board away as a table").click()
    assert re.fullmatch(r"board-\w+-\d{4}-\d\d-\d\d\.csv", taken.value.suggested_filename)
    assert (
        taken.value.path().read_bytes().startswith(b"\xef\xbb\xbfas of (day),beer family,panellist")
    )


def test_another_day_is_said_plainly(desk):
    then = date.today() - timedelta(days=170)
    page = desk.open(f"?on={then.isoformat()}")
    assert f"Seen for {whole_day(then)}" in page.locator(".not-today").inner_text()
    sentence = page.locator("h1.answer").inner_text().replace("\N{NO-BREAK SPACE}", " ")
    assert f"on {then.day} {then:%B %Y}" in sentence
    page.get_by_role("link", name="Back to today").click()
    page.wait_for_url(lambda url: "on=" not in url)


def test_an_unknown_person_is_met_with_a_sentence(desk):
    page = desk.open("record?who=nobody")
    assert "Nobody on this panel" in page.locator("h1.answer").inner_text()


def test_every_answer_is_shielded_and_a_strange_host_is_refused(address):
    with urllib.request.urlopen(address) as answer:
        assert answer.headers["X-Frame-Options"] == "DENY"
        assert "default-src 'self'" in answer.headers["Content-Security-Policy"]
    strange = urllib.request.Request(address, headers={"Host": "elsewhere.example"})
    with pytest.raises(urllib.error.HTTPError, match="400") as refused:
        urllib.request.urlopen(strange)
    refused.value.close()
