import tomllib
from importlib.resources import files
from pathlib import Path

import pytest

from seatworthy.charts.palette import COLOURS
from seatworthy.pages.look import style_sheet
from seatworthy.pages.shield import OwnOrigins, SecurityHeaders, content_policy

CONFIG = Path(__file__).parents[2] / ".streamlit" / "config.toml"


def config():
    return tomllib.loads(CONFIG.read_text(encoding="utf-8"))


def headers_of(answer):
    sent = []

    async def server(scope, receive, send):
        await send({"type": "http.response.start", "status": 200, "headers": []})
        await send({"type": "http.response.body", "body": answer})

    async def send(message):
        sent.append(message)

    # Nothing in here waits, so one step finishes it; a browser test's event loop may be running.
    with pytest.raises(StopIteration, match="^$"):
        SecurityHeaders(server)({"type": "http"}, None, send).send(None)
    assert sent[1]["body"] == answer
    return {name.decode(): value.decode() for name, value in sent[0]["headers"]}


def test_every_answer_carries_the_headers():
    headers = headers_of(b"hello")
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["x-frame-options"] == "DENY"
    assert headers["referrer-policy"] == "no-referrer"
    assert "frame-ancestors 'none'" in headers["content-security-policy"]


@pytest.mark.parametrize(
    ("kind", "origin", "passed"),
    [
        ("http", None, True),
        ("http", b"http://127.0.0.1:8501", True),
        ("websocket", b"http://localhost:8501", True),
        ("websocket", b"http://evil.example", False),
        ("http", b"null", False),
        ("websocket", b"http://127.0.0.1.evil.example", False),
    ],
)
def test_only_our_own_pages_may_ask(kind, origin, passed):
    reached, sent = [], []

    async def server(scope, receive, send):
        reached.append(scope)

    async def send(message):
        sent.append(message)

    headers = [] if origin is None else [(b"origin", origin)]
    with pytest.raises(StopIteration, match="^$"):
        OwnOrigins(server)({"type": kind, "headers": headers}, None, send).send(None)
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
