"""Every rulebook that travels with the program judges the sample brewery."""

import re
from datetime import date

import pytest

from seatworthy.rules.reading import examples, menu
from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.demo import set_up_demo
from seatworthy.steps.desk import open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.rulebook_views import odds_of, words_of
from seatworthy.steps.rulebooks import supposed_rulebook
from seatworthy.steps.what_if import what_if

TODAY = date(2026, 11, 25)
ALL = (*menu(), *examples())
# Sentences that say there is nothing yet, which need no number.
NOTHING_YET = re.compile("No glasses counted yet|No glass of it yet|No session attended yet")


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    path = tmp_path_factory.mktemp("demo") / "panel.duckdb"
    set_up_demo(path, TODAY)
    desk = open_desk(path)
    desk.today = lambda: TODAY
    yield desk
    desk.close()


@pytest.fixture(scope="module", params=ALL)
def book(request):
    return supposed_rulebook(rulebook_text(request.param))


@pytest.fixture(scope="module")
def judged(desk, book):
    return judge_day(desk, supposed_book=book)


def verdicts(judged):
    yield from (one.verdict for one in judged.cells.values())
    yield from (one.verdict for one in judged.seats.values())
    yield from (one.verdict for one in judged.panels.values())
    for person, family in judged.seats:
        yield from (one.verdict for one in judged.answers(person, family))


def test_everybody_is_judged_for_every_family(judged):
    assert set(judged.seats) == {(p, f) for p in judged.people for f in judged.families}


def test_every_sentence_names_a_number_or_says_that_there_is_nothing_yet(judged):
    sentences = {one.sentence for one in verdicts(judged)}
    assert sentences
    assert [
        said for said in sentences if not re.search(r"\d", said) and not NOTHING_YET.search(said)
    ] == []


def test_whatever_is_too_little_says_what_would_change_it(judged):
    open_ones = [
        one.verdict for one in judged.seats.values() if one.verdict.standing == "too_little"
    ]
    assert [one.sentence for one in open_ones if not one.change] == []


def test_whoever_may_sit_does_so_until_a_day_to_come(judged):
    sitting = [one.until for one in judged.seats.values() if one.can_sit]
    assert all(until is not None and until >= TODAY for until in sitting)


def test_every_name_in_what_if_is_somebody_on_record(desk, book, judged):
    assert {one.name for one in what_if(desk, book).seats} <= set(judged.people.values())


def test_it_can_be_read_aloud(desk, book):
    parts = words_of(desk, book)
    assert parts


def test_its_odds_are_those_of_this_panel(desk):
    _, pace = odds_of(desk, supposed_rulebook(rulebook_text("default")))
    assert pace.is_measured
