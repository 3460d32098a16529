import pytest
from knocking import Door

from seatworthy.ballot.door import own_address
from seatworthy.ballot.door_tries import WRONG_IN_ALL, DoorTries
from seatworthy.steps import leader_tickets, passphrase
from seatworthy.steps.leader_tickets import TICKET_COOKIE, give_back, is_ticket, new_ticket
from seatworthy.steps.passphrase import (
    check_passphrase,
    has_passphrase,
    set_passphrase,
    signing_key,
)

RIGHT = "barley wine in winter"


@pytest.fixture(autouse=True)
def costs(monkeypatch):
    """The digest stays what it is, only cheaper; what it would cost."""
    scrypt, asked = passphrase.hashlib.scrypt, []

    def cheaper(typed, *, salt, **cost):
        asked.append(cost)
        return scrypt(typed, salt=salt, n=2, r=1, p=1)

    monkeypatch.setattr(passphrase.hashlib, "scrypt", cheaper)
    return asked


@pytest.fixture
def door(desk):
    """A locked door whose passphrase is set."""
    set_passphrase(desk, RIGHT)
    return Door(desk)


def test_the_passphrase_opens_and_leads_on(desk, door):
    status, headers, _ = door.post(passphrase=RIGHT, to="/record?who=a%20b")
    assert (status, headers["location"]) == (303, "/record?who=a%20b")
    said = headers["set-cookie"].lower()
    for words in ("httponly", "samesite=lax", "path=/", "max-age=43200"):
        assert words in said
    assert "secure" not in said
    name, _, ticket = door.cookie.partition("=")
    assert name == TICKET_COOKIE
    assert is_ticket(desk, ticket, leader_tickets_now())


def leader_tickets_now():
    import time

    return time.time()


def test_with_tls_the_ticket_never_travels_without(desk):
    set_passphrase(desk, RIGHT)
    _, headers, _ = Door(desk, is_encrypted=True).post(passphrase=RIGHT)
    assert "secure" in headers["set-cookie"].lower()


@pytest.mark.parametrize(
    "typed", ["", "barley wine in summer", RIGHT.upper(), RIGHT[:-1], "x" * 3_000]
)
def test_anything_else_does_not(door, typed):
    status, headers, text = door.post(passphrase=typed, to="/record")
    assert status == 403
    assert "set-cookie" not in headers
    assert "This is not the passphrase." in text
    assert 'value="/record"' in text
    assert typed == "" or typed not in text


@pytest.mark.parametrize(
    "body", [b"", b"\xff\xfe", b"a=1&" * 50, b"passphrase", b"passphrase=%ff%00"]
)
def test_what_is_no_form_is_a_wrong_one(door, body):
    assert door.raw(body)[0] == 403


def test_the_page_asks_for_nothing_but_the_passphrase(door):
    status, headers, text = door.get("/door?to=/record%3Fwho%3D1")
    assert status == 200
    assert 'value="/record?who=1"' in text
    assert 'autocomplete="current-password"' in text
    assert "in the terminal of the computer that\nruns Seatworthy" in text
    assert '<span class="unbroken">--new-passphrase</span>' in text
    assert "<script" not in text
    assert "http" not in text.replace("http-equiv", "")
    assert headers["referrer-policy"] == "same-origin"  # else its form names no origin
    assert "default-src 'none'" in headers["content-security-policy"]
    assert headers["cache-control"] == "no-store"


@pytest.mark.parametrize(
    ("asked", "to"),
    [
        ("/record", "/record"),
        ("/record?who=1&day=2026-03-14#top", "/record?who=1&day=2026-03-14#top"),
        ("//evil.example", "/"),
        ("/\\evil.example", "/"),
        ("http://evil.example", "/"),
        ("javascript:alert(1)", "/"),
        ("/a\\b", "/"),
        ("/a\r\nset-cookie: x", "/"),
        ('/"><script>', "/"),
        ("/ü", "/"),
        ("record", "/"),
        ("", "/"),
        ("/" + "a" * 3_000, "/"),
    ],
)
def test_the_door_leads_to_our_own_pages_only(door, asked, to):
    assert own_address(asked) == to
    status, headers, _ = door.post(passphrase=RIGHT, to=asked)
    assert (status, headers["location"]) == (303, to)


