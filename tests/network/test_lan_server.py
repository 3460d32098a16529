"""The real server as it stands on a network, asked over plain sockets."""

import json
import signal
import socket
import subprocess
import sys
from urllib.parse import urlencode

import pytest
from lan_served import HOST, PASSPHRASE, served

HTML = {"Accept": "text/html"}

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="only there is 127.0.0.2 ours too")


@pytest.fixture(scope="module")
def lan(tmp_path_factory):
    """One server for all of these; nobody is signed in."""
    with served(tmp_path_factory.mktemp("lan")) as found:
        yield found


@pytest.fixture
def stranger(lan):
    """Somebody in the network without a ticket."""
    return lan.signed_out()


@pytest.fixture
def leader(lan):
    """Somebody who typed the passphrase."""
    found = lan.signed_out()
    found.sign_in()
    return found


def test_the_terminal_says_who_reaches_what(lan):
    said = lan.log.read_text()
    assert f"http://{lan.named}/reach" in said
    assert "ask for the passphrase" in said
    assert "Plain http" in said
    assert PASSPHRASE not in said


def test_pages_lead_to_the_door_and_the_passphrase_leads_on(stranger):
    status, headers, body = stranger.ask("GET", "/record?who=1", **HTML)
    assert (status, headers["location"]) == (303, "/door?to=%2Frecord%3Fwho%3D1")
    assert b"streamlit" not in body.lower()
    assert stranger.ask("GET", headers["location"])[0] == 200
    stranger.sign_in()
    status, _, body = stranger.ask("GET", "/record?who=1", **HTML)
    assert status == 200
    assert b"<title>" in body


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/media/5f1b.pdf"),
        ("GET", "/_stcore/host-config"),
        ("GET", "/_stcore/metrics"),
        ("GET", "/_stcore/script-health-check"),
        ("GET", "/static/js/index.js"),
        ("GET", "/component/x/index.js"),
        ("PUT", "/_stcore/upload_file/a/b"),
        ("DELETE", "/_stcore/upload_file/a/b"),
        ("POST", "/_stcore/agent"),
        ("GET", "/record"),
    ],
)
def test_what_pages_are_made_of_is_refused(stranger, method, path):
    assert stranger.ask(method, path)[0] == 401


@pytest.mark.parametrize(
    "path", ["/b/../record", "/b/%2e%2e/record", "//record", "/b%2fx", "/b/x/.."]
)
def test_no_trick_with_an_address_gets_past_the_gate(stranger, path):
    said = stranger.said(f"GET {path} HTTP/1.1\r\nHost: {stranger.named}\r\n\r\n")
    assert said.startswith("HTTP/1.1 400")


def test_ballots_are_open_and_tell_nothing_without_a_link(stranger):
    pages = [stranger.ask("GET", f"/b/{secret}") for secret in ("x" * 22, "y", "x" * 22 + "/3/4")]
    assert [status for status, _, _ in pages] == [404, 404, 404]
    assert len({body for _, _, body in pages}) == 1
    for name in ("content-security-policy", "referrer-policy", "cache-control", "x-frame-options"):
        assert len(pages[0][1].get_all(name)) == 1
    assert stranger.ask("GET", "/reach")[0] == 200
    assert stranger.ask("GET", "/fonts/asap-latin-wght-normal.woff2")[0] == 200
    assert stranger.ask("GET", "/_stcore/health")[2] == b"ok"


def test_a_live_page_needs_the_ticket(stranger, leader):
    assert stranger.upgrade().startswith("HTTP/1.1 403")
    assert stranger.upgrade("/b/_stcore/stream").startswith("HTTP/1.1 403")
    own = {"Cookie": leader.cookie, "Origin": f"http://{leader.named}"}
    assert leader.upgrade(**own).startswith("HTTP/1.1 101")
    assert leader.upgrade(**own | {"Origin": "http://evil.example"}).startswith("HTTP/1.1 403")
    assert leader.upgrade(**own | {"Origin": "null"}).startswith("HTTP/1.1 403")
    assert leader.upgrade(host="evil.example", **own).startswith("HTTP/1.1 40")
    forged = own | {"Cookie": leader.cookie[:-1] + ("0" if leader.cookie[-1] != "0" else "1")}
    assert leader.upgrade(**forged).startswith("HTTP/1.1 403")


def test_strange_hosts_and_origins_are_refused(leader):
    assert leader.ask("GET", "/reach", Host="evil.example")[0] == 400
    assert leader.ask("GET", "/reach", Host=f"evil.example:{leader.port}")[0] == 400
    assert leader.ask("POST", "/door", "", Origin="http://evil.example")[0] == 403
    assert leader.ask("POST", "/door/leave", "", Sec_Fetch_Site="cross-site")[0] == 403


