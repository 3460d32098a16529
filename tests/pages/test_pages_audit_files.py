"""The buttons by which papers for an audit are taken away."""

from datetime import date, timedelta

import pytest
from streamlit.testing.v1 import AppTest

from seatworthy.errors import PanelError
from seatworthy.pages import audit_files, source

YESTERDAY = date.today() - timedelta(days=1)


@pytest.fixture(autouse=True)
def kept(desk, monkeypatch):
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    return desk


def started(call):
    script = (
        f"from datetime import date\nfrom seatworthy.pages import audit_files\naudit_files.{call}\n"
    )
    test = AppTest.from_string(script, default_timeout=20).run()
    assert not test.exception
    return test


@pytest.mark.parametrize(
    "call", ["offer_competence('p', 'pale', None)", "offer_panel_day('pale', None)"]
)
def test_there_is_a_button_for_each_form(call):
    buttons = started(call).get("download_button")
    assert [button.proto.label for button in buttons] == ["PDF", "CSV", "Workbook (XLSX)", "JSON"]


@pytest.mark.parametrize("read", ["", "then"])
def test_the_address_says_which_record_a_paper_reads(read, kept, monkeypatch):
    asked = []
    monkeypatch.setattr(audit_files, "panel_day", lambda desk, **how: asked.append(how["known_at"]))
    monkeypatch.setattr(source, "asked_as_recorded", lambda: bool(read))
    monkeypatch.setattr(audit_files, "_offer", lambda title, made, known_at, name: made(known_at))
    audit_files.offer_panel_day("pale", YESTERDAY)
    assert asked == [kept.end_of(YESTERDAY) if read else None]


def test_nothing_on_record_is_refused_in_words():
    with pytest.raises(PanelError, match="nothing to take away"):
        audit_files._bytes(None, lambda paper: b"")


@pytest.mark.parametrize(("read", "end"), [("", ""), ("then", "-as-it-stood")])
def test_a_file_is_named_after_its_beers_and_the_record_that_was_read(read, end, monkeypatch):
    named = []
    monkeypatch.setattr(source, "asked_as_recorded", lambda: bool(read))
    monkeypatch.setattr(
        audit_files, "_offer", lambda title, made, known_at, name: named.append(name)
    )
    audit_files.offer_panel_day("pale", YESTERDAY)
    assert named == [f"{YESTERDAY}-panel-pale{end}"]


def test_a_competence_record_is_named_after_the_person_and_the_beers(kept, monkeypatch):
    named = []
    monkeypatch.setattr(source, "asked_as_recorded", lambda: False)
    monkeypatch.setattr(
        audit_files, "_offer", lambda title, made, known_at, name: named.append(name)
    )
    audit_files.offer_competence("64afe228a9f0f4ed", "pale", YESTERDAY)
    assert named == [
        f"{YESTERDAY}-competence-64afe228a9f0f4ed-pale".replace("64afe228a9f0f4ed", "64af")
    ]
