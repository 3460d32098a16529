import tomllib
from importlib.resources import files
from pathlib import Path

import pytest

from seatworthy.charts.palette import COLOURS
from seatworthy.network.headers import SecurityHeaders, content_policy
from seatworthy.network.origins import OwnOrigins
from seatworthy.network.refusals import Refusals
from seatworthy.pages.look import style_sheet

CONFIG = Path(__file__).parents[2] / ".streamlit" / "config.toml"


def config():
    return tomllib.loads(CONFIG.read_text(encoding="utf-8"))


def headers_of(answer, own=()):
    sent = []

    async def server(scope, receive, send):
        await send({"type": "http.response.start", "status": 200, "headers": list(own)})
        await send({"type": "http.response.body", "body": answer})

    async def send(message):
        sent.append(message)

    # Nothing in here waits, so one step finishes it; a browser test's event loop may be running.
    with pytest.raises(StopIteration, match="^$"):
        SecurityHeaders(server)({"type": "http"}, None, send).send(None)
    assert sent[1]["body"] == answer
    named = [name.lower() for name, _ in sent[0]["headers"]]
    assert sorted(named) == sorted(set(named))
    return {name.decode().lower(): value.decode() for name, value in sent[0]["headers"]}


def test_every_answer_carries_the_headers():
    headers = headers_of(b"hello")
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["x-frame-options"] == "DENY"
    assert headers["referrer-policy"] == "no-referrer"
    assert "frame-ancestors 'none'" in headers["content-security-policy"]


def test_an_answer_that_says_a_header_itself_keeps_its_own():
    own = [
        (b"Content-Security-Policy", b"default-src 'none'"),
        (b"referrer-policy", b"same-origin"),
    ]
    headers = headers_of(b"hello", own)
    assert headers["content-security-policy"] == "default-src 'none'"
    assert headers["referrer-policy"] == "same-origin"
    assert headers["x-frame-options"] == "DENY"


@pytest.mark.parametrize(
    ("kind", "host", "origin", "passed"),
    [
        ("http", b"127.0.0.1:8501", None, True),
        ("http", b"127.0.0.1:8501", b"http://127.0.0.1:8501", True),
        ("websocket", b"localhost:8501", b"http://localhost:8501", True),
        ("websocket", b"192.0.2.20:8501", b"http://192.0.2.20:8501", True),
        ("websocket", b"127.0.0.1:8501", b"http://evil.example", False),
        ("http", b"127.0.0.1:8501", b"null", False),
        ("websocket", b"127.0.0.1:8501", b"http://127.0.0.1.evil.example", False),
        ("http", b"127.0.0.1:8501", b"http://127.0.0.1:9000", False),
        ("http", b"127.0.0.1:8501", b"https://127.0.0.1:8501", False),
        ("http", b"127.0.0.1:8501", b"http://localhost:8501", False),
        ("http", b"127.0.0.1:8501", b"", False),
    ],
)
def test_only_our_own_pages_may_ask(kind, host, origin, passed):
    reached, sent = [], []

    async def server(scope, receive, send):
        reached.append(scope)

    async def send(message):
        sent.append(message)

    headers = [(b"host", host), *([] if origin is None else [(b"origin", origin)])]
    scope = {"type": kind, "headers": headers}
    if kind == "websocket":
        scope["scheme"] = "ws"
    with pytest.raises(StopIteration, match="^$"):
        OwnOrigins(server, Refusals())(scope, None, send).send(None)
    assert bool(reached) is passed
    assert bool(sent) is not passed


def test_the_content_policy_names_no_other_machine():
    assert "http" not in content_policy()
    assert "*" not in content_policy()
    assert "'sha256-" in content_policy()


def test_every_font_of_the_config_lies_in_the_package_with_its_licence():
    shipped = {file.name for file in (files("seatworthy.pages") / "fonts").iterdir()}
    faces = config()["theme"]["fontFaces"]
    assert {face["url"].removeprefix("/fonts/") for face in faces} | {
        "asap-OFL.txt",
        "besley-OFL.txt",
    } == shipped


def test_config_and_charts_use_the_same_inks():
    names = {"backgroundColor": "paper", "textColor": "ink", "secondaryBackgroundColor": "sheet"}
    for shade, inks in COLOURS.items():
        theme = config()["theme"][shade]
        assert {key: theme[key] for key in names} == {key: inks[ink] for key, ink in names.items()}


def test_config_sends_nothing_out_and_shows_no_traceback():
    assert config()["browser"]["gatherUsageStats"] is False
    assert config()["client"]["showErrorDetails"] == "none"
    assert config()["server"]["address"] == "127.0.0.1"
    assert config()["runner"]["postScriptGC"] is False


def test_the_style_sheet_takes_nothing_from_elsewhere():
    sheet = style_sheet()
    assert "@import" not in sheet
    assert "http://www.w3.org" not in sheet.replace("http%3A//www.w3.org/2000/svg", "")
    assert "https" not in sheet
    assert sheet.count("{") == sheet.count("}")
