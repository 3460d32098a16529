"""Who gets a command done where the store is open, and who does not."""

import shutil
import socket
import threading
import time
from contextlib import contextmanager

import pytest
from held_store import held, said

from seatworthy.commands import hatch, wire
from seatworthy.commands.errand import done_by_owner, owner_of
from seatworthy.commands.hatch import Hatch
from seatworthy.commands.note import Note, own_version, read_note
from seatworthy.errors import StoreError
from seatworthy.steps.history_lines import history_lines


@pytest.fixture
def store(tmp_path, stocked):
    path = tmp_path / "panel.duckdb"
    shutil.copyfile(stocked, path)
    return path


@pytest.fixture
def open_store(store):
    """A store that is held, and its note."""
    with held(store) as desk:
        yield desk, read_note(store)


def test_what_is_changed_through_the_pages_is_on_record_at_once(capsys, stocked, tmp_path):
    store = tmp_path / "panel.duckdb"
    shutil.copyfile(stocked, store)
    sheet = tmp_path / "results.csv"
    assert said(capsys, "template", sheet)[0] == 0
    with held(store) as desk:
        before = desk.version
        code, out, err = said(capsys, "import", sheet, "--store", store, "--new", "*")
        assert (code, err) == (0, "")
        assert "new on record" in out
        assert desk.version == before + 1
        assert history_lines(desk).lines
    code, out, _ = said(capsys, "verify", "--store", store)
    assert (code, "All is as it was sealed" in out) == (0, True)


class Caller:
    """Somebody who calls, and shows a secret or not."""

    def __init__(self, port):
        self.line = socket.create_connection(("127.0.0.1", port), timeout=5)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.line.close()

    def let_in(self, secret, call="c" * 64):
        """Greet, and show a secret."""
        wire.send(self.line, {"call": call})
        heard = wire.receive(self.line, wire.HELLO_BYTES, 5)
        assert wire.is_proof(heard["proof"], secret, "owner", call, heard["answer"]) in (
            True,
            False,
        )
        wire.send(self.line, {"proof": wire.proof(secret, "caller", call, heard["answer"])})
        return heard

    def ask(self, held, *words, **others):
        """Ask for a command; what comes back."""
        asked = {"words": list(words), "folder": str(held.parent), "version": own_version()}
        wire.send(self.line, {"store": str(held), **asked, **others})
        return wire.receive(self.line, wire.ANSWERED_BYTES, 30)

    def is_cut_off(self):
        """Whether nothing comes any more."""
        try:
            return self.line.recv(1) == b""
        except ConnectionError:
            return True


def test_who_knows_the_secret_is_answered(open_store):
    desk, note = open_store
    with Caller(note.port) as caller:
        caller.let_in(note.secret)
        assert caller.ask(desk.store.path, "people") == {"code": 0, "printed": []}
    assert owner_of(desk.store.path) == note


@pytest.mark.parametrize("secret", ["", "0" * 64, "a" * 63])
def test_a_wrong_secret_is_cut_off_without_a_word(open_store, secret):
    desk, note = open_store
    with Caller(note.port) as caller:
        caller.let_in(secret)
        assert caller.is_cut_off()
    assert desk.version == 1


def test_the_secret_of_an_earlier_run_opens_nothing(store):
    with held(store):
        earlier = read_note(store)
    with held(store):
        now = read_note(store)
        assert now.secret != earlier.secret
        with Caller(now.port) as caller:
            caller.let_in(earlier.secret)
            assert caller.is_cut_off()


def test_a_proof_that_was_overheard_serves_nobody_a_second_time(open_store):
    _, note = open_store
    call = "c" * 64
    with Caller(note.port) as first:
        heard = first.let_in(note.secret, call)
    with Caller(note.port) as second:
        wire.send(second.line, {"call": call})
        again = wire.receive(second.line, wire.HELLO_BYTES, 5)
        assert again["answer"] != heard["answer"]
        wire.send(second.line, {"proof": wire.proof(note.secret, "caller", call, heard["answer"])})
        assert second.is_cut_off()


def test_what_the_owner_showed_does_not_serve_a_caller(open_store):
    _, note = open_store
    with Caller(note.port) as caller:
        wire.send(caller.line, {"call": "c" * 64})
        heard = wire.receive(caller.line, wire.HELLO_BYTES, 5)
        wire.send(caller.line, {"proof": heard["proof"]})
        assert caller.is_cut_off()


