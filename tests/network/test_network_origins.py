import pytest
from layer_asked import asked, scope_of

from seatworthy.network.origins import OwnOrigins
from seatworthy.network.refusals import Refusals

HOST = "192.0.2.20:8501"


def origins(inside):
    return OwnOrigins(inside, Refusals())


def test_the_framework_never_sees_an_origin_so_it_asks_nobody_whose_it_is():
    headers = {"host": HOST, "origin": f"http://{HOST}", "cookie": "a=b"}
    got = asked(origins, scope_of("/_stcore/stream", kind="websocket", headers=headers))
    assert [name for name, _ in got.reached[0]["headers"]] == [b"host", b"cookie"]


def test_an_encrypted_page_asks_under_https():
    headers = {"host": HOST, "origin": f"https://{HOST}"}
    for kind, scheme in (("http", "https"), ("websocket", "wss")):
        got = asked(origins, scope_of(kind=kind, headers=headers, scheme=scheme))
        assert got.reached


def test_two_origins_are_refused_even_if_one_is_ours():
    headers = [("host", HOST), ("origin", f"http://{HOST}"), ("origin", "http://evil.example")]
    got = asked(origins, scope_of(method="POST", headers=headers))
    assert (got.status, got.reached) == (403, [])


@pytest.mark.parametrize(
    ("method", "site", "passed"),
    [
        ("POST", None, True),
        ("POST", "same-origin", True),
        ("POST", "none", True),
        ("POST", "same-site", False),
        ("POST", "cross-site", False),
        ("POST", "something new", False),
        ("PUT", "cross-site", False),
        ("DELETE", "cross-site", False),
        ("GET", "cross-site", True),  # a link that was followed
    ],
)
def test_what_changes_something_comes_from_our_own_page(method, site, passed):
    headers = {"host": HOST} | ({"sec-fetch-site": site} if site else {})
    got = asked(origins, scope_of(method=method, headers=headers))
    assert (got.status == 200) is passed
    assert bool(got.reached) is passed


def test_the_servers_own_start_and_stop_pass():
    got = asked(origins, {"type": "lifespan"})
    assert got.reached == [{"type": "lifespan"}]
