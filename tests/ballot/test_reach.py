import asyncio
import re
import string
import threading

import pytest
from starlette.applications import Starlette

from seatworthy.ballot.reach import reach_routes, reach_texts
from seatworthy.ballot.texts import LANGUAGES
from seatworthy.network.reaching import lan_addresses, remedies


def reached(language):
    """The page as a phone of that language gets it: status, headers, text."""
    sent = []

    async def receive():
        return {"type": "http.request", "body": b"", "more_body": False}

    async def send(message):
        sent.append(message)

    scope = {
        "type": "http", "method": "GET", "path": "/reach", "raw_path": b"/reach", "root_path": "",
        "query_string": b"", "scheme": "http", "http_version": "1.1", "server": ("127.0.0.1", 80),
        "client": ("192.0.2.7", 50_000), "headers": [(b"accept-language", language.encode())],
    }  # fmt: skip
    app = Starlette(routes=reach_routes())
    thread = threading.Thread(target=lambda: asyncio.run(app(scope, receive, send)))
    thread.start()
    thread.join()
    headers = {name.decode(): value.decode() for name, value in sent[0]["headers"]}
    return sent[0]["status"], headers, sent[1]["body"].decode()


@pytest.mark.parametrize(
    ("asked", "language", "words"),
    [
        ("en-GB,en;q=0.9", "en", "This phone reaches"),
        ("de-AT,de;q=0.9,en;q=0.5", "de", "Dieses Telefon erreicht"),
        ("es", "es", "Este teléfono llega al ordenador"),
        ("fr", "en", "This phone reaches"),
    ],
)
def test_a_phone_is_told_that_it_reaches_the_computer(asked, language, words):
    status, headers, text = reached(asked)
    assert status == 200
    assert f'<html lang="{language}">' in text
    assert words in text
    assert re.search(r"\d\d:\d\d:\d\d", text)
    assert headers["cache-control"] == "no-store"
    assert "<script" not in text


def test_every_language_says_the_same_things():
    def holes(text):
        return {name for _, name, _, _ in string.Formatter().parse(text) if name}

    english = reach_texts("en")
    for language in LANGUAGES:
        texts = reach_texts(language)
        assert texts.keys() == english.keys()
        assert all(holes(texts[key]) == holes(english[key]) for key in english)
        assert language == "en" or all(texts[key] != english[key] for key in english)


def test_three_remedies_are_told_with_the_port():
    found = remedies(8517)
    assert len(found) == 3
    assert "port 8517" in found[1].cause
    assert [step.partition(":")[0] for step in found[1].steps] == ["Windows", "macOS", "Linux"]
    assert all("{" not in words for one in found for words in (one.sign, one.cause, *one.steps))


def test_addresses_in_the_network_are_found_without_asking_anybody(monkeypatch):
    import socket

    class Unsent:
        """A datagram socket of a machine with one way out; whatever would send fails."""

        def __init__(self, *_):
            self.there = None

        def __enter__(self):
            return self

        def __exit__(self, *_):
            return None

        def connect(self, there):
            self.there = there

        def getsockname(self):
            assert self.there[0].startswith("192.0.2.")  # RFC 5737: for documentation, nobody's
            return "192.168.1.20", 1

    monkeypatch.setattr(socket, "socket", Unsent)
    named = [(2, 1, 6, "", (address, 0)) for address in ("127.0.1.1", "10.0.0.4", "192.168.1.20")]
    monkeypatch.setattr(socket, "getaddrinfo", lambda *_: named)
    assert lan_addresses() == ("192.168.1.20", "10.0.0.4")


def test_a_machine_without_a_network_has_none(monkeypatch):
    import socket

    def fail(*_):
        raise OSError

    monkeypatch.setattr(socket, "getaddrinfo", fail)
    monkeypatch.setattr(socket.socket, "connect", fail)
    assert lan_addresses() == ()
