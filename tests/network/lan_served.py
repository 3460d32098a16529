"""A real server on a network's address, asked over plain sockets."""

import os
import socket
import ssl
import subprocess
import sys
import time
from contextlib import contextmanager
from http.client import HTTPConnection, HTTPSConnection
from urllib.parse import urlencode

import pytest

HOST = "127.0.0.2"  # like a network's address: not among those the framework knows for its own
PASSPHRASE = "barley wine in winter"


class Lan:
    """A server on one address, and a browser that may be signed in.

    Attributes:
        process: The server's.
        outside: Listens where a request that left the machine would have to pass.
        log: What it says in its terminal.
        cookie: What the browser keeps of the door; "" for nothing.
        named: How a request calls the server.
    """

    def __init__(self, process, port, log, outside, tls=None):
        self.process, self.port, self.log, self.outside = process, port, log, outside
        self.cookie, self.named, self._tls = "", f"{HOST}:{port}", tls

    def ask(self, method, path, body=None, **headers):
        """One request: status, headers, body."""
        if self._tls is None:
            connection = HTTPConnection(HOST, self.port, timeout=20)
        else:
            connection = HTTPSConnection(HOST, self.port, timeout=20, context=self._tls)
        sent = {name.replace("_", "-"): value for name, value in headers.items()}
        if self.cookie and "Cookie" not in sent:
            sent["Cookie"] = self.cookie
        try:
            connection.request(method, path, body, sent)
            answer = connection.getresponse()
            return answer.status, answer.headers, answer.read()
        finally:
            connection.close()

    def sign_in(self):
        """Type the passphrase; what the browser is told to keep."""
        form = urlencode({"passphrase": PASSPHRASE, "to": "/record"})
        status, headers, _ = self.ask(
            "POST", "/door", form, **{"Content-Type": "application/x-www-form-urlencoded"}
        )
        assert (status, headers["location"]) == (303, "/record")
        self.cookie = headers["set-cookie"].partition(";")[0]
        return headers["set-cookie"]

    def signed_out(self):
        """The same server, and a browser that keeps nothing."""
        return Lan(self.process, self.port, self.log, self.outside, self._tls)

    @contextmanager
    def raw(self, request):
        """A connection over which something was sent as it is."""
        line = socket.create_connection((HOST, self.port), timeout=25)
        if self._tls is not None:
            line = self._tls.wrap_socket(line, server_hostname=HOST)
        with line:
            line.sendall(request.encode("latin-1"))
            yield line

    def said(self, request):
        """The first line of what comes back."""
        with self.raw(request) as line:
            return line.recv(4_096).decode("latin-1").partition("\r\n")[0]

    def upgrade(self, path="/_stcore/stream", host=None, **headers):
        """The first line of what comes back to somebody who wants a live page."""
        named = {
            "Host": host or self.named, "Upgrade": "websocket", "Connection": "Upgrade",
            "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==", "Sec-WebSocket-Version": "13",
            "Sec-WebSocket-Protocol": "streamlit", **headers,
        }  # fmt: skip
        lines = "".join(f"{name}: {value}\r\n" for name, value in named.items())
        return self.said(f"GET {path} HTTP/1.1\r\n{lines}\r\n")


@contextmanager
def served(folder, *words, tls=None):
    """The server, started as a leader starts it; nobody is signed in."""
    with socket.socket() as free:
        free.bind((HOST, 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "seatworthy.cli", "open", "--lan", "--no-browser"]
    command += ["--address", HOST, "--port", str(port), *words]
    with socket.create_server(("127.0.0.1", 0)) as outside, (folder / "log").open("w") as log:
        outside.setblocking(False)
        by_way = f"http://127.0.0.1:{outside.getsockname()[1]}"
        around = {"http_proxy": by_way, "https_proxy": by_way, "no_proxy": ""}
        with subprocess.Popen(
            command, cwd=folder, stdin=subprocess.PIPE, stdout=log, stderr=subprocess.STDOUT,
            text=True, env={**os.environ, **around, "PYTHONUNBUFFERED": "1"},
        ) as process:  # fmt: skip
            process.stdin.write(f"{PASSPHRASE}\n")
            process.stdin.close()
            found = Lan(process, port, folder / "log", outside, tls)
            try:
                _wait_until_healthy(found)
                yield found
            finally:
                process.terminate()


def trusting(cert):
    """A client that takes this certificate and no other."""
    found = ssl.create_default_context(cafile=cert)
    found.verify_flags |= ssl.VERIFY_X509_PARTIAL_CHAIN
    return found


def _wait_until_healthy(found):
    for _ in range(300):
        if found.process.poll() is not None:
            pytest.fail(found.log.read_text())
        try:
            if found.ask("GET", "/_stcore/health")[0] == 200:
                return
        except OSError:
            time.sleep(0.1)
    pytest.fail(found.log.read_text())
