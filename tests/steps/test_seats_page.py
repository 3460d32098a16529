"""The page of seats: what waits, who holds a seat, and what another day says."""

from datetime import UTC, datetime, timedelta

import pytest
import seated
from seated import FAMILY, PIN, TODAY

from seatworthy.steps.boards import board
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.desk import open_desk
from seatworthy.steps.proposals import proposals, put_forward, reply
from seatworthy.steps.seats_page import seats_view
from seatworthy.steps.word_views import word_view

DAY = timedelta(days=1)
END = TODAY + timedelta(days=20)


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture
def sign(desk, brewery):
    def signed(who="Ada", state="qualified", until_on=END):
        sign_decision(
            desk, person_id=brewery.ids[who], family=FAMILY, state=state, until_on=until_on,
            signer=brewery.ids["Lee"], pin=PIN, reason="As agreed with them.",
        )  # fmt: skip

    return signed


@pytest.fixture
def put(desk, brewery):
    return put_forward(desk, brewery.ids["Ada"], FAMILY, brewery.ids["Lee"])


def test_before_any_glass_the_page_says_what_comes_first(tmp_path):
    desk = open_desk(tmp_path / "panel.duckdb")
    answer = seats_view(desk).answer
    desk.close()
    assert answer.startswith("No seat can be proposed before the first glasses")


def test_what_waits_is_counted(desk):
    assert seats_view(desk).answer == "Two proposals wait for a signature"


def test_the_first_that_waits_is_named(desk):
    assert seats_view(desk).catch == "the first is Ada's seat for the pale"


def test_what_only_its_holder_could_sign_says_so(desk, brewery):
    (one,) = (one for one in proposals(desk) if one.name == "Ada")
    sign_decision(
        desk, person_id=one.person_id, family=FAMILY, state=one.proposed, until_on=one.until_on,
        signer=brewery.ids["Lee"], pin=PIN,
    )  # fmt: skip
    assert seats_view(desk).lead.startswith("Lee alone may sign: sign with a reason why")


def test_a_recheck_asked_for_is_named_first(desk, put):
    reply(desk, put, "recheck", "")
    assert seats_view(desk).catch == "Ada has asked for a recheck"


def test_a_seat_signed_stands_with_its_last_day_and_signer(desk, sign):
    sign()
    (line,) = seats_view(desk).seats
    assert (line.name, line.until, line.signer, line.meets) == ("Ada", END, "Lee", True)


def test_a_seat_that_ends_within_the_notice_is_due(desk, sign):
    sign()
    assert seats_view(desk).seats[0].is_due


def test_a_seat_that_ends_beyond_the_notice_is_not_due(desk, sign):
    sign(until_on=TODAY + timedelta(days=31))
    assert not seats_view(desk).seats[0].is_due


def test_seats_that_hold_stand_before_the_others(desk, sign):
    sign("Ada")
    sign("Ada", "paused", None)
    sign("Bo", until_on=TODAY + timedelta(days=100))
    assert [line.name for line in seats_view(desk).seats] == ["Bo", "Ada"]


def test_where_every_seat_has_lapsed_that_is_said(desk, sign):
    sign()
    seated.at(desk, END + 40 * DAY)
    view = seats_view(desk)
    assert (view.answer, view.catch) == ("No seat stands today", "one has lapsed")
    told = board(desk, family=FAMILY)
    assert (told.answer, told.catch) == (
        "Nobody can sit for the pale today",
        "one seat has lapsed.",
    )
    assert told.lead.startswith("It was Ada's.")


def test_a_seat_that_lapsed_lately_is_named_while_another_stands(desk, sign, tmp_path):
    sign("Ada", until_on=TODAY + 40 * DAY)
    sign("Lee", until_on=END + 100 * DAY)
    seated.at(desk, TODAY + 50 * DAY)
    rows = seated.flights(range(seated.WEEKS + 3, seated.WEEKS + 6), "Lee", 0)
    seated.bring_in(desk, tmp_path, rows)
    seated.at(desk, TODAY + 65 * DAY)
    assert "Ada's for the pale has lapsed" in seats_view(desk).catch


def test_of_a_past_day_nothing_waits(desk):
    assert seats_view(desk, TODAY - DAY).waiting == ()


def test_of_a_past_day_later_signatures_are_left_out(desk, sign):
    sign()
    found = seats_view(desk, TODAY - DAY)
    assert (found.seats, found.decisions) == ((), ())
    assert found.answer == "No seats were signed and stood on 9 August 2026"


def test_by_the_record_of_then_a_signature_is_left_out(desk, sign):
    moment = datetime.now(UTC).replace(tzinfo=None)
    sign()
    assert seats_view(desk, known_at=moment).seats == ()


def test_there_is_no_word_on_an_unknown_proposal(desk):
    assert word_view(desk, "0" * 16) is None


def test_a_proposal_says_what_is_proposed_and_what_is_now(desk, put):
    asked = next(one for one in proposals(desk) if one.name == "Ada")
    said = word_view(desk, put).answer
    assert said.startswith(
        "Ada, a first seat is proposed for you, for the pale: on probation until "
    )
    assert f"{asked.until_on:%B %Y}" in said
    assert said.endswith("; today you are in training")


@pytest.mark.parametrize(
    ("kinds", "expected"),
    [((), False), (("recheck",), True), (("recheck", "remark"), True),
     (("recheck", "withdrawn"), False)],
)  # fmt: skip
def test_a_recheck_is_open_while_it_is_the_last_wish(desk, put, kinds, expected):
    for kind in kinds:
        reply(desk, put, kind, "Too early for me." if kind == "remark" else "")
    assert word_view(desk, put).recheck_open is expected


def test_a_proposal_is_open_until_something_is_signed(desk, put, sign):
    before = word_view(desk, put).is_open
    sign()
    assert (before, word_view(desk, put).is_open) == (True, False)
