"""What nobody may sign, and what asks for a reason; after none of it is anything recorded."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
import seated
from seated import FAMILY, TODAY

from seatworthy.errors import PanelError
from seatworthy.rules.proposing import propose
from seatworthy.steps import proposing
from seatworthy.steps.decisions import recomputed, sign_decision

DAY = timedelta(days=1)
LAST = date(2027, 2, 10)  # six months from TODAY


@pytest.fixture
def ids(brewery):
    return brewery.ids


@pytest.fixture(scope="module")
def desk(brewery, tmp_path_factory):
    """One desk for all of this file: Lee may sign, and Cleo holds a seat."""
    with seated.opened(brewery, tmp_path_factory.mktemp("desk")) as desk:
        sign_decision(
            desk, person_id=brewery.ids["Cleo"], family=FAMILY, state="qualified", until_on=LAST,
            reason="An old hand.", signer=brewery.ids["Lee"], pin=seated.PIN,
        )  # fmt: skip
        yield desk


@pytest.fixture(autouse=True)
def nothing_recorded(desk):
    """Nothing is recorded by any test of this file."""
    before = desk.version
    yield
    assert desk.version == before


@pytest.fixture
def sign(desk, ids):
    """Signs Ada's probation as the rules propose it, but for what a test asks otherwise."""

    def signed(**changed):
        asked = {
            "person_id": ids["Ada"], "family": FAMILY, "state": "probation", "until_on": LAST,
            "signer": ids["Lee"], "pin": seated.PIN,
        }  # fmt: skip
        return sign_decision(desk, **{**asked, **changed})

    return signed


def test_a_wrong_pin_signs_nothing(sign):
    with pytest.raises(PanelError, match="not the PIN of Lee"):
        sign(pin="4321")


def test_somebody_who_may_not_sign_signs_nothing(desk, ids, sign):
    with pytest.raises(PanelError, match="Bo is not among those who may sign"):
        sign(signer=ids["Bo"])


def test_nobody_signs_a_lapse(sign):
    with pytest.raises(PanelError, match="lapses by its date alone"):
        sign(state="lapsed")


def test_an_unknown_state_is_refused_with_those_there_are(sign):
    with pytest.raises(
        PanelError, match="“expert” cannot be signed; trainee, probation, qualified"
    ):
        sign(state="expert")


def test_somebody_unknown_gets_no_seat(sign):
    with pytest.raises(PanelError, match="There is no person with the id"):
        sign(person_id="0" * 16)


def test_a_decision_is_never_backdated(sign):
    with pytest.raises(PanelError, match="A decision holds from today, 10 August 2026"):
        sign(from_on=TODAY - DAY)


def test_a_decision_does_not_begin_thirty_two_days_ahead(sign):
    with pytest.raises(PanelError, match="or from a day up to 10 September 2026"):
        sign(from_on=TODAY + 32 * DAY)


def test_a_seat_is_not_signed_for_a_day_longer(sign):
    with pytest.raises(PanelError, match="valid for 6 months by the rulebook in force"):
        sign(until_on=LAST + DAY, reason="Longer.")


def test_a_seat_does_not_end_before_it_begins(sign):
    with pytest.raises(PanelError, match="The last day, 9 August 2026, lies before the first"):
        sign(until_on=TODAY - DAY)


def test_a_seat_needs_a_last_day(sign):
    with pytest.raises(PanelError, match="“probation” needs a last day"):
        sign(until_on=None)


def test_somebody_who_withdraws_has_no_last_day(sign):
    with pytest.raises(PanelError, match="“withdrawn” has no last day"):
        sign(state="withdrawn", reason="Moves away.")


def test_another_state_than_the_proposed_one_asks_for_a_reason(sign):
    with pytest.raises(PanelError, match="Say why in a few words, since the rules propose “proba"):
        sign(state="qualified")


def test_a_later_last_day_than_the_proposed_one_asks_for_a_reason(sign, monkeypatch):
    monkeypatch.setattr(
        proposing,
        "propose",
        lambda *asked: replace(propose(*asked), until_on=LAST - DAY),
    )
    with pytest.raises(PanelError, match="since the rules propose it until 9 February 2027"):
        sign()


def test_where_nothing_is_proposed_a_reason_is_asked_for(ids, sign):
    with pytest.raises(PanelError, match="since the rules propose nothing here"):
        sign(person_id=ids["Bo"])


def test_nothing_is_taken_away_unseen_without_a_reason(ids, sign):
    with pytest.raises(PanelError, match="since Cleo has not seen it proposed"):
        sign(person_id=ids["Cleo"], state="paused", until_on=None)


def test_the_only_signer_says_why_they_sign_for_themselves(ids, sign):
    with pytest.raises(PanelError, match="since you sign for yourself, as the only one"):
        sign(person_id=ids["Lee"])


def test_a_decision_that_is_not_on_record_cannot_be_judged_again(desk):
    with pytest.raises(PanelError, match="There is no decision 0000"):
        recomputed(desk, "0" * 16)


@pytest.mark.parametrize("state", ["paused", "suspended"])
def test_a_trainee_is_neither_paused_nor_suspended(sign, state):
    with pytest.raises(PanelError, match="Ada is “trainee” then; from there a seat can become"):
        sign(state=state, until_on=None, reason="No.")