def test_after_five_wrong_ones_even_the_right_one_waits(door):
    for _ in range(5):
        assert door.post(passphrase="wrong wrong wrong")[0] == 403
    status, headers, text = door.post(passphrase=RIGHT)
    assert status == 429
    assert headers["retry-after"] == "31"
    assert "The next one is read in 31 seconds." in text
    assert door.post(passphrase=RIGHT, client="192.0.2.8")[0] == 303
    door.now += 31
    assert door.post(passphrase=RIGHT)[0] == 303
    assert door.post(passphrase="wrong wrong wrong")[0] == 403


def test_the_wait_doubles_up_to_a_quarter_of_an_hour(door):
    waits = []
    for _ in range(5):
        door.post(passphrase="wrong wrong wrong")
    for _ in range(7):
        waits.append(int(door.post(passphrase=RIGHT)[1]["retry-after"]) - 1)
        door.now += waits[-1] + 1
        assert door.post(passphrase="wrong wrong wrong")[0] == 403
    assert waits == [30, 60, 120, 240, 480, 900, 900]
    assert "16 minutes" in door.post(passphrase=RIGHT)[2]


def test_tries_at_once_count_one_by_one(door):
    statuses = door.many([{"passphrase": "wrong wrong wrong"}] * 30)
    assert statuses.count(403) == 5
    assert statuses.count(429) == 25


def test_more_than_a_few_do_not_wait_in_line(desk, monkeypatch):
    set_passphrase(desk, RIGHT)
    monkeypatch.setattr("seatworthy.ballot.door_tries.WRONG_OF_ONE", 1_000)
    monkeypatch.setattr("seatworthy.ballot.door_tries.WRONG_IN_ALL", 1_000)
    statuses = Door(desk).many([{"passphrase": "wrong wrong wrong"}] * 30)
    assert statuses.count(403) == 10
    assert statuses.count(503) == 20


def test_many_machines_wait_together_and_the_tables_own_computer_does_not():
    now = [0.0]
    tries = DoorTries(lambda: now[0])
    for number in range(WRONG_IN_ALL):
        tries.begin(f"10.0.0.{number}")
    assert tries.wait_s("10.0.9.9") == 30
    assert tries.wait_s("127.0.0.1") == 0
    now[0] += 31
    assert tries.wait_s("10.0.9.9") == 0


def test_the_memory_of_tries_is_bounded_and_fades():
    now = [0.0]
    tries = DoorTries(lambda: now[0])
    for number in range(3_000):
        tries.begin(f"10.{number // 250}.0.{number % 250}")
    assert len(tries._tries) == 1_000
    for _ in range(4):
        tries.begin("127.0.0.1")
    now[0] += 3_601
    tries.begin("127.0.0.1")
    assert tries.wait_s("127.0.0.1") == 0


def test_leaving_ends_the_ticket_and_not_only_the_cookie(desk, door):
    door.post(passphrase=RIGHT)
    ticket = door.cookie.partition("=")[2]
    assert "This browser is signed in." in door.get()[2]
    status, headers, _ = door.post("/door/leave")
    assert (status, headers["location"]) == (303, "/door")
    assert "max-age=0" in headers["set-cookie"].lower()
    assert not is_ticket(desk, ticket, leader_tickets_now())
    assert "The passphrase opens" in door.get()[2]


def test_leaving_is_nothing_that_a_link_can_do(door):
    assert door.get("/door/leave")[0] == 405


def test_on_this_machine_alone_the_door_leads_to_the_pages(desk):
    door = Door(desk, is_locked=False)
    for status, headers, _ in (door.get("/door?to=/record"), door.post(passphrase="x")):
        assert (status, headers["location"]) == (303, "/")


def test_without_a_passphrase_nobody_gets_in(desk):
    door = Door(desk)
    assert "No passphrase is set." in door.get()[2]
    assert door.post(passphrase="")[0] == 403
    assert door.post(passphrase=RIGHT)[0] == 403
    assert not is_ticket(desk, "1.2.3", 0)


