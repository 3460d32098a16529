"""What nobody may learn from a ballot: a link that opens nothing, headers, and whoever wrote a name."""

from dataclasses import replace

import pytest
from html_checks import faults_of, read
from invented_ballots import (
    NAMES,
    SECRET,
    SIX,
    Phone,
    address,
    glass,
    view,
)

from seatworthy.ballot.drawing import HEADERS, templates
from seatworthy.ballot.look import style_address
from seatworthy.ballot.texts import LANGUAGES
from seatworthy.steps.ballot_views import REVEALED, NameOffered, OwnAnswer

EVERY_WAY_IN = ("", "/", "1", "3", "unfit", "fit", "99", "x", "3/4", "../b", "%2e%2e", "9" * 5000)
HOSTILE = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{7*7}}{% raw %}",
    "![](http://x) **b** [l](javascript:1)",
    "'; drop table answer --",
    "</title></datalist><base href=//x>",
    "&lt;b&gt;&#0;",
)


def every_answer(phone):
    yield from (phone.get(address(rest)) for rest in ("", "1", "4", "5", "6", "unfit", "77"))
    yield from (phone.post(address(rest), what="nothing") for rest in ("3", "77", "unfit", "fit"))
    yield phone.get("/b/nothing-here")
    yield phone.post("/b/nothing-here/1", what="nothing")
    yield phone.get("/b")
    yield phone.send("DELETE", address())


def test_every_answer_carries_the_headers(phone):
    for page in every_answer(phone):
        for name, value in HEADERS.items():
            assert page.headers[name.lower()] == value
        assert "set-cookie" not in page.headers
        assert "etag" not in page.headers


def test_nothing_runs_and_nothing_is_fetched_from_elsewhere():
    policy = dict(
        part.strip().split(" ", 1) for part in HEADERS["Content-Security-Policy"].split(";")
    )
    assert policy["default-src"] == "'none'"
    assert "script-src" not in policy  # so that the strictest, default-src, holds for scripts
    assert policy["style-src"] == policy["font-src"] == policy["form-action"] == "'self'"
    assert policy["base-uri"] == policy["frame-ancestors"] == "'none'"


def test_forms_name_their_origin():
    """With no-referrer browsers send "Origin: null" with a form, which the server refuses."""
    assert HEADERS["Referrer-Policy"] == "same-origin"


@pytest.mark.parametrize("method", ["GET", "POST"])
def test_a_link_that_opens_nothing_says_the_same_whatever_is_wrong(steps, phone, method):
    found = {
        (page.status, page.body, tuple(sorted(page.headers.items())))
        for secret in ("", "x", SECRET[:-1], SECRET + "a", SECRET.lower(), "%00", "a" * 5000, "é")
        for rest in EVERY_WAY_IN
        for page in [phone.send(method, f"/b/{secret}" + (f"/{rest}" if rest else ""))]
    }
    steps.view = None  # expired, or replaced: the steps give None alike
    found |= {
        (page.status, page.body, tuple(sorted(page.headers.items())))
        for rest in EVERY_WAY_IN
        for page in [phone.send(method, address(rest))]
    }
    assert len(found) == 1
    assert next(iter(found))[0] == 404


@pytest.mark.parametrize(
    ("asked", "language"),
    [
        ("de", "de"), ("de-CH, en;q=0.5", "de"), ("fr, es;q=0.4, en;q=0.3", "es"), ("", "en"),
        ("pl", "en"), ("en-GB,de;q=0.9", "en"), ("de;q=0, es", "es"), ("*", "en"), ("ES", "es"),
        ("de;q=nan, es;q=0.1", "es"), ("de;q=9, es;q=0.1", "es"), (",;=;q=,", "en"), ("x" * 9000, "en"),
    ],
)  # fmt: skip
def test_whoever_is_unknown_is_answered_as_their_browser_asks(phone, asked, language):
    page = phone.get("/b/nothing-here", accept_language=asked)
    assert faults_of(page) == []
    assert read(page).all_of("html")[0]["lang"] == language


def test_a_ballot_is_in_its_own_language_whatever_the_browser_asks_for(phone):
    assert read(phone.get(address(), accept_language="de")).all_of("html")[0]["lang"] == "en"


