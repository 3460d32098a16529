"""Glasses that ask whether they are a certain beer: planned, poured, asked and told, and never which is which."""

from dataclasses import replace
from decimal import Decimal

import pytest
import release_sittings as release
import thursday
from handed_out import say, secrets_of
from test_release_sittings import faults_of, with_beer

from seatworthy.sessions.wish import OWN, SISTER, WantedSample
from seatworthy.steps.ballot_feedback import own_feedback
from seatworthy.steps.ballots import ballot
from seatworthy.steps.closing import reveal
from seatworthy.steps.papers import papers
from seatworthy.steps.planning import preview, record_plan, wish_again
from seatworthy.steps.sheets import sheets

BO = "Bo Larsen"


@pytest.fixture
def sister(desk, people, tmp_path):
    del people
    return with_beer(desk, tmp_path, "Millrace Gold")


@pytest.fixture
def planned(desk, people, sister):
    return record_plan(desk, release.known_beers(people, sister))


def test_the_beer_asked_about_is_kept_apart_from_what_is_poured(desk, planned):
    facts = thursday.facts_of(desk, planned)
    first = facts.samples_at(facts.sittings[0].sitting_id)
    assert [(s.asks_beer, s.variant, s.beer_label, s.poured_label) for s in first] == [
        ("house pils", "own", "House Pils", "House Pils"),
        ("house pils", "aged", "House Pils", "House Pils, aged"),
        ("house pils", "sister", "Millrace Gold", "Millrace Gold, a sister brand"),
    ]
    assert {glass.method for glass in facts.glasses} == {"a_not_a"}
    assert desk.store.rows("session_recipes", session_id=planned) == []
    assert [s.knows for s in wish_again(desk, planned).samples] == [
        ("house pils", "own"), ("house pils", "aged"), ("house pils", "sister"),
    ]  # fmt: skip


def test_ballot_sheet_and_paper_ask_for_the_beer_by_name_and_tell_no_variant(desk, planned):
    view = ballot(desk, secrets_of(desk, planned)[BO])
    assert {(glass.asks_beer, glass.asked) for glass in view.glasses} == {("House Pils", "")}
    assert "aged" not in str(view)
    assert "Gold" not in str(view)
    rows = sheets(desk, planned)[0].rows
    assert {row.asks for row in rows} == {"House Pils"}
    order = papers(desk, planned).sittings[0].orders[0]
    assert {glass.asks_beer for glass in order.glasses} == {"House Pils"}


def test_ones_own_page_tells_who_it_was(desk, planned):
    secrets = secrets_of(desk, planned)
    for secret in secrets.values():
        for place in range(1, 5):
            assert say(desk, secret, place, "yes").outcome == "kept"
    thursday.close(desk, planned)
    page = own_feedback(desk, secrets[BO])
    told = sorted((glass.beer, glass.outcome) for glass in page.glasses)
    assert told == [
        ("House Pils", "right"),
        ("House Pils", "right"),
        ("House Pils, aged", "taken_for"),
        ("Millrace Gold, a sister brand", "taken_for"),
    ]
    assert (page.right, page.counted) == (2, 4)
    shown = reveal(desk, planned)
    assert (shown.samples, shown.people) == ((), ())
    assert shown.answer == "Everybody's record shows anew whether they tell the beer apart"
    people = len(secrets)
    assert shown.lead == (
        f"Taken for House Pils: {2 * people} of {2 * people} of House Pils; {people} of {people} of "
        f"House Pils, aged; {people} of {people} of Millrace Gold, a sister brand."
    )
    assert desk.store.cursor().execute("select count(*) from answered_glass").fetchone() == (0,)


def test_a_no_to_the_beer_itself_is_told_and_another_batch_has_no_right_answer(desk, people):
    asked = release.known_beers(people)
    other = WantedSample(None, None, "", 1, "a_not_a", knows=(release.BEER, "other_batch"))
    session_id = record_plan(desk, replace(asked, samples=(asked.samples[0], other)))
    secrets = secrets_of(desk, session_id)
    for secret in secrets.values():
        for place in range(1, 4):
            say(desk, secret, place, "no")
    thursday.close(desk, session_id)
    told = {g.beer: g.outcome for g in own_feedback(desk, secrets[BO]).glasses}
    assert told == {"House Pils": "not_known", "House Pils, another batch": "judged"}


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"knows": ("nowhere", OWN)}, "asks about the beer “nowhere”, which is not on the shelf"),
        ({"knows": (release.BEER, "stale")}, "is “stale”: choose the beer itself, aged"),
        ({"method": "naming"}, "that takes a yes or no"),
        ({"compound": "dms", "level": Decimal(3)}, "nothing is added to it"),
        ({"knows": (release.BEER, SISTER)}, "pour another beer, or say otherwise what it is"),
    ],
)
def test_a_question_about_a_beer_that_makes_no_sense_is_refused(desk, people, changed, words):
    asked = release.known_beers(people)
    odd = replace(asked.samples[0], **changed)
    assert words in faults_of(desk, replace(asked, samples=(odd,)))


def test_the_beer_itself_is_not_another_one(desk, people, sister):
    asked = release.known_beers(people)
    odd = replace(asked.samples[0], beer=sister)
    assert "pours Millrace Gold: pour that beer" in faults_of(desk, replace(asked, samples=(odd,)))


def test_a_yes_says_little_where_every_glass_is_the_beer(desk, people):
    asked = release.known_beers(people)
    both = " ".join(preview(desk, asked).notes)
    assert "says little" not in both
    own = " ".join(preview(desk, replace(asked, samples=asked.samples[:1])).notes)
    assert "so a yes says little" in own
    aged = " ".join(preview(desk, replace(asked, samples=asked.samples[1:])).notes)
    assert "so a no says little" in aged
    assert "No blank is poured" not in own
