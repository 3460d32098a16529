"""Seats: what waits, and how one of them is put before somebody and signed."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from invented_session import button, html_of, started
from sampled import PALE, PIN, appointed, person_id, waiting

from seatworthy.pages import seats as seats_page
from seatworthy.pages import source
from seatworthy.steps.decisions import decisions, sign_decision
from seatworthy.steps.proposals import proposals, put_forward, reply

HOSTILE = "They came <b>late</b> & left."


@pytest.fixture
def gwen(brewery):
    return appointed(brewery)


def seat_of(desk, name, family=PALE):
    """The page opened at one seat."""
    return started("seats", who=person_id(desk, name), family=family)


def fill_in(page, key, words):
    next(field for field in page.text_input if field.key.startswith(key)).set_value(words)


def sign(page, pin=PIN):
    fill_in(page, "seat_pin_", pin)
    press(page, next(b.label for b in page.button if b.label.startswith("Sign: ")))


def press(page, label):
    button(page, label).click().run()
    assert not page.exception


def choose(page, key, value):
    page.selectbox(key=key).set_value(value).run()
    assert not page.exception


def test_before_the_first_glasses_nothing_can_be_proposed(empty_desk):
    page = started("seats")
    assert "No seat can be proposed before the first glasses" in html_of(page)
    assert not page.selectbox


def test_every_proposal_waits_with_its_reasons_and_a_way_to_the_record(brewery):
    words = html_of(started("seats"))
    assert "Four proposals wait for a signature" in words
    assert "5 of 6 critical compounds met, 1 not met" in words
    assert f'href="record?who={person_id(brewery, "Aoife")}&amp;family=pale_lager"' in words


def test_without_a_signer_the_page_says_where_one_is_appointed(brewery):
    page = started("seats")
    assert 'href="people?first=signers"' in html_of(page)
    assert all(b.disabled for b in page.button if b.label.startswith("Sign"))


def test_a_seat_that_the_address_names_comes_before_the_list(brewery):
    words = html_of(seat_of(brewery, "Aoife"))
    assert words.index("Decide about a seat") < words.index("Waiting for a signature")


def test_without_a_name_in_the_address_the_list_comes_first(brewery):
    words = html_of(started("seats"))
    assert words.index("Waiting for a signature") < words.index("Decide about a seat")


def test_where_nothing_is_proposed_no_decision_is_chosen_beforehand(gwen, brewery):
    page = seat_of(brewery, "Gwen")
    assert page.selectbox(key=f"state_{gwen}_{PALE}").value is None
    assert button(page, "Sign: nothing chosen yet, the pale lagers").disabled


def test_the_reasons_of_a_seat_open_down_to_its_glasses(brewery):
    words = html_of(seat_of(brewery, "Aoife"))
    assert '<details class="reason" open="open"><summary>' in words
    assert "diacetyl at 3×" in words


def test_a_proposal_is_put_before_the_person(brewery):
    page = seat_of(brewery, "Aoife")
    press(page, "Put it before Aoife")
    assert "It stands on a page of its own now" in html_of(page)
    assert "put before them, no word yet" in html_of(page)
    assert "Put it before Aoife" not in [b.label for b in page.button]


def test_a_remark_stands_escaped_beside_the_signature(brewery):
    one = waiting(brewery)
    reply(brewery, put_forward(brewery, one.person_id, PALE, None), "remark", HOSTILE)
    words = html_of(seat_of(brewery, "Aoife"))
    assert "They came &lt;b&gt;late&lt;/b&gt; &amp; left." in words
    assert "<b>late" not in words


def test_a_wish_for_a_recheck_stands_first(brewery):
    one = waiting(brewery, "Márta")
    reply(brewery, put_forward(brewery, one.person_id, PALE, None), "recheck")
    words = html_of(started("seats"))
    assert "Márta has asked for a recheck" in words
    assert "<b>asks for a recheck</b>" in words


def test_what_is_proposed_is_signed_without_a_reason(gwen, brewery):
    page = seat_of(brewery, "Aoife")
    sign(page)
    assert "Signed and on record." in html_of(page)
    (signed,) = decisions(brewery)
    assert (signed.name, signed.state, signed.reason, signed.signer) == (
        "Aoife", "probation", "", "Gwen",
    )  # fmt: skip
    assert "Three proposals wait" in html_of(page)


def test_after_a_signature_nothing_is_chosen_for_a_second_one(gwen, brewery):
    page = seat_of(brewery, "Aoife")
    sign(page)
    assert page.selectbox(key=f"state_{person_id(brewery, 'Aoife')}_{PALE}").value is None
    assert next(f for f in page.text_input if f.key.startswith("seat_pin_")).value == ""


def test_another_decision_than_the_proposed_one_asks_for_a_reason(gwen, brewery):
    page = seat_of(brewery, "Aoife")
    choose(page, f"state_{person_id(brewery, 'Aoife')}_{PALE}", "qualified")
    sign(page)
    assert "Say why in a few words" in html_of(page)
    assert decisions(brewery) == ()


def test_a_reason_is_kept_and_shown_escaped(gwen, brewery):
    page, who = seat_of(brewery, "Aoife"), person_id(brewery, "Aoife")
    choose(page, f"state_{who}_{PALE}", "qualified")
    page.text_area(key=f"reason_{who}_{PALE}").set_value(HOSTILE)
    sign(page)
    assert decisions(brewery)[0].reason == HOSTILE
    assert "They came &lt;b&gt;late&lt;/b&gt;" in html_of(page)
    assert "<b>late" not in html_of(page)
    assert page.text_area(key=f"reason_{who}_{PALE}").value == ""


def test_a_wrong_pin_signs_nothing_and_is_forgotten(gwen, brewery):
    page = seat_of(brewery, "Aoife")
    sign(page, pin="0000")
    assert "This is not the PIN of Gwen. Nothing was recorded." in html_of(page)
    assert decisions(brewery) == ()
    assert next(f for f in page.text_input if f.key.startswith("seat_pin_")).value == ""


def test_all_are_signed_at_once_but_for_whoever_asks_for_a_recheck(gwen, brewery):
    one = waiting(brewery, "Márta")
    reply(brewery, put_forward(brewery, one.person_id, PALE, None), "recheck")
    page = started("seats")
    assert page.expander[0].label == "Sign three of them as proposed, at once"
    fill_in(page, "all_pin_", PIN)
    press(page, "Sign as proposed")
    assert "Three seats are signed as proposed." in html_of(page)
    assert [(left.name, left.family) for left in proposals(brewery)] == [("Márta", PALE)]


def test_of_a_past_day_nothing_is_proposed(brewery):
    page = started("seats", on=(date.today() - timedelta(days=40)).isoformat())
    words = html_of(page)
    assert "No seats were signed and stood on" in words
    assert "Decide about a seat" not in words
    assert 'href="seats" target="_self">Back to today' in words


def test_a_signed_seat_leads_to_its_decision(gwen, brewery):
    one = waiting(brewery)
    signed = sign_decision(
        brewery, person_id=one.person_id, family=PALE, state=one.proposed,
        until_on=one.until_on, signer=gwen, pin=PIN,
    )  # fmt: skip
    words = html_of(started("seats"))
    assert f'href="decision?decision={signed}"' in words
    assert "meet the seat rule" in words


def test_no_label_of_a_widget_loads_a_picture(brewery, monkeypatch):
    view = source.seats(None)
    picture = "![x](http://outside.example/a.png)"
    hostile = replace(
        view,
        waiting=tuple(replace(one, name=picture) for one in view.waiting),
        families=tuple(replace(one, label=picture) for one in view.families),
    )
    monkeypatch.setattr(source, "seats", lambda on: hostile)
    labels = [one.label for one in seat_of(brewery, "Aoife").button]
    assert len([label for label in labels if "outside" in label]) == 2
    assert not any("![" in label for label in labels)


def test_a_hostile_name_is_escaped_wherever_it_stands(brewery):
    view = source.seats(None)
    named = tuple(replace(one, name="<b>x</b>") for one in view.waiting)
    assert "&lt;b&gt;x" in seats_page._waiting(replace(view, waiting=named))
    assert "<b>x" not in seats_page._waiting(replace(view, waiting=named))
