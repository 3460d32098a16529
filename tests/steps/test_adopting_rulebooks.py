"""Adopting a rulebook: from which day it judges, and what is refused with nothing recorded."""

from datetime import UTC, datetime, timedelta

import pytest
import seated
from seated import FAMILY, PIN, TODAY

from seatworthy.errors import PanelError, RulebookRefused
from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.judging import judge_day
from seatworthy.steps.rulebook_views import rulebook_view
from seatworthy.steps.rulebooks import adopt_rulebook, check_known
from seatworthy.store.checks import impossible_facts
from seatworthy.store.history import broken_entries

DAY, WEEK = timedelta(days=1), timedelta(days=7)


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture
def adopt(desk, brewery):
    def adopted(text, pin=PIN):
        said = adopt_rulebook(desk, text, signer=brewery.ids["Lee"], pin=pin)
        desk.judged.clear()
        return said

    return adopted


def text(version=2, counts_from=TODAY, **changed):
    """The default one as another version that no glasses of ten weeks meet, or as asked."""
    found = rulebook_text("default")
    changes = {
        "version = 1": f"version = {version}",
        "counts_from = 2025-01-01": f"counts_from = {counts_from}",
        "glasses = 4  ": "glasses = 40  ",
        **changed,
    }
    for before, after in changes.items():
        assert before in found
        found = found.replace(before, after, 1)
    return found


def standing(desk, brewery, day):
    return str(judge_day(desk, day).seats[brewery.ids["Ada"], FAMILY].verdict.standing)


def rows(judged):
    """Every verdict with its sentences."""
    cells = {
        cell: (one.verdict, one.until, one.verdict.change) for cell, one in judged.cells.items()
    }
    seats = {
        seat: (one.verdict, one.until, one.verdict.change) for seat, one in judged.seats.items()
    }
    return cells, seats, judged.rulebook_digest


def refused(desk, adopt, text, match, error=RulebookRefused, **pin):
    """Refuse, and say whether anything was recorded."""
    before = desk.store.cursor().execute("select count(*) from history").fetchone()
    with pytest.raises(error, match=match):
        adopt(text, **pin)
    return before != desk.store.cursor().execute("select count(*) from history").fetchone()


def test_a_rulebook_that_counts_from_today_judges_today(desk, brewery, adopt):
    before = standing(desk, brewery, TODAY)
    adopt(text())
    assert (before, standing(desk, brewery, TODAY)) == ("met", "too_little")


def test_it_changes_no_verdict_of_yesterday(desk, adopt):
    before = rows(judge_day(desk, TODAY - DAY))
    adopt(text())
    assert rows(judge_day(desk, TODAY - DAY)) == before


def test_one_that_counts_from_next_week_changes_nothing_today(desk, adopt):
    before = rows(judge_day(desk, TODAY))
    adopt(text(counts_from=TODAY + WEEK))
    assert rows(judge_day(desk, TODAY)) == before


@pytest.mark.parametrize(("days", "version"), [(6, 1), (7, 2)])
def test_one_that_counts_from_next_week_judges_from_its_day_on(desk, adopt, days, version):
    adopt(text(counts_from=TODAY + WEEK))
    assert desk.rulebook_on(TODAY + days * DAY).rulebook.version == version


def test_by_the_record_before_its_adoption_the_old_one_judges(desk, adopt):
    moment = datetime.now(UTC).replace(tzinfo=None)
    adopt(text())
    assert desk.rulebook_on(TODAY, moment).rulebook.version == 1


def test_before_anything_was_recorded_the_first_one_judges(desk, adopt):
    adopt(text())
    assert [one.rulebook.version for one in desk.rulebooks(datetime(2020, 1, 1))] == [1]


def test_before_the_first_one_counts_it_judges_all_the_same(desk):
    first = desk.rulebooks()[0]
    assert desk.rulebook_on(first.rulebook.counts_from - DAY) == first


def test_the_sentence_says_from_when_it_counts(adopt):
    said = adopt(text(counts_from=TODAY + WEEK))
    assert said.startswith("default, version 2, is adopted and counts from 17 August 2026 on.")


def test_a_rulebook_on_record_is_found_by_its_digest(desk, adopt):
    adopt(text())
    digest = desk.rulebook_on(TODAY).digest
    assert check_known(desk, digest).rulebook.version == 2


def test_an_unknown_digest_is_refused(desk):
    with pytest.raises(PanelError, match="No rulebook on record has this digest"):
        check_known(desk, "0" * 64)


def test_the_screen_says_which_one_is_to_come(desk, adopt):
    adopt(text(counts_from=TODAY + WEEK))
    assert rulebook_view(desk).catch == "“default”, version 2, counts from 17 August 2026"


def test_the_screen_says_who_adopted_it(desk, adopt):
    adopt(text())
    found = {
        line.version: (line.adopted_by, line.is_in_force) for line in rulebook_view(desk).adopted
    }
    assert found == {1: ("", False), 2: ("Lee", True)}


def test_the_record_adds_up_after_an_adoption(desk, adopt):
    adopt(text())
    cursor = desk.store.cursor()
    now = cursor.execute("select max(recorded_at) from history").fetchone()[0]
    assert [*broken_entries(cursor), *impossible_facts(cursor, now)] == []


@pytest.mark.parametrize(
    ("asked", "match"),
    [
        ({"counts_from": TODAY - DAY}, r"line 14: counts_from is 2026-08-09, which is past"),
        ({"counts_from": TODAY + timedelta(days=367)}, r"line 14: counts_from is .* within a year"),
        ({"version": 1}, r"line 13: version is 1, but “default” is on record up to version 1"),
        ({'"dms",': '"mouse",'}, r"line \d+: .*mouse"),
    ],
)
def test_what_will_not_do_is_refused_with_its_line_and_nothing_recorded(desk, adopt, asked, match):
    assert not refused(desk, adopt, text(**asked), match)


def test_a_year_ahead_is_the_furthest(adopt):
    assert "10 August 2027" in adopt(text(counts_from=TODAY + timedelta(days=365)))


def test_the_very_same_text_is_refused(desk, adopt):
    match = "this very text is adopted already"
    assert not refused(desk, adopt, rulebook_text("default"), match)


def test_the_same_text_with_other_line_ends_is_the_same(desk, adopt):
    written = rulebook_text("default").replace("\n", "\r\n")
    assert not refused(desk, adopt, written, "this very text is adopted already")


def test_a_wrong_pin_adopts_nothing(desk, adopt):
    assert not refused(desk, adopt, text(), "not the PIN of Lee", error=PanelError, pin="4321")


def test_another_name_may_begin_with_version_one(adopt):
    changed = {'name = "default"': 'name = "ours"'}
    assert adopt(text(version=1, **changed)).startswith("ours, version 1")


def test_every_fault_is_said_at_once(desk, adopt):
    match = r"(?s)counts_from is 2026-08-09.*version is 1"
    assert not refused(desk, adopt, text(version=1, counts_from=TODAY - DAY), match)


def test_a_text_beyond_all_length_is_refused(desk, adopt):
    assert not refused(desk, adopt, "#" * 100_001, "longer than 100,000 characters")