@pytest.mark.parametrize("method", ["GET", "POST"])
def test_a_browser_gets_no_word_out_of_it(open_store, method):
    desk, note = open_store
    lines = [f"{method} / HTTP/1.1", f"Host: 127.0.0.1:{note.port}", "Origin: http://evil.example"]
    with Caller(note.port) as caller:
        caller.line.sendall("\r\n".join([*lines, "", '{"words": ["people"]}']).encode())
        assert caller.is_cut_off()
    assert desk.version == 1


@pytest.mark.parametrize(
    "sent",
    [
        b"\xff\xff\xff\xff" + b"x" * 100,
        b"\x00\x00\x04\x01" + b"x" * 1_025,
        b"\x00\x00\x00\x02[]",
        b"\x00\x00\x00\x02{}",
        b'\x00\x00\x00\x0b{"call": 1 }',
        b"\x00\x00\x00\x04\xff\xfe\xfd\xfc",
        b"\x00\x00\x03\xe8" + b"[" * 1_000,
    ],
)
def test_what_is_no_greeting_is_cut_off(open_store, sent):
    _, note = open_store
    with Caller(note.port) as caller:
        caller.line.sendall(sent)
        assert caller.is_cut_off()
    assert owner_of(open_store[0].store.path) == note


@pytest.mark.parametrize(
    "others",
    [
        {"words": "people"},
        {"words": [1]},
        {"words": ["people", None]},
        {"folder": None},
        {"store": 5},
        {"version": []},
        {"words": ["people"] * 80_000},
    ],
)
def test_what_is_asked_in_another_way_is_cut_off(open_store, others):
    desk, note = open_store
    with Caller(note.port) as caller:
        caller.let_in(note.secret)
        with pytest.raises((wire.WireError, TimeoutError)):
            caller.ask(desk.store.path, "people", **others)


def test_who_names_another_store_is_told_nothing(open_store, tmp_path):
    desk, note = open_store
    with Caller(note.port) as caller:
        caller.let_in(note.secret)
        assert caller.ask(tmp_path / "other.duckdb", "people") == {"is_other_store": True}
    with Caller(note.port) as caller:  # the words may name another; the one that is held is meant
        caller.let_in(note.secret)
        said_by = caller.ask(desk.store.path, "people", "--store", str(tmp_path / "other.duckdb"))
        assert said_by == {"code": 0, "printed": []}
    assert not (tmp_path / "other.duckdb").exists()


@pytest.mark.parametrize("command", ["open", "demo", "restore"])
def test_what_needs_the_store_alone_is_not_done_there(open_store, command):
    desk, note = open_store
    words = ["x.duckdb"] if command == "restore" else []
    with Caller(note.port) as caller:
        caller.let_in(note.secret)
        heard = caller.ask(desk.store.path, command, *words)
    assert heard["code"] == 2
    assert "can't be done where the store is open" in heard["printed"][0][1]


def test_another_version_is_refused_in_words(open_store):
    desk, note = open_store
    with Caller(note.port) as caller:
        caller.let_in(note.secret)
        heard = caller.ask(desk.store.path, "people", version="9.9")
    assert "and this is Seatworthy 9.9. Stop it where it runs" in heard["refused"]


def test_control_characters_and_strange_letters_arrive_as_they_are(open_store):
    desk, note = open_store
    words = ["words", "\x1b[31m\n\r\tred \udcff", "nonsense"]
    with Caller(note.port) as caller:
        caller.let_in(note.secret)
        heard = caller.ask(desk.store.path, *words)
    assert heard["code"] == 1
    assert desk.version == 1


def test_words_that_are_not_understood_get_their_sentence(open_store):
    desk, note = open_store
    with Caller(note.port) as caller:
        caller.let_in(note.secret)
        heard = caller.ask(desk.store.path, "people", "--no-such-word")
    assert heard["code"] == 2
    assert "unrecognized arguments: --no-such-word" in heard["printed"][0][1]


def test_two_at_once_are_done_one_after_the_other(desk):
    running, seen = [], []

    def run(words):
        running.append(words)
        seen.append(len(running))
        time.sleep(0.1)
        running.remove(words)
        return int(words[0])

    with serving(desk, run) as note:
        codes = at_once(lambda n: done_by_owner(note, desk.store.path, [str(n)]), range(4))
    assert (codes, seen) == ([0, 1, 2, 3], [1, 1, 1, 1])


