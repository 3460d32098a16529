"""One signed decision, and whether it can be shown again."""

from dataclasses import replace

import pytest
from invented_session import html_of, started
from sampled import PALE, PIN, appointed, waiting

from seatworthy.pages import decision
from seatworthy.shipped import shipped
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.decisions import recomputed, sign_decision
from seatworthy.steps.demo import moved_to

HOSTILE = "Because <b>so</b> & nothing else."


@pytest.fixture
def signed(brewery):
    one = waiting(brewery)
    return sign_decision(
        brewery, person_id=one.person_id, family=PALE, state=one.proposed,
        until_on=one.until_on, reason=HOSTILE, signer=appointed(brewery), pin=PIN,
    )  # fmt: skip


def correct(desk, folder):
    """Import Aoife's glasses again, those of three compounds set aside."""
    lines = shipped("sample_data/results.csv").read_text(encoding="utf-8").splitlines()
    head = lines[0].split(",")
    aside, compound = head.index("set aside"), head.index("compound")
    rows = [line.split(",") for line in lines[1:]]
    own = [row for row in rows if row[head.index("panellist")] == "Aoife"]
    for row in own:
        if row[compound] in ("diacetyl", "dms", "acetaldehyde"):
            row[aside] = "yes"
    path = folder / "corrected.csv"
    path.write_text("\n".join([lines[0], *(",".join(row) for row in own)]), encoding="utf-8")
    bring_in_results(desk, path, arrange=lambda found: moved_to(found, desk.today()))
    desk.judged.clear()


@pytest.mark.parametrize("address", [{}, {"decision": "<b>none"}])
def test_without_such_a_decision_a_sentence_leads_to_the_seats(empty_desk, address):
    words = html_of(started("decision", **address))
    assert 'href="seats"' in words
    assert "<b>none" not in words


def test_it_says_who_signed_what_until_when(brewery, signed):
    words = html_of(started("decision", decision=signed))
    assert "Gwen signed for Aoife on" in words
    assert "on probation until" in words
    assert "for the pale lagers." in words


def test_one_that_matches_carries_no_warning(brewery, signed):
    words = html_of(started("decision", decision=signed))
    assert "The facts are those that were signed. Nothing about that day" in words
    assert "<em>" not in words


def test_its_reason_is_escaped(brewery, signed):
    words = html_of(started("decision", decision=signed))
    assert "Because &lt;b&gt;so&lt;/b&gt; &amp; nothing else." in words
    assert "<b>so" not in words


def test_compounds_stand_as_they_were_signed(brewery, signed):
    words = html_of(started("decision", decision=signed))
    assert "Compounds on that day" in words
    assert "Dimethyl sulfide (DMS)" in words


def test_a_correction_since_is_told_and_the_decision_stays(brewery, signed, tmp_path):
    correct(brewery, tmp_path)
    words = html_of(started("decision", decision=signed))
    assert "The facts are those that were signed." in words
    assert "Nothing about that day was recorded since" not in words
    assert "Diacetyl: met when it was signed, " in words
    assert "Gwen signed for Aoife" in words


def test_one_that_cannot_be_shown_again_says_so_on_top(brewery, signed, monkeypatch):
    found = replace(recomputed(brewery, signed), matches=False)
    monkeypatch.setattr(decision, "recomputed", lambda desk, decision_id: found)
    words = html_of(started("decision", decision=signed))
    assert "<em>it cannot be shown again from what is on record.</em>" in words