# ------------------------------------------------------------------ the passphrase and its tickets


@pytest.mark.parametrize("typed", ["", "123456789", "  123456789  ", "x" * 201])
def test_a_passphrase_has_its_length(desk, typed):
    from seatworthy.errors import PanelError

    with pytest.raises(PanelError, match="at least 10 characters"):
        set_passphrase(desk, typed)
    assert not has_passphrase(desk)


def test_it_is_kept_as_a_costly_digest_with_its_own_salt(desk, costs):
    set_passphrase(desk, RIGHT)
    set_passphrase(desk, RIGHT)
    assert costs[0] == {"n": 2**15, "r": 8, "p": 1, "maxmem": 64 * 2**20}
    with desk.store.reading() as cursor:
        rows = cursor.execute("select * from leader_passphrase order by set_at").fetchall()
    assert len({row[0] for row in rows}) == len({row[1] for row in rows}) == 2
    assert all(len(bytes.fromhex(row[0])) == 16 for row in rows)
    assert RIGHT not in str(rows)


def test_it_is_no_part_of_the_history(desk):
    from seatworthy.store.history import broken_entries

    before = desk.version
    set_passphrase(desk, RIGHT)
    assert desk.version == before
    with desk.store.reading() as cursor:
        assert list(broken_entries(cursor)) == []


def test_the_last_one_set_holds_even_where_the_clock_was_set_back(desk):
    with desk.store.reading() as cursor:
        cursor.execute(
            "insert into leader_passphrase values ('00', '00', timestamp '2999-01-01 00:00:00')"
        )
    set_passphrase(desk, RIGHT)
    assert check_passphrase(desk, RIGHT)


def test_accents_may_be_typed_in_either_way(desk):
    set_passphrase(desk, "Köln im Märzen")
    assert check_passphrase(desk, " Ko\u0308ln im Ma\u0308rzen ")


def test_a_ticket_lasts_twelve_hours_and_not_a_second_longer(desk):
    set_passphrase(desk, RIGHT)
    ticket = new_ticket(desk, 1_000_000)
    assert is_ticket(desk, ticket, 1_000_000)
    assert is_ticket(desk, ticket, 1_000_000 + 12 * 3_600)
    assert not is_ticket(desk, ticket, 1_000_001 + 12 * 3_600)
    assert not is_ticket(desk, ticket, 999_999)


def test_a_ticket_that_was_touched_opens_nothing(desk):
    set_passphrase(desk, RIGHT)
    issued, chance, signature = new_ticket(desk, 1_000_000).split(".")
    other = new_ticket(desk, 1_000_000).split(".")
    assert chance != other[1]
    for forged in (
        f"{int(issued) + 60}.{chance}.{signature}",
        f"{issued}.{other[1]}.{signature}",
        f"{issued}.{chance}.{signature[:-1]}",
        f"{issued}.{chance}.{signature}0",
        f"{issued}.{chance}.{signature}\n",
        f"{issued}.{chance}.",
        f"{issued}.{chance}.{'é' * 64}",
        "",
    ):
        assert not is_ticket(desk, forged, 1_000_000), forged


def test_another_passphrase_signs_everybody_out_and_a_restart_nobody(desk):
    set_passphrase(desk, RIGHT)
    ticket = new_ticket(desk, 1_000_000)
    passphrase._keys.clear()
    assert is_ticket(desk, ticket, 1_000_000)
    set_passphrase(desk, "another one altogether")
    assert not is_ticket(desk, ticket, 1_000_000)
    assert not check_passphrase(desk, RIGHT)


def test_no_ticket_without_a_passphrase(desk):
    assert signing_key(desk) is None
    with pytest.raises(ValueError, match="without a passphrase"):
        new_ticket(desk, 1_000_000)


def test_the_memory_of_tickets_given_back_is_bounded():
    for number in range(3_000):
        give_back(str(number))
    assert len(leader_tickets._given_back) == 2_000
    leader_tickets._given_back.clear()
