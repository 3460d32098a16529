"""The note beside an open store: written, believed, outlived; and who holds a store, in words."""

import json
import os
import subprocess
import sys
from dataclasses import asdict, replace
from datetime import UTC, datetime, timedelta

import pytest
from held_store import held, said

from seatworthy.commands import explaining, note
from seatworthy.commands.errand import owner_of
from seatworthy.commands.explaining import check_free, explained, since_words
from seatworthy.commands.note import KeptNote, Note, is_locked, note_path, read_note
from seatworthy.commands.processes import running_process
from seatworthy.errors import StoreBusy
from seatworthy.steps.places import is_on_network

ON_POSIX = pytest.mark.skipif(os.name == "nt", reason="Windows keeps others out by itself")


@pytest.fixture
def store(tmp_path, stocked):
    path = tmp_path / "panel.duckdb"
    path.write_bytes(stocked.read_bytes())
    return path


@pytest.fixture
def own():
    return Note.of_this_process("http://127.0.0.1:8501", 9, "ab" * 32, is_lan=False)


def test_a_note_lies_there_as_long_as_the_store_is_open_and_tells_nobody_else(store):
    with held(store):
        found = read_note(store)
        assert found.process == os.getpid()
        assert found.is_of_this_machine
        if os.name != "nt":
            assert note_path(store).stat().st_mode & 0o777 == 0o600
    assert sorted(path.name for path in store.parent.iterdir()) == ["panel.duckdb"]


@ON_POSIX
def test_a_note_is_locked_until_it_is_taken_away_or_its_process_ends(store, own):
    kept = KeptNote(store, own)
    assert is_locked(store)
    with pytest.raises(StoreBusy, match=rf"another process \(number {os.getpid()}\)"):
        check_free(store)
    kept.take_away()
    assert not is_locked(store)
    end = "import sys, os; from pathlib import Path; from seatworthy.commands.note import *;" \
        "k = KeptNote(Path(sys.argv[1]), Note.of_this_process('x', 9, 'ab', is_lan=False)); os._exit(9)"  # fmt: skip
    subprocess.run([sys.executable, "-c", end, str(store)], check=False)
    assert read_note(store) is not None
    assert not is_locked(store)
    check_free(store)


def test_a_note_that_somebody_else_wrote_since_stays(store, own):
    kept = KeptNote(store, own)
    other = replace(own, secret="cd" * 32)
    note_path(store).write_text(json.dumps(asdict(other)), encoding="utf-8")
    kept.take_away()
    assert read_note(store) == other


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "{}", "null", '{"process": 1}', "\udcff", "x" * 5_000],
)
def test_what_is_no_note_is_none(store, text):
    note_path(store).write_bytes(text.encode("utf-8", "surrogateescape"))
    assert read_note(store) is None
    check_free(store)


@pytest.mark.parametrize(
    "wrong",
    [{"process": "1"}, {"port": True}, {"is_lan": 1}, {"opened_at": "soon"}, {"secret": None}],
)
def test_a_note_with_something_wrong_in_it_is_none(store, own, wrong):
    note_path(store).write_text(json.dumps(asdict(own) | wrong), encoding="utf-8")
    assert read_note(store) is None


@ON_POSIX
def test_a_note_that_leads_elsewhere_is_not_believed(store, own, tmp_path, monkeypatch):
    (tmp_path / "far").write_text(json.dumps(asdict(own)), encoding="utf-8")
    note_path(store).symlink_to(tmp_path / "far")
    assert read_note(store) is None
    note_path(store).unlink()
    note_path(store).write_text(json.dumps(asdict(own)), encoding="utf-8")
    assert read_note(store) == own
    monkeypatch.setattr(os, "geteuid", lambda: 4_294_967)
    assert read_note(store) == own  # of whom the store is
    store.unlink()
    assert read_note(store) is None


def test_a_note_that_a_crash_left_is_in_nobodys_way(capsys, store, own):
    note_path(store).write_text(json.dumps(asdict(own)), encoding="utf-8")
    assert owner_of(store) is None
    assert said(capsys, "people", "--store", store) == (0, "", "")
    with held(store):
        assert read_note(store) != own
    assert not note_path(store).exists()


def test_a_port_that_is_none_is_nobody(store, own):
    for port in (0, 70_000, -1):
        note_path(store).write_text(json.dumps(asdict(replace(own, port=port))), encoding="utf-8")
        assert owner_of(store) is None


