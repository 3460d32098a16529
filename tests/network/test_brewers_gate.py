"""What a brewer's ticket opens: what is listed, and nothing else."""

import pytest
from layer_asked import asked, run, scope_of

from seatworthy.network.gate import Gate
from seatworthy.network.refusals import Refusals
from seatworthy.steps.leader_tickets import TICKET_COOKIE

HTML = {"accept": "text/html,application/xhtml+xml"}
BREWER = {"cookie": f"{TICKET_COOKIE}=brewer"}


def gate(inside):
    return Gate(inside, lambda t: t == "leader", Refusals(), lambda t: t == "brewer")


@pytest.mark.parametrize(
    "path",
    [
        "/", "/fit-today", "/fit-today?family=x", "/around-the-table", "/how-sure?sample=1",
        "/static/js/index.js", "/_stcore/host-config", "/_stcore/health", "/favicon.png", "/door",
        "/how-sure/_stcore/health", "/b/x", "/reach",
    ],
)  # fmt: skip
def test_the_brewers_pages_open(path):
    assert asked(gate, scope_of(path, headers=BREWER | HTML)).status == 200


@pytest.mark.parametrize(
    ("method", "path"),
    [
        *(("GET", f"/{page}") for page in (
            "board", "record", "people", "seats", "sure", "miss", "history", "session", "reveal",
            "fit-today/", "fit-today/x", "anything-new",
        )),
        ("GET", "/media/5f1b.pdf"),
        ("GET", "/component/seatworthy.answer_grid/index.js"),
        ("GET", "/_stcore/bidi-components/a.js"),
        ("GET", "/_stcore/metrics"),
        ("GET", "/_stcore/stream"),
        ("GET", "/_stcore/upload_file/a/b"),
        ("PUT", "/_stcore/upload_file/a/b"),
        ("DELETE", "/_stcore/upload_file/a/b"),
        ("POST", "/"),
        ("POST", "/fit-today"),
        ("PUT", "/static/js/index.js"),
    ],
)  # fmt: skip
def test_everything_else_is_closed(method, path):
    got = asked(gate, scope_of(path, method=method, headers=BREWER | HTML))
    assert (got.status, got.reached) == (403, [])
    assert "the leader's" in got.text


def test_whoever_typed_a_page_of_the_leaders_gets_a_way_on_and_a_way_out():
    got = asked(gate, scope_of("/board", headers=BREWER | HTML))
    assert got.headers["content-type"].startswith("text/html")
    assert 'href="/"' in got.text
    assert 'action="/door/leave"' in got.text


def test_a_live_page_is_one_of_the_frames_own():
    got = asked(gate, scope_of("/_stcore/other", kind="websocket", headers=BREWER))
    assert (got.closed_with, got.reached) == (4403, [])
    assert asked(gate, scope_of("/_stcore/stream", kind="websocket", headers=BREWER)).reached


@pytest.mark.parametrize(
    ("sent", "kept"),
    [
        ("streamlit", "streamlit"),
        ("streamlit, token, 1f2e-earlier", "streamlit, token"),
        ("streamlit,, 1f2e-earlier,more", "streamlit,"),
    ],
)
def test_a_brewer_never_goes_on_with_an_earlier_session(sent, kept):
    """It might be the leader's, whose buttons act before a page asks whose ticket this is."""
    headers = BREWER | {"sec-websocket-protocol": sent}
    got = asked(gate, scope_of("/_stcore/stream", kind="websocket", headers=headers))
    assert dict(got.reached[0]["headers"])[b"sec-websocket-protocol"] == kept.encode()
    leader = {"cookie": f"{TICKET_COOKIE}=leader", "sec-websocket-protocol": sent}
    got = asked(gate, scope_of("/_stcore/stream", kind="websocket", headers=leader))
    assert dict(got.reached[0]["headers"])[b"sec-websocket-protocol"] == sent.encode()


def test_protocols_in_several_headers_count_as_one_list():
    headers = [
        ("cookie", f"{TICKET_COOKIE}=brewer"),
        ("sec-websocket-protocol", "streamlit"),
        ("sec-websocket-protocol", "token, 1f2e-earlier"),
    ]
    got = asked(gate, scope_of("/_stcore/stream", kind="websocket", headers=headers))
    sent = b",".join(v for n, v in got.reached[0]["headers"] if n == b"sec-websocket-protocol")
    assert sent == b"streamlit,token"


def test_a_brewers_live_page_ends_with_its_ticket():
    tickets, heard = {"brewer"}, []

    async def page(scope, receive, send):
        heard.append((await receive())["type"])
        tickets.clear()
        heard.append((await receive())["type"])

    async def receive():
        return {"type": "websocket.receive", "bytes": b"rerun"}

    layer = Gate(page, lambda _: False, Refusals(), lambda ticket: ticket in tickets)
    run(layer(scope_of("/_stcore/stream", kind="websocket", headers=BREWER), receive, None))
    assert heard == ["websocket.receive", "websocket.disconnect"]
