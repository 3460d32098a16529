"""Signing at once whatever is proposed and takes nothing from anybody."""

from dataclasses import replace
from datetime import timedelta

import pytest
import seated
from seated import FAMILY, PIN, TODAY

from seatworthy.errors import PanelError
from seatworthy.steps.decisions import decisions, sign_decision
from seatworthy.steps.proposals import proposals, put_forward, reply
from seatworthy.steps.signers import appoint_signer, signers
from seatworthy.steps.signing_many import plain_proposals, sign_as_proposed, signed_together


@pytest.fixture(scope="module")
def brewery(tmp_path_factory):
    """With Ada, Dot and Lee proposed for a seat."""
    folder = tmp_path_factory.mktemp("brewery")
    found = seated.build(folder)
    (folder / "more").mkdir()
    with seated.opened(found, folder / "more") as desk:
        rows = seated.flights(range(seated.WEEKS), "Dot", 5)
        seated.bring_in(desk, folder, rows, new_people=["Dot"])
        ids = {one.name: one.person_id for one in proposals(desk)}
        judged = desk.judged
    return replace(found, path=folder / "more" / "panel.duckdb", ids={**found.ids, **ids},
                   judged={(0, *asked): one for asked, one in judged.items()})  # fmt: skip


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


def signed(desk):
    return {one.name for one in decisions(desk)}


def sign_all(desk, brewery, shown=None, pin=PIN, signer="Lee"):
    return sign_as_proposed(
        desk, proposals(desk) if shown is None else shown, signer=brewery.ids[signer], pin=pin
    )


def test_everybody_but_the_signer_gets_what_is_proposed(desk, brewery):
    sign_all(desk, brewery)
    assert signed(desk) == {"Ada", "Dot"}


def test_the_sentence_says_how_many_and_that_the_signers_own_waits(desk, brewery):
    assert sign_all(desk, brewery) == (
        "Two seats are signed as proposed. "
        "Nobody signs for themselves: the signer's own wait for somebody else."
    )


def test_each_is_a_decision_of_its_own_as_it_was_proposed(desk, brewery):
    shown = {one.name: (one.proposed, one.until_on) for one in proposals(desk)}
    sign_all(desk, brewery)
    assert {one.name: (one.state, one.until_on) for one in decisions(desk)} == {
        name: shown[name] for name in ("Ada", "Dot")
    }


def test_with_nothing_to_sign_nothing_is_signed(desk, brewery):
    assert sign_all(desk, brewery, shown=()) == "No seats are signed as proposed."


def test_what_would_take_a_seat_away_is_left(desk, brewery):
    end = TODAY + timedelta(days=100)
    sign_decision(
        desk, person_id=brewery.ids["Bo"], family=FAMILY, state="qualified", until_on=end,
        signer=brewery.ids["Lee"], pin=PIN, reason="Has sat on our panel for years.",
    )  # fmt: skip
    shown = proposals(desk)
    assert "Bo" in {one.name for one in shown}
    assert "Bo" not in {one.name for one in plain_proposals(shown)}


def test_a_proposal_of_which_a_recheck_is_asked_is_left(desk, brewery):
    put = put_forward(desk, brewery.ids["Ada"], FAMILY, brewery.ids["Lee"])
    reply(desk, put, "recheck", "")
    sign_all(desk, brewery)
    assert signed(desk) == {"Dot"}


def test_it_stops_at_the_first_refusal_and_says_what_was_signed(desk, brewery):
    shown = [
        replace(one, facts_digest="0" * 64) if one.name == "Dot" else one for one in proposals(desk)
    ]
    with pytest.raises(PanelError, match=r"^One seat is signed before this. Dot: "):
        sign_all(desk, brewery, shown)
    assert signed(desk) == {"Ada"}


def test_a_wrong_pin_signs_nothing(desk, brewery):
    with pytest.raises(PanelError, match=r"^Ada: This is not the PIN of Lee"):
        sign_all(desk, brewery, pin="4321")
    assert signed(desk) == set()


def test_another_signer_signs_for_the_first(desk, brewery):
    appoint_signer(desk, brewery.ids["Ada"], "5678", by=brewery.ids["Lee"], by_pin=PIN)
    sign_all(desk, brewery, pin="5678", signer="Ada")
    assert signed(desk) == {"Dot", "Lee"}


def test_what_only_its_holder_could_sign_is_not_offered_to_be_signed_together(desk, brewery):
    shown, lee = proposals(desk), brewery.ids["Lee"]
    alone = [one for one in signers(desk) if one.person_id == lee]
    assert {one.name for one in signed_together(shown, alone)} == {"Ada", "Dot"}
    assert signed_together(shown, ()) == plain_proposals(shown)
