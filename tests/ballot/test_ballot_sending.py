"""Forms: what is sent on, what comes back and with what in it, and forms that no page of ours sends."""

from dataclasses import replace

import pytest
from html_checks import faults_of, read
from invented_ballots import NAMES, PAPERY, SIX, address, glass, view

from seatworthy.ballot.forms import LONGEST_BODY, MOST_FIELDS, WORDS_LENGTH
from seatworthy.ballot.texts import LANGUAGES
from seatworthy.errors import StoreError
from seatworthy.intake import answers as intake
from seatworthy.steps import ballot_forms
from seatworthy.steps.ballot_views import AWAY, HANDED_IN, FormAnswer

FAULTS = (
    ballot_forms.NO_CHOICE,
    ballot_forms.TWO_THINGS,
    ballot_forms.UNREADABLE,
    ballot_forms.TOO_LONG,
    ballot_forms.NOT_LISTED,
    ballot_forms.NOT_HERE,
    ballot_forms.OFF_SCALE,
    "spilled",
    "no_room",
)


def checked(page):
    return [found["id"] for found in read(page).all_of("input") if "checked" in found]


def field(page, name):
    return read(page).all_of("input", name=name)[0]["value"]


def test_a_form_is_handed_on_as_it_was_sent(steps, phone):
    phone.post(address(3), what="t2n", words=" wet paper ", sure="fairly", seen="2")
    phone.post(address(5), rating="7")
    assert steps.forms == [
        (3, FormAnswer("t2n", "wet paper", "", "fairly", 2)),
        (5, FormAnswer(rating="7")),
    ]


def test_after_sending_the_next_glass_that_waits_says_what_was_kept(steps, phone):
    steps.view = view(glasses=(*SIX[:2], glass(3, "417", said=PAPERY), *SIX[3:]))
    sent = phone.post(address(3), what="t2n", sure="fairly", seen="0")
    assert sent.status == 303
    assert sent.location == address("4?kept=3")
    page = phone.get(sent.location)
    assert faults_of(page) == []
    assert "Kept: 417, papery, fairly." in read(page).text


def test_the_next_glass_is_the_one_after_this_also_where_an_earlier_one_still_waits(phone):
    assert phone.post(address(4), what="302").location == address("5?kept=4")


def test_after_the_last_glass_the_first_that_still_waits_comes(phone):
    assert phone.post(address(6), what="yes").location == address("3?kept=6")


def test_after_the_last_answer_comes_the_overview(steps, phone):
    steps.view = view(glasses=SIX[:2])
    sent = phone.post(address(2), what="t2n", seen="1")
    assert sent.location == address() + "?kept=2"
    assert "Kept: 639, papery, fairly." in read(phone.get(sent.location)).text


def test_the_same_form_again_goes_on_as_the_first_did(steps, phone):
    steps.done = ("known", "")
    assert phone.post(address(2), what="t2n").location == address("3?kept=2")


@pytest.mark.parametrize("kept", ["3", "99", "-1", "x", "2&kept=3", "%00", "<b>", "9" * 5000])
def test_only_what_is_on_record_is_said_to_be_kept(phone, kept):
    """The third glass has no answer, and there is no 99th."""
    page = phone.get(address(f"4?kept={kept}"))
    assert page.status == 200
    assert "Kept:" not in page.text


@pytest.mark.parametrize("fault", FAULTS)
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_form_that_is_refused_comes_back_with_all_that_was_in_it(steps, phone, fault, language):
    steps.view, steps.done = view(language=language), ("refused", fault)
    page = phone.post(address(3), what="t2n", words="wet  paper", sure="certain", seen="0")
    assert page.status == (503 if fault == "no_room" else 422)
    assert faults_of(page) == []
    assert checked(page) == ["what-19", "sure-certain"]
    assert field(page, "words") == "wet  paper"
    notice = read(page).all_of("p", id="notice")[0]
    assert notice["role"] == "alert"
    assert "autofocus" in notice
    assert notice["tabindex"] == "-1"


def test_a_form_that_comes_back_says_why_first(steps, phone):
    steps.done = ("refused", "too_long")
    page = phone.post(address(3), words="x" * 130)
    assert "Keep to 120 characters" in page.text
    assert page.text.index("notice") < page.text.index("<h1")
    assert field(page, "words") == "x" * 130


def test_how_long_words_may_be_is_said_as_the_steps_have_it():
    assert intake.WORDS_LENGTH == WORDS_LENGTH


@pytest.mark.parametrize(
    ("place", "sent", "came_back"),
    [
        (3, {"what": "something"}, ["what-something"]),
        (4, {"what": "118", "sure": "guess"}, ["what-3", "sure-guess"]),
        (5, {"rating": "10"}, ["rating-10"]),
        (6, {"what": "no"}, ["what-no"]),
        (3, {"words": "only words"}, []),
    ],
)
def test_every_kind_of_form_comes_back_as_it_was(steps, phone, place, sent, came_back):
    steps.done = ("refused", "two_things")
    assert checked(phone.post(address(place), **sent)) == came_back


def test_after_another_answer_came_in_the_form_says_which_and_can_be_sent_on_purpose(steps, phone):
    other = glass(3, "417", said=replace(PAPERY, words="theatre foyer"), answers=4)
    steps.view, steps.done = view(glasses=(*SIX[:2], other, *SIX[3:])), ("meanwhile", "")
    page = phone.post(address(3), what="dms", seen="0")
    assert page.status == 409
    assert faults_of(page) == []
    assert "came in meanwhile: “theatre foyer”, fairly." in read(page).text
    assert checked(page) == ["what-7"]
    assert field(page, "seen") == "4"


