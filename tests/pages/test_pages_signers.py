"""Who may sign: appointed, changed and dismissed on the page of the people."""

import pytest
from invented_session import button, html_of, started
from sampled import PIN, appointed, person_id

from seatworthy.errors import PanelError
from seatworthy.steps.signers import check_pin, signers


def names(desk):
    return [one.name for one in signers(desk)]


def fill_in(page, **fields):
    for key, words in fields.items():
        next(field for field in page.text_input if field.key == key).set_value(words)


def press(page, label):
    button(page, label).click().run()
    assert not page.exception


def field(page, key):
    return next(found.value for found in page.text_input if found.key == key)


def test_without_people_there_is_nobody_to_appoint(empty_desk):
    assert "Who may sign" not in html_of(started("people"))


def test_the_first_signer_is_appointed_freely(brewery):
    page = started("people")
    assert "Nobody yet." in html_of(page)
    page.selectbox(key="new_signer").set_value(person_id(brewery, "Gwen"))
    fill_in(page, new_signer_pin=PIN, new_signer_again=PIN)
    press(page, "Let them sign")
    assert "Gwen may sign decisions." in html_of(page)
    assert names(brewery) == ["Gwen"]
    assert (field(page, "new_signer_pin"), field(page, "new_signer_again")) == ("", "")


@pytest.mark.parametrize(("address", "comes_first"), [({}, False), ({"first": "signers"}, True)])
def test_whoever_comes_to_appoint_a_signer_sees_that_first(brewery, address, comes_first):
    words = html_of(started("people", **address))
    assert (words.index("Who may sign") < words.index("Put people on the panel")) == comes_first


def test_two_pins_that_differ_appoint_nobody(brewery):
    page = started("people")
    fill_in(page, new_signer_pin=PIN, new_signer_again="4712")
    press(page, "Let them sign")
    assert "The two PINs differ" in html_of(page)
    assert names(brewery) == []


@pytest.mark.parametrize(("pin", "may"), [(PIN, ["Aoife", "Gwen"]), ("0000", ["Gwen"])])
def test_a_further_signer_is_appointed_with_the_pin_of_one(brewery, pin, may):
    appointed(brewery)
    page = started("people")
    page.selectbox(key="new_signer").set_value(person_id(brewery, "Aoife"))
    fill_in(page, new_signer_pin="2222", new_signer_again="2222", appoint_pin_0=pin)
    press(page, "Let them sign")
    assert names(brewery) == may


def test_a_pin_is_changed_by_whoever_knows_the_old_one(brewery):
    gwen = appointed(brewery)
    page = started("people")
    fill_in(page, own_pin_0=PIN, changed_pin="2222")
    press(page, "Change the PIN")
    assert "The PIN is changed." in html_of(page)
    assert field(page, "changed_pin") == ""
    check_pin(brewery, gwen, "2222")
    with pytest.raises(PanelError, match="not the PIN of Gwen"):
        check_pin(brewery, gwen, PIN)


def test_the_last_signer_cannot_be_taken_away(brewery):
    appointed(brewery)
    page = started("people")
    fill_in(page, dismiss_pin_0=PIN)
    press(page, "Take it away")
    assert "Gwen is the only one who may sign." in html_of(page)
    assert names(brewery) == ["Gwen"]
