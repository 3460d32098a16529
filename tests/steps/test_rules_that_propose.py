"""What further rules and the rule for the start of a panel do to proposals."""

from datetime import timedelta

import pytest
import seated
from seated import FAMILY, FIRST, PIN, TODAY, proposal_of

from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.judging import judge_day
from seatworthy.steps.proposals import proposals
from seatworthy.steps.rulebooks import adopt_rulebook

ALSO = """
[[also]]
name = "Vinegar"
by = "share"
over = "each"
compounds = ["acetic_acid"]
share = 0.70
glasses = 4
asked_for = {asked_for}
"""
END = TODAY + timedelta(days=100)


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture
def grant(desk, brewery):
    def signed(who):
        sign_decision(
            desk, person_id=brewery.ids[who], family=FAMILY, state="qualified", until_on=END,
            signer=brewery.ids["Lee"], pin=PIN, reason="Has sat on our panel for years.",
        )  # fmt: skip

    return signed


def dot_names_three(desk, folder):
    """Somebody new who names three critical compounds in every session, and gets no others."""
    rows = [
        row
        for row in seated.flights(range(10), "Dot", 5)
        if row[3] in ("diacetyl", "dms", "t2n", "blank")
    ]
    seated.bring_in(desk, folder, rows, new_people=["Dot"])
    return next((one for one in proposals(desk) if one.name == "Dot"), None)


def vinegar(desk, folder, brewery, asked_for, missed=4):
    """A further rule on a compound of which Ada, who has a seat, missed so many of four glasses."""
    text = rulebook_text("default").replace("version = 1", "version = 2")
    text = text.replace("counts_from = 2025-01-01", f"counts_from = {TODAY}")
    text += ALSO.format(asked_for=asked_for)
    adopt_rulebook(desk, text, signer=brewery.ids["Lee"], pin=PIN)
    rows = [
        ((FIRST + timedelta(weeks=n)).isoformat(), "Ada", 700 + n, "acetic_acid", 3,
         "nothing" if n < missed else "acetic_acid")
        for n in range(4)
    ]  # fmt: skip
    seated.bring_in(desk, folder, rows)
    return proposal_of(desk, brewery.ids["Ada"])


def test_while_too_few_seats_stand_three_compounds_are_enough(desk, tmp_path, grant):
    for who in ("Ada", "Bo", "Cleo"):
        grant(who)
    found = dot_names_three(desk, tmp_path)
    assert "until 4 seats of this family exist; 3 seats exist today" in found.sentence


def test_once_enough_seats_stand_three_compounds_are_not(desk, tmp_path, grant):
    for who in ("Ada", "Bo", "Cleo", "Lee"):
        grant(who)
    assert dot_names_three(desk, tmp_path) is None


def test_a_further_rule_not_met_is_proposed_as_a_suspension(desk, tmp_path, brewery, grant):
    grant("Ada")
    found = vinegar(desk, tmp_path, brewery, "true")
    assert (found.kind, found.sentence) == (
        "suspend",
        "Vinegar: met in 0 of 1 compounds, all asked for; not met in acetic acid.",
    )


def test_a_further_rule_met_proposes_nothing(desk, tmp_path, brewery, grant):
    grant("Ada")
    assert vinegar(desk, tmp_path, brewery, "true", missed=1) is None


def test_a_further_rule_that_is_only_shown_proposes_nothing(desk, tmp_path, brewery, grant):
    grant("Ada")
    assert vinegar(desk, tmp_path, brewery, "false") is None


def test_a_further_rule_that_is_only_shown_is_judged_all_the_same(desk, tmp_path, brewery):
    vinegar(desk, tmp_path, brewery, "false")
    (shown,) = judge_day(desk).also[brewery.ids["Ada"], FAMILY]
    assert (str(shown.verdict.standing), shown.asked_for) == ("not_met", False)


def test_without_a_seat_a_further_rule_not_met_withholds_the_proposal(desk, tmp_path, brewery):
    assert vinegar(desk, tmp_path, brewery, "true") is None


def test_without_a_seat_a_rule_only_shown_withholds_nothing(desk, tmp_path, brewery):
    assert vinegar(desk, tmp_path, brewery, "false").kind == "grant"
