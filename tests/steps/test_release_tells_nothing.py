"""No byte of a ballot tells which glass of a release sitting is the check glass, or which beer it is."""

import itertools

import pytest
import release_sittings as release
import thursday
from handed_out import secrets_of
from test_ballots_tell_nothing import BO, Phone, seen_at_a_table, two_desks

from seatworthy.steps import ballot_links
from seatworthy.steps.planning import record_plan
from seatworthy.steps.talk import open_talk


@pytest.fixture
def secrets(monkeypatch):
    """Starts the links of a desk anew: their secrets only tell how many were made before them."""

    def restart():
        count = itertools.count()
        monkeypatch.setattr(ballot_links, "token_urlsafe", lambda size: f"secret-{next(count):04d}")

    return restart


def samples_one(desk, people):
    return (*map(release.batch, release.tanks(desk, people)), release.CHECK, release.PLAIN)


def samples_other(desk, people):
    tank, other = release.tanks(desk, people)
    return (release.PLAIN, release.batch(other), release.batch(tank), release.CHECK)


def pages_of_a_talk(desk, session_id):
    """Everything that a phone is told once the talk is open."""
    links = secrets_of(desk, session_id)
    phone, link = Phone(desk), f"/b/{links[BO]}"
    for place in range(1, 5):
        for name in (BO, "Carmen Ruiz"):
            phone.ask(f"/b/{links[name]}/{place}", what="dms" if place % 2 else "nothing", seen=0)
    open_talk(desk, release.early(desk, session_id), without_missing=True)
    found = [phone.ask(f"{link}{rest}") for rest in ("", "/1", "/2", "/3", "/4", "/9")]
    for place in range(1, 5):
        found.append(phone.ask(f"{link}/{place}", what="nothing", seen=0, when="after"))
        found.append(phone.ask(f"{link}/{place}", what="dms", seen=5, when="after"))
        found.append(phone.ask(f"{link}/{place}", what="dms", seen=0))
    found += [phone.ask(f"{link}{rest}") for rest in ("", "/1", "/2", "/3", "/4")]
    return found


@pytest.mark.parametrize("look", [seen_at_a_table, pages_of_a_talk])
def test_no_byte_tells_which_glass_is_the_check_glass(tmp_path, with_people, secrets, look):
    seen = []
    for desk, samples in zip(
        two_desks(tmp_path, with_people), (samples_one, samples_other), strict=True
    ):
        secrets()
        people = with_people.found
        wish = release.wish(desk, people, samples=samples(desk, people))
        seen.append(look(desk, record_plan(desk, wish)))
        desk.close()
    assert seen[0] == seen[1]
    assert {status for status, _, _ in seen[0]} >= {200, 303, 409}


@pytest.mark.parametrize("is_shown", [False, True])
def test_the_tables_differ_once_they_are_revealed(tmp_path, with_people, secrets, is_shown):
    """So that the sameness above is no accident of pages that never differ."""
    pages = []
    for desk, samples in zip(
        two_desks(tmp_path, with_people), (samples_one, samples_other), strict=True
    ):
        secrets()
        people = with_people.found
        session_id = record_plan(desk, release.wish(desk, people, samples=samples(desk, people)))
        link = f"/b/{secrets_of(desk, session_id)[BO]}"
        thursday.answer_all(desk, session_id, by_sample=same_words(desk, session_id))
        if is_shown:
            thursday.close(desk, session_id)
        pages.append(Phone(desk).ask(link))
        desk.close()
    assert (pages[0] != pages[1]) is is_shown


def same_words(desk, session_id):
    """The same word for every sample, so that only what was poured can differ."""
    return dict.fromkeys(thursday.facts_of(desk, session_id).samples, "dms")
