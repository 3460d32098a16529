import pytest
from layer_asked import asked, run, scope_of

from seatworthy.network.gate import Gate
from seatworthy.network.layers import layers
from seatworthy.network.refusals import Refusals
from seatworthy.network.settings import NetworkSettings
from seatworthy.steps.leader_tickets import TICKET_COOKIE

HTML = {"accept": "text/html,application/xhtml+xml"}
RIGHT = {"cookie": f"_other=2|a|b; {TICKET_COOKIE}=right"}


def gate(inside):
    return Gate(inside, lambda ticket: ticket == "right", Refusals())


@pytest.mark.parametrize("path", ["/b/x", "/b/x/3", "/door", "/reach", "/fonts/a.woff2"])
def test_open_addresses_need_no_ticket(path):
    assert asked(gate, scope_of(path)).status == 200


@pytest.mark.parametrize("path", ["/", "/record", "/session", "/b", "/doors"])
def test_a_page_leads_to_the_door_and_back(path):
    got = asked(gate, scope_of(f"{path}?who=a%20b&day=1", headers=HTML))
    assert (got.status, got.reached) == (303, [])
    there = path.replace("/", "%2F")
    assert got.headers["location"] == f"/door?to={there}%3Fwho%3Da%2520b%26day%3D1"


@pytest.mark.parametrize(
    ("method", "path", "headers"),
    [
        ("GET", "/media/5f1b.pdf", HTML),
        ("GET", "/_stcore/host-config", HTML),
        ("GET", "/_stcore/metrics", {}),
        ("GET", "/component/seatworthy.answer_grid/index.js", {}),
        ("GET", "/static/js/index.js", HTML),
        ("GET", "/record", {}),
        ("PUT", "/_stcore/upload_file/a/b", HTML),
        ("DELETE", "/_stcore/upload_file/a/b", {}),
        ("POST", "/", HTML),
        ("OPTIONS", "/record", HTML),
    ],
)
def test_anything_else_is_refused(method, path, headers):
    got = asked(gate, scope_of(path, method=method, headers=headers))
    assert (got.status, got.reached) == (401, [])
    right = asked(gate, scope_of(path, method=method, headers=headers | RIGHT))
    assert right.status == 200


@pytest.mark.parametrize("path", ["/_stcore/stream", "/b/x", "/door", "/fonts/_stcore/stream"])
def test_a_live_page_needs_the_ticket_wherever_it_knocks(path):
    got = asked(gate, scope_of(path, kind="websocket"))
    assert (got.closed_with, got.reached) == (4401, [])
    assert asked(gate, scope_of(path, kind="websocket", headers=RIGHT)).reached


@pytest.mark.parametrize(
    "cookie",
    [
        f"{TICKET_COOKIE}=wrong",
        f"{TICKET_COOKIE}=",
        f"{TICKET_COOKIE.upper()}=right",
        f"x{TICKET_COOKIE}=right",
        f'{TICKET_COOKIE}="right"',
        "right",
        f"{TICKET_COOKIE}=wrong; " * 8 + f"{TICKET_COOKIE}=right",
    ],
)
def test_only_the_ticket_itself_opens(cookie):
    assert asked(gate, scope_of("/media/x", headers={"cookie": cookie})).status == 401


def test_a_live_page_ends_with_its_ticket():
    tickets, heard = {"right"}, []

    async def page(scope, receive, send):
        heard.append((await receive())["type"])
        tickets.clear()
        heard.append((await receive())["type"])

    async def receive():
        return {"type": "websocket.receive", "bytes": b"rerun"}

    layer = Gate(page, lambda ticket: ticket in tickets, Refusals())
    run(layer(scope_of("/_stcore/stream", kind="websocket", headers=RIGHT), receive, None))
    assert heard == ["websocket.receive", "websocket.disconnect"]


def test_the_gate_stands_only_where_others_may_come():
    def names(is_lan):
        return [layer.__name__ for layer, _ in layers(NetworkSettings(is_lan), bool)]

    assert "Gate" not in names(is_lan=False)
    assert names(is_lan=True) == [
        "SecurityHeaders", "KnownHosts", "PlainPaths", "OwnOrigins", "Pace", "Gate", "Bodies",
        "GuessGuard",
    ]  # fmt: skip


def test_all_layers_together_refuse_what_each_refuses():
    """Made as the entry makes them; every refusal carries the headers of the outermost."""

    def whole(inside):
        settings = NetworkSettings(True, ("192.0.2.20",), "http://192.0.2.20:8501")
        for layer, words in reversed(layers(settings, lambda ticket: ticket == "right")):
            inside = layer(inside, **words)
        return inside

    host = {"host": "192.0.2.20:8501"}
    for scope, status in [
        (scope_of("/b/x", headers=host), 200),
        (scope_of("/record", headers=host | RIGHT), 200),
        (scope_of("/record", headers=host), 401),
        (scope_of("/record", headers=host | HTML), 303),
        (scope_of("/b/x"), 400),
        (scope_of("/b/../record", headers=host), 400),
        (scope_of("/b/x", headers=host | {"origin": "http://evil.example"}), 403),
        (scope_of("/b/x", method="POST", headers=host | {"content-length": "99999"}), 413),
        (scope_of("/record", method="POST", headers=host | {"content-length": "99999"}), 401),
    ]:
        got = asked(whole, scope)
        assert got.status == status, scope["path"]
        assert got.headers["x-content-type-options"] == "nosniff"