@pytest.mark.parametrize("state", [HANDED_IN, AWAY])
def test_what_came_too_late_is_named_and_not_lost_from_sight(steps, phone, state):
    steps.view, steps.done = view(state=state), ("closed", "")
    page = phone.post(address(3), what="dms", words="corn", sure="guess")
    assert page.status == 409
    assert faults_of(page) == []
    assert "so it was not stored: DMS, “corn”, a guess." in read(page).text


def test_a_glass_that_is_not_on_the_ballot_leads_to_those_that_are(steps, phone):
    steps.done = ("refused", "not_here")
    page = phone.post(address(77), what="dms")
    assert page.status == 422
    assert faults_of(page) == []
    assert "There is no such glass on your ballot" in page.text
    assert phone.get(address(77)).location == address()


def test_where_the_store_fails_what_was_sent_stays_in_the_page(steps, phone):
    steps.fault = StoreError("the disk is full")
    page = phone.post(address(3), what="t2n", words="wet paper", sure="guess", seen="2")
    assert page.status == 503
    assert faults_of(page) == []
    kept = {found["name"]: found["value"] for found in read(page).all_of("input", type="hidden")}
    assert kept == {
        "what": "t2n", "words": "wet paper", "rating": "", "sure": "guess", "seen": "2",
    }  # fmt: skip
    assert read(page).all_of("form")[0]["action"] == address(3)
    assert "disk" not in page.text


@pytest.mark.parametrize("rest", ["", "3", "unfit"])
def test_where_the_store_fails_a_page_says_so_and_can_be_tried_again(steps, phone, rest):
    steps.fault = StoreError("the disk is full")
    page = phone.get(address(rest), accept_language="de-AT,de;q=0.9")
    assert page.status == 503
    assert faults_of(page) == []
    assert "Noch einmal versuchen" in page.text
    assert "disk" not in page.text
    assert phone.post(address("unfit")).status == 503


def test_somebody_says_that_they_are_not_fit_and_takes_it_back(steps, phone):
    assert phone.get(address("unfit")).status == 200
    assert steps.says == []  # asking changes nothing
    assert phone.post(address("unfit")).location == address()
    assert phone.post(address("fit")).location == address()
    assert steps.says == ["unfit", "fit"]
    assert phone.get(address("fit")).location == address()
    assert steps.says == ["unfit", "fit"]


@pytest.mark.parametrize("sure", ["sure", "GUESS", "guess ", "0", "\x00"])
def test_a_sureness_that_is_none_of_ours_is_not_said(steps, phone, sure):
    phone.post(address(3), what="t2n", sure=sure)
    assert steps.forms[0][1].sureness == ""


@pytest.mark.parametrize("seen", ["-1", "1.5", "x", "٣", "9" * 5000, "", " 1"])
def test_a_count_that_is_none_counts_as_unsaid(steps, phone, seen):
    phone.post(address(3), what="t2n", seen=seen)
    assert steps.forms[0][1].seen is None


@pytest.mark.parametrize(
    "pairs",
    [
        [("what", "t2n"), ("what", "dms")],
        [("words", "a"), ("words", "b")],
        [(f"field{n}", "x") for n in range(100)],
        [("what", "t2n")] * (MOST_FIELDS + 1),
        [("words", "x" * LONGEST_BODY)],
    ],
)
def test_a_form_no_page_of_ours_sends_is_refused_whole(steps, phone, pairs):
    page = phone.post(address(3), *pairs)
    assert page.status == 422
    assert faults_of(page) == []
    assert steps.forms == []


def test_a_field_that_is_sent_twice_alike_is_one(steps, phone):
    phone.post(address(3), ("what", "t2n"), ("what", "t2n"))
    assert steps.forms == [(3, FormAnswer("t2n"))]


@pytest.mark.parametrize(
    "body",
    [b"", b"&&&==&", b"what", b"what=%ff%fe", b"words=%00", b"words=%ed%a0%80", b"\xff\x00\xfe",
     b'--x\r\nContent-Disposition: form-data; name="what"\r\n\r\nt2n\r\n--x--', b"%", b"what=%zz"],
)  # fmt: skip
@pytest.mark.parametrize("place", ["3", "4", "5", "0", "9" * 5000, "x"])
def test_any_bytes_get_a_page(steps, phone, body, place):
    steps.done = ("refused", "unreadable")
    page = phone.send("POST", address(place), body)
    assert page.status == 422
    assert faults_of(page) == []
    assert all(form.choice in ("", "\ufffd\ufffd", "%zz") for _, form in steps.forms)


def test_a_lone_surrogate_is_no_letter(steps, phone):
    steps.done = ("refused", "unreadable")
    page = phone.post(address(3), words="a\ud800b")
    assert page.status == 422
    assert "a\ufffd" in field(page, "words")


def test_nobody_is_taken_for_a_name_that_is_not_offered(steps, phone):
    steps.view, steps.done = view(names=NAMES[:3]), ("refused", "not_listed")
    page = phone.post(address(3), what="t2n")
    assert checked(page) == []
    assert "not on the list any more" in page.text


def test_a_link_with_a_slash_behind_it_is_the_same_link(phone):
    assert phone.get(address() + "/").body == phone.get(address()).body


def test_whoever_asks_for_the_head_alone_learns_what_the_page_would_say_of_itself(phone):
    whole, head = phone.get(address(3)), phone.send("HEAD", address(3))
    assert (head.status, head.headers) == (whole.status, whole.headers)