def test_a_file_goes_through_for_the_leader_and_nobody_is_asked_whose_address_this_is(leader):
    """The upload of somebody without a session is refused by the frame, which looks at its origin."""
    own = f"http://{leader.named}"
    status, headers, _ = leader.ask("PUT", "/_stcore/upload_file/a/b", b"x" * 40_000, Origin=own)
    assert status not in (401, 408, 413)
    assert "access-control-allow-origin" not in headers
    with pytest.raises(BlockingIOError, match="unavailable"):
        leader.outside.accept()


def test_five_megabytes_are_refused_without_being_read(stranger):
    head = f"POST /b/x/1 HTTP/1.1\r\nHost: {stranger.named}\r\nContent-Length: 5242880\r\n\r\n"
    assert stranger.said(head).startswith("HTTP/1.1 413")
    chunked = f"POST /door HTTP/1.1\r\nHost: {stranger.named}\r\nTransfer-Encoding: chunked\r\n\r\n"
    piece = f"1000\r\n{'a' * 4_096}\r\n"
    assert stranger.said(chunked + piece * 8).startswith("HTTP/1.1 413")


def test_what_is_no_http_in_the_middle_of_a_form_ends_the_connection(stranger):
    head = f"POST /b/x/1 HTTP/1.1\r\nHost: {stranger.named}\r\nTransfer-Encoding: chunked\r\n\r\n"
    with stranger.raw(head + "5\r\nhello\r\nno chunk\r\n") as line:
        assert _ended(line)
    assert stranger.said("no request at all\r\n\r\n").startswith("HTTP/1.1 400")


def test_what_never_comes_is_cut_off_and_others_are_answered_meanwhile(stranger):
    """A form that stalls, and 300 connections over which no whole request comes."""
    head = f"POST /b/x/1 HTTP/1.1\r\nHost: {stranger.named}\r\nContent-Length: 100\r\n\r\nwhat="
    half = "GET /b/x HTTP/1.1\r\nHost: "
    opened = [socket.create_connection((HOST, stranger.port), timeout=30) for _ in range(300)]
    try:
        for line in opened:
            try:
                line.sendall(half.encode())
            except OSError:
                continue  # one too many of one machine
        with stranger.raw(head) as stalled:
            assert stranger.ask("GET", "/reach")[0] == 200
            assert stalled.recv(4_096).startswith(b"HTTP/1.1 408")
            assert stalled.recv(4_096) in (b"", b"What was to be sent did not arrive in time.")
        assert all(_ended(line) for line in opened)
    finally:
        for line in opened:
            line.close()
    assert stranger.ask("GET", "/reach")[0] == 200


def _ended(line):
    try:
        return line.recv(1) == b""
    except ConnectionError:
        return True


def test_wrong_passphrases_are_slowed_down(stranger):
    form = urlencode({"passphrase": "wrong wrong wrong"})
    statuses = [stranger.ask("POST", "/door", form)[0] for _ in range(7)]
    assert statuses == [403] * 5 + [429] * 2


def called(folder, *words):
    """A command of another terminal, called in a folder of its own."""
    return subprocess.run(
        [sys.executable, "-m", "seatworthy.cli", *words],
        cwd=folder, capture_output=True, text=True, check=False,
    )  # fmt: skip


def test_commands_of_another_terminal_are_done_where_the_pages_are_open(lan, tmp_path):
    store = ("--store", str(lan.log.parent / "panel.duckdb"))
    assert called(tmp_path, "template", "results.csv").returncode == 0
    brought = called(tmp_path, "import", "results.csv", "--new", "*", *store)
    assert (brought.returncode, brought.stderr) == (0, "")
    assert brought.stdout.startswith("results.csv: ")
    kept = called(tmp_path, "backup", "kept.duckdb", *store)
    assert (kept.returncode, kept.stderr) == (0, "")
    assert (tmp_path / "kept.duckdb").is_file()
    again = called(tmp_path, "open", "--lan", "--no-browser", *store)
    assert again.returncode == 0
    assert f"open already, at http://{lan.named}" in again.stdout
    assert "Traceback" not in lan.log.read_text()


def test_no_machine_but_this_one_reaches_what_takes_commands(lan):
    note = json.loads((lan.log.parent / "panel.duckdb.open").read_text())
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection((HOST, note["port"]), timeout=5)


def test_ctrl_c_stops_it_cleanly_and_frees_the_store(lan):
    lan.process.send_signal(signal.SIGINT)
    assert lan.process.wait(15) in (0, 130)
    said = lan.log.read_text()
    assert "Traceback" not in said
    assert "/b/x" not in said
    assert not list(lan.log.parent.glob("*.open*"))
    done = called(lan.log.parent, "history", "--format", "json")
    assert done.returncode == 0
    assert json.loads(done.stdout)
    assert PASSPHRASE not in done.stdout