def test_another_machines_note_counts_on_a_drive_of_the_network_alone(
    capsys, store, own, monkeypatch
):
    far = replace(own, machine="cellar\x1b[2J", machine_key="0" * 12)
    note_path(store).write_text(json.dumps(asdict(far)), encoding="utf-8")
    assert not is_on_network(store)
    assert said(capsys, "people", "--store", store)[0] == 0
    monkeypatch.setattr(explaining, "is_on_network", lambda _: True)
    code, out, err = said(capsys, "people", "--store", store)
    assert (code, out) == (2, "")
    assert r"another machine, cellar\x1b[2J, since" in err
    assert "delete the note panel.duckdb.open (that one alone, never panel.duckdb.wal)" in err


def test_a_machine_that_changed_its_name_is_known(own, monkeypatch):
    monkeypatch.setattr(note.platform, "node", lambda: "renamed")
    assert own.is_of_this_machine
    monkeypatch.setattr(note, "machine_key", lambda: "1" * 12)
    assert not own.is_of_this_machine


def test_where_no_note_can_be_written_the_pages_open_all_the_same(capsys, store, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("seatworthy.commands.owning.KeptNote", full)
    with held(store):
        pass
    assert "other commands must wait until these pages are closed" in capsys.readouterr().err


@pytest.mark.skipif(sys.platform != "linux", reason="other systems tell less")
def test_another_program_that_holds_the_store_is_named(store):
    hold = "import sys, duckdb; c = duckdb.connect(sys.argv[1]); print(1, flush=True); sys.stdin.read()"
    command = [sys.executable, "-c", hold, str(store)]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as holder:
        holder.stdout.readline()
        done = subprocess.run(
            [sys.executable, "-m", "seatworthy.cli", "people", "--store", str(store)],
            capture_output=True, text=True, check=False,
        )  # fmt: skip
        holder.communicate("")
    assert done.returncode == 2
    assert f"is open in another process (number {holder.pid}: python" in done.stderr
    assert ", since " in done.stderr
    assert "panel.duckdb.wal must not be" in done.stderr
    assert "Nothing was changed." in done.stderr


def test_a_holder_that_the_system_does_not_name_is_said_so(store):
    found = explained(StoreBusy("?", store), "people", is_alone=False)
    assert "the system doesn't say which; perhaps on another machine" in str(found)
    sentence = StoreBusy("as it is")
    assert explained(sentence, "people", is_alone=False) is sentence


def test_an_owner_that_does_not_answer_is_said_so(store, own):
    note_path(store).write_text(json.dumps(asdict(own)), encoding="utf-8")
    found = str(explained(StoreBusy("?", store, own.process), "people", is_alone=False))
    assert f"number {os.getpid()}: Seatworthy, at http://127.0.0.1:8501, since" in found
    assert f"It doesn't answer. If it is just being closed, say this again in a moment; if it hangs, end process {os.getpid()}." in found  # fmt: skip


@pytest.mark.parametrize(
    ("cmdline", "name"),
    [
        (b"/usr/bin/python3\0/opt/venv/bin/seatworthy\0open\0--lan\0", "seatworthy open"),
        (b"python3\0-m\0seatworthy.cli\0demo\0", "seatworthy demo"),
        (b"/usr/bin/python3\0/home/x/count.py\0--pin\0001234\0", "python3 count.py"),
        (b"/usr/bin/dbtool\0-readonly\0", "dbtool"),
        (b"evil\x1b[2J\0", "evil?[2J"),
        (b"", ""),
    ],
)
def test_a_process_is_named_in_a_few_words(tmp_path, cmdline, name):
    folder = tmp_path / "77"
    folder.mkdir()
    (folder / "cmdline").write_bytes(cmdline)
    (folder / "stat").write_text("77 (a) b) S " + " ".join("5" for _ in range(40)))
    (tmp_path / "stat").write_text("cpu 1\nbtime 1700000000\n")
    found = running_process(77, tmp_path)
    assert found.name == name
    if hasattr(os, "sysconf"):
        assert abs(found.started_at - datetime(2023, 11, 14, 22, 13, 20, tzinfo=UTC)) < timedelta(1)
    (folder / "stat").write_text("odd")
    assert running_process(77, tmp_path).started_at is None
    assert running_process(78, tmp_path) is None


def test_a_moment_of_today_is_said_by_the_hour():
    now = datetime(2026, 3, 14, 12, tzinfo=UTC)
    assert len(since_words(now, now)) == len("12:00")
    assert len(since_words(now - timedelta(days=3), now)) == len("2026-03-11 12:00")