def test_who_waits_too_long_is_told(desk, monkeypatch):
    monkeypatch.setattr(hatch, "WAITS_S", 0.05)
    begun, may_end = threading.Event(), threading.Event()

    def run(_):
        begun.set()
        return 0 if may_end.wait(20) else 1

    with serving(desk, run) as note:
        first = threading.Thread(target=done_by_owner, args=(note, desk.store.path, ["verify"]))
        first.start()
        begun.wait(20)
        with pytest.raises(StoreError, match="Another command is at work"):
            done_by_owner(note, desk.store.path, ["people"])
        may_end.set()
        first.join()


def test_what_other_threads_print_meanwhile_is_not_handed_over(desk, capsys):
    def run(_):
        thread = threading.Thread(target=print, args=("of the pages",))
        thread.start()
        thread.join()
        print("of the command")
        return 0

    with serving(desk, run) as note, Caller(note.port) as caller:
        caller.let_in(note.secret)
        heard = caller.ask(desk.store.path, "x")
    assert heard["printed"] == [["out", "of the command\n"]]
    assert capsys.readouterr().out == "of the pages\n"


def test_closing_waits_for_what_is_being_done(desk):
    begun = threading.Event()

    def run(_):
        begun.set()
        time.sleep(0.2)
        return 5

    codes = []
    with serving(desk, run) as note:
        asking = threading.Thread(
            target=lambda: codes.append(done_by_owner(note, desk.store.path, ["verify"]))
        )
        asking.start()
        begun.wait(20)
    asking.join()
    assert codes == [5]
    assert owner_of(desk.store.path) is None


def test_a_command_that_is_cut_off_says_what_cannot_be_known(desk, monkeypatch):
    def gone(*_):
        raise wire.WireError

    monkeypatch.setattr(Hatch, "_do", gone)  # as if the process were killed
    with (
        serving(desk, lambda _: 0) as note,
        pytest.raises(StoreError, match="Whether “import” was done can't be told from here"),
    ):
        done_by_owner(note, desk.store.path, ["import", "x.csv"])


def test_many_callers_who_say_nothing_keep_nobody_out_for_long(desk, monkeypatch):
    monkeypatch.setattr(hatch, "HELLO_S", 0.3)
    with serving(desk, lambda _: 0) as note:
        silent = [socket.create_connection(("127.0.0.1", note.port)) for _ in range(20)]
        assert all(line.recv(1) == b"" for line in silent)
        assert done_by_owner(note, desk.store.path, ["people"]) == 0
        for line in silent:
            line.close()


def test_nobody_who_took_over_the_port_hears_what_is_asked(store):
    """A crash left the note; another program listens there since."""
    heard = []
    with held(store):
        note = read_note(store)
    with socket.create_server(("127.0.0.1", 0)) as other:
        other.settimeout(10)

        def answer():
            line, _ = other.accept()
            with line:
                heard.append(wire.receive(line, wire.HELLO_BYTES, 5))
                wire.send(line, {"answer": "x", "proof": "y" * 64})
                heard.append(line.recv(1))

        listening = threading.Thread(target=answer)
        listening.start()
        stale = type(note)(**{**vars(note), "port": other.getsockname()[1]})
        with pytest.raises(StoreError, match="cut off before it answered"):
            done_by_owner(stale, store, ["pin", "Ada"])
        listening.join()
    assert list(heard[0]) == ["call"]
    assert heard[1] == b""


def test_it_listens_on_this_machine_alone(desk):
    with serving(desk, lambda _: 0) as note:
        for other in ("127.0.0.2", "::1"):
            family = socket.AF_INET6 if ":" in other else socket.AF_INET
            with (
                socket.socket(family) as line,
                pytest.raises(OSError, match="refused|unreachable|assign"),
            ):
                line.connect((other, note.port))


@contextmanager
def serving(desk, run):
    """A hatch before a desk, and a note that leads to it."""
    taken = Hatch(desk, run)
    try:
        yield Note.of_this_process("http://x", taken.port, taken.secret, is_lan=False)
    finally:
        taken.close()


def at_once(do, given):
    found = {}
    threads = [threading.Thread(target=lambda n=n: found.update({n: do(n)})) for n in given]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return [found[n] for n in given]
