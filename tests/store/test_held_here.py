import re
import subprocess
import sys

import duckdb
import pytest

from seatworthy.errors import StoreBusy
from seatworthy.store.connecting import connect, translated
from seatworthy.store.held_here import copy_held, is_held_here

_TRY = "import sys, duckdb; duckdb.connect(sys.argv[1])"


def said_to_another_process(path):
    tried = subprocess.run(
        [sys.executable, "-c", _TRY, str(path)], capture_output=True, text=True, check=False
    )
    return tried.stderr


def test_opening_the_same_store_twice_lets_no_other_process_in(store):
    """A process that looks into the file it holds, and closes it, would lose its lock."""
    connect(store.path).close()
    connect(store.path).close()
    assert re.search("Conflicting lock|being used", said_to_another_process(store.path))


@pytest.mark.skipif(sys.platform == "win32", reason="there nobody else may read it")
def test_a_held_store_is_copied_byte_by_byte_and_stays_locked(store, tmp_path):
    for name in ("a.duckdb", "b.duckdb"):
        copy_held(store.path, tmp_path / name)
        assert (tmp_path / name).stat().st_size == store.path.stat().st_size
    assert "Conflicting lock" in said_to_another_process(store.path)
    store.close()
    assert (tmp_path / "b.duckdb").read_bytes() == store.path.read_bytes()
    duckdb.connect(str(store.path)).close()
    assert not said_to_another_process(store.path)


def test_a_store_is_held_until_it_is_closed(store):
    assert is_held_here(store.path)
    store.close()
    assert not is_held_here(store.path)


LOCKED = 'IO Error: Could not set lock on file "/x/panel.duckdb": '
ON_WINDOWS = 'IO Error: Cannot open file "c:\\x": It is being used by another process.\r\n\n'


@pytest.mark.parametrize(
    ("text", "process", "program"),
    [
        (
            LOCKED + "Conflicting lock is held in /bin/python3 (PID 81) by user ada.",
            81,
            "/bin/python3",
        ),
        (LOCKED + "Conflicting lock is held in PID 0. See also", None, ""),
        (LOCKED + "Resource temporarily unavailable", None, ""),
        (
            ON_WINDOWS + "File is already open in \nC:\\Py\\python.exe (PID 7)",
            7,
            "C:\\Py\\python.exe",
        ),
        (ON_WINDOWS, None, ""),
    ],
)
def test_what_the_database_says_of_a_holder_is_read(tmp_path, text, process, program):
    found = translated(duckdb.IOException(text), tmp_path / "panel.duckdb")
    assert isinstance(found, StoreBusy)
    assert (found.process, found.program) == (process, program)
    assert "Nothing was changed." in str(found)
