"""Two passphrases at one door: each opens its own pages, and neither becomes the other."""

import pytest
from knocking import Door

from seatworthy.errors import PanelError
from seatworthy.steps import passphrase
from seatworthy.steps.brewer_passphrase import (
    brewers_key,
    check_brewers_passphrase,
    has_brewers_passphrase,
    set_brewers_passphrase,
    take_brewers_passphrase_away,
)
from seatworthy.steps.leader_tickets import is_ticket, new_ticket, role_of
from seatworthy.steps.passphrase import set_passphrase

LEADERS, BREWERS = "barley wine in winter", "mash tun at dawn"
NOW = 1_000_000


@pytest.fixture(autouse=True)
def _cheaper(monkeypatch):
    """The digest stays what it is, only cheaper."""
    scrypt = passphrase.hashlib.scrypt
    monkeypatch.setattr(
        passphrase.hashlib,
        "scrypt",
        lambda typed, *, salt, **_: scrypt(typed, salt=salt, n=2, r=1, p=1),
    )


@pytest.fixture
def door(desk):
    """A door with both passphrases set."""
    set_passphrase(desk, LEADERS)
    set_brewers_passphrase(desk, BREWERS, BREWERS)
    return Door(desk)


def role_behind(desk, door):
    import time

    return role_of(desk, door.cookie.partition("=")[2], time.time())


@pytest.mark.parametrize(("typed", "role"), [(LEADERS, "leader"), (BREWERS, "brewer")])
def test_each_passphrase_opens_its_own(desk, door, typed, role):
    status, headers, _ = door.post(passphrase=typed, to="/")
    assert (status, headers["location"]) == (303, "/")
    assert role_behind(desk, door) == role
    assert "This browser is signed in." in door.get()[2]


@pytest.mark.parametrize(
    ("asked", "to"), [("/people", "/"), ("/fit-today?family=x", "/fit-today?family=x"), ("/", "/")]
)
def test_a_brewer_is_led_to_a_brewers_page(door, asked, to):
    assert door.post(passphrase=BREWERS, to=asked)[1]["location"] == to


def test_leaving_ends_a_brewers_ticket(desk, door):
    door.post(passphrase=BREWERS)
    ticket = door.cookie.partition("=")[2]
    door.post("/door/leave")
    import time

    assert role_of(desk, ticket, time.time()) is None


def test_wrong_ones_are_counted_whichever_was_meant(door):
    for _ in range(5):
        assert door.post(passphrase=BREWERS + "!")[0] == 403
    assert door.post(passphrase=BREWERS)[0] == 429


def test_a_brewers_ticket_is_not_the_leaders(desk, door):
    leaders, brewers = new_ticket(desk, NOW), new_ticket(desk, NOW, "brewer")
    assert (role_of(desk, leaders, NOW), role_of(desk, brewers, NOW)) == ("leader", "brewer")
    assert not is_ticket(desk, brewers, NOW)
    mixed = f"{leaders.rpartition('.')[0]}.{brewers.rpartition('.')[2]}"
    assert role_of(desk, mixed, NOW) is None
    assert role_of(desk, brewers, NOW + 12 * 3_600 + 1) is None


@pytest.mark.parametrize(
    "change",
    [
        lambda desk: set_brewers_passphrase(desk, "another one for them", "another one for them"),
        lambda desk: set_passphrase(desk, "another one of mine"),
        take_brewers_passphrase_away,
    ],
)
def test_a_changed_passphrase_ends_every_brewers_ticket(desk, door, change):
    ticket = new_ticket(desk, NOW, "brewer")
    change(desk)
    assert role_of(desk, ticket, NOW) is None


def test_another_one_for_brewers_leaves_the_leader_signed_in(desk, door):
    ticket = new_ticket(desk, NOW)
    set_brewers_passphrase(desk, "another one for them", "another one for them")
    assert is_ticket(desk, ticket, NOW)


def test_taken_away_it_opens_nothing(desk, door):
    take_brewers_passphrase_away(desk)
    assert not has_brewers_passphrase(desk)
    assert not check_brewers_passphrase(desk, BREWERS)
    assert not check_brewers_passphrase(desk, "")
    assert door.post(passphrase=BREWERS)[0] == 403
    with pytest.raises(ValueError, match="without a passphrase"):
        new_ticket(desk, NOW, "brewer")


def test_the_two_are_never_the_same(desk, door):
    with pytest.raises(PanelError, match="is the passphrase of the leader's pages"):
        set_brewers_passphrase(desk, LEADERS, LEADERS)
    with pytest.raises(PanelError, match="That is the brewers' passphrase"):
        set_passphrase(desk, BREWERS)
    assert role_of(desk, new_ticket(desk, NOW), NOW) == "leader"


def test_without_the_leaders_there_is_none_for_brewers(desk):
    with pytest.raises(PanelError, match="have no passphrase of their own yet"):
        set_brewers_passphrase(desk, BREWERS, BREWERS)
    assert brewers_key(desk) is None


def test_it_is_no_part_of_the_history_and_kept_as_a_digest(desk, door):
    before = desk.version
    set_brewers_passphrase(desk, BREWERS, BREWERS)
    assert desk.version == before
    with desk.store.reading() as cursor:
        rows = cursor.execute("select * from brewer_passphrase").fetchall()
    assert len(rows) == 2
    assert BREWERS not in str(rows)
