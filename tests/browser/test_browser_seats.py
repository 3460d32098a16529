"""One seat on the sample brewery, from the first signer to the paper that an auditor reads."""

import os
import re
import time
from pathlib import Path

import pytest
from pypdf import PdfReader

pytestmark = pytest.mark.browser

PIN = "4711"
REMARK = "The second flight was <b>warm</b>."
VIOLATIONS = """async () => (await axe.run()).violations.map(
  found => found.id + ' at ' + found.nodes.map(node => node.target.join(' ')).join(', '))"""


def settled(reader):
    time.sleep(0.3)  # a click reaches the server a moment after it was made
    reader.settle()


def press(reader, label):
    reader.page.get_by_role("button", name=label).first.click()
    settled(reader)


def choose(reader, label, typed):
    reader.page.get_by_role("combobox", name=re.compile(label)).first.click()
    reader.page.keyboard.type(typed)
    time.sleep(0.3)
    reader.page.keyboard.press("Enter")
    settled(reader)


def sentence(reader):
    return reader.page.locator("h1.answer").inner_text().replace("\N{NO-BREAK SPACE}", " ")


def check_with_axe(reader):
    path = os.environ.get("SEATWORTHY_AXE")
    if path:
        reader.page.evaluate(Path(path).read_text(encoding="utf-8"))
        assert reader.page.evaluate(VIOLATIONS) == []


def test_a_seat_is_proposed_answered_signed_and_shown_again(leader):
    assert "no seat is signed yet" in (leader.open() and sentence(leader))
    appoint_a_signer(leader)
    who = open_the_first_proposal(leader)
    read_its_reasons_down_to_a_glass(leader)
    seat = leader.page.url
    put_it_before_the_person(leader, who)
    leave_a_remark(leader)
    sign_it(leader, seat)
    leader.open()
    assert sentence(leader).startswith("One can sit for the pale lagers today")
    look_at_the_decision(leader, who)
    take_the_competence_record_away(leader, who)
    assert leader.outside == []
    assert leader.complaints == []


def appoint_a_signer(leader):
    page = leader.open("people")
    choose(leader, "Appoint", "Gwen")
    page.get_by_role("textbox", name="Their PIN").fill(PIN)
    page.get_by_role("textbox", name="Once more").fill(PIN)
    press(leader, "Let them sign")
    assert "Gwen may sign decisions." in page.locator(".told").inner_text()
    check_with_axe(leader)


def open_the_first_proposal(leader):
    page = leader.open("seats")
    assert sentence(leader).startswith("Ten proposals wait for a signature")
    row = page.locator(".waiting tbody tr").first
    who = row.locator("th").inner_text()
    row.locator("td a").first.click()
    page.wait_for_url("**/seats?who=*")
    settled(leader)
    check_with_axe(leader)
    return who


def read_its_reasons_down_to_a_glass(leader):
    page = leader.page
    page.locator(".reason .reason > summary", has_text="Critical compounds").focus()
    page.keyboard.press("Enter")
    page.locator(".reason .reason .reason > summary").first.focus()
    page.keyboard.press("Enter")
    glass = page.locator(".behind tr").first
    glass.wait_for()
    assert re.search(r"\d{4}", glass.inner_text())


def put_it_before_the_person(leader, who):
    press(leader, f"Put it before {who}")
    assert "page of its own" in leader.page.locator(".told").last.inner_text()
    leader.page.get_by_role("link", name="their page").first.click()
    leader.page.wait_for_url("**/word?proposal=*")
    settled(leader)
    check_with_axe(leader)


def leave_a_remark(leader):
    page = leader.page
    page.get_by_text("I have a remark").click()
    page.get_by_role("textbox", name="In your own words").fill(REMARK)
    press(leader, "Put it on record")
    assert REMARK in page.locator(".said").inner_text()


def sign_it(leader, seat):
    page = leader.page
    page.goto(seat)
    settled(leader)
    assert REMARK in page.locator(".told").first.inner_text()
    page.get_by_role("textbox", name="PIN").last.fill(PIN)
    press(leader, re.compile("^Sign: "))
    assert "Signed and on record" in page.locator(".told").last.inner_text()
    assert sentence(leader).startswith("Nine proposals wait")


def look_at_the_decision(leader, who):
    page = leader.open("seats")
    page.get_by_role("link", name=re.compile(r"day \d+ \w+ \d{4}")).last.click()
    page.wait_for_url("**/decision?decision=*")
    settled(leader)
    assert sentence(leader).startswith(f"Gwen signed for {who}")
    assert page.locator("h1.answer em").count() == 0
    check_with_axe(leader)


def take_the_competence_record_away(leader, who):
    page = leader.page
    page.get_by_role("link", name=f"{who}'s record on that day").click()
    page.wait_for_url("**/record?who=*")
    settled(leader)
    with page.expect_download(timeout=60_000) as taken:
        page.get_by_role("button", name="PDF", exact=True).click()
    text = "".join(sheet.extract_text() for sheet in PdfReader(taken.value.path()).pages)
    assert who in text
    assert "Gwen" in text