def test_the_way_of_asking_makes_no_difference_where_there_is_no_page(phone):
    for method in ("PUT", "PATCH", "DELETE", "OPTIONS"):
        for rest in ("", "3", "unfit"):
            assert phone.send(method, address(rest)).body == phone.get("/b/none").body


def test_no_page_names_the_serving_or_holds_the_secret_but_in_its_own_addresses(phone):
    for rest in ("", "3", "4", "unfit"):
        text = phone.get(address(rest)).text
        assert "serving-" not in text
        assert SECRET not in text.replace(f'"{address()}', '"')


@pytest.mark.parametrize("text", HOSTILE)
@pytest.mark.parametrize("language", LANGUAGES)
def test_whatever_somebody_is_called_or_writes_is_text(steps, phone, text, language):
    names = (*NAMES, NameOffered(text, text, text, (text,)))
    steps.view = view(
        name=text,
        language=language,
        names=names,
        is_nudged=True,
        glasses=(
            glass(1, "208", said=OwnAnswer("words", text + "?")),
            glass(2, text),
            glass(3, text, text + "2", method="triangle"),
            glass(4, "774", method="intensity", asked=text),
        ),
    )
    for rest in ("", "1", "2", "3", "4", "1?kept=1", "unfit", "2?find=" + "%3Cb%3E"):
        page = phone.get(address(rest))
        assert page.status == 200
        assert faults_of(page) == []
        assert "49" not in read(page).text.replace(text, "")
    for done in (("refused", "two_things"), ("meanwhile", "")):
        steps.done = done
        page = phone.post(address(1), what=text, words=text, sure="guess", rating=text)
        assert faults_of(page) == []
        assert read(page).all_of("input", name="words")[0]["value"] == text.strip()


@pytest.mark.parametrize("text", HOSTILE)
def test_ones_own_page_takes_no_name_for_markup(steps, phone, text):
    steps.reveal(name=text, mixed_up=(text, text))
    steps.feedback = replace(
        steps.feedback,
        glasses=tuple(
            replace(one, was=text, said_label=text, said=OwnAnswer("words", text))
            for one in steps.feedback.glasses
        ),
    )
    assert faults_of(phone.get(address())) == []


def test_what_runs_from_right_to_left_turns_nothing_else(steps, phone):
    steps.view = view(
        name="Anna \u202eevil\u2066",
        glasses=(glass(1, "208", said=OwnAnswer("words", "\u200fשלום\u202d 417")),),
    )
    text = phone.get(address()).text
    assert not set(text) & set("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u200e\u200f")
    assert "“\u2068שלום 417\u2069”" in text
    assert "ballot of Anna evil." in text


def test_what_cannot_be_seen_is_left_out(steps, phone):
    steps.view = view(name="An\x00na\x1b[2J\x7f", state="away")
    assert "Anna[2J, you are noted" in phone.get(address()).text


def test_joined_letters_keep_their_spelling(steps, phone):
    """A zero-width joiner is part of how some scripts are spelled."""
    steps.view = view(name="می\u200cخواهم")
    assert "می\u200cخواهم" in phone.get(address()).text


def test_after_the_reveal_only_ones_own_glasses_can_be_asked_for(steps, phone):
    steps.reveal()
    for rest in ("1", "unfit"):
        assert phone.get(address(rest)).location == address()
    steps.feedback = None
    assert phone.get(address()).status == 404
    assert steps.view.state == REVEALED


def test_everything_put_into_a_template_is_escaped():
    assert templates().autoescape is True
    for name in templates().list_templates():
        source = templates().loader.get_source(templates(), name)[0]
        assert "|safe" not in source.replace(" ", "")
        assert "autoescape" not in source


def test_the_style_sheet_may_be_kept_for_good_and_only_under_its_own_address(phone):
    kept = phone.get(style_address())
    assert kept.status == 200
    assert kept.headers["content-type"].startswith("text/css")
    assert "immutable" in kept.headers["cache-control"]
    assert phone.get(style_address().replace(".css", "x.css")).status == 404
    assert style_address() in phone.get(address()).text


def test_a_phone_that_hangs_up_in_mid_form_harms_nobody(steps):
    phone = Phone()
    phone.hangs_up = True
    assert phone.post(address(3), what="t2n").status == 400
    assert steps.forms == []
    assert SIX[2].answer is None
