"""Kills an import at random moments: whole files or nothing, and what was acknowledged stays."""

import os
import random
import signal
import subprocess
import sys
import time

import pytest
from written import results

from seatworthy.steps.desk import open_desk
from seatworthy.steps.safekeeping import size_of, verify

ROUNDS = 20
ROWS = 60

IMPORTER = """
import sys
from pathlib import Path
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk
desk = open_desk(sys.argv[1])
print("open", flush=True)
for path in sorted(Path(sys.argv[2]).glob("*.csv")):
    if bring_in_results(desk, path).added:
        print(path.name, flush=True)
"""


HALF_FILES = """
select count(*)
from (select entry_no, count(*) as answers from answer group by entry_no)
where answers <> ?
"""


@pytest.fixture
def files(tmp_path):
    folder = tmp_path / "files"
    folder.mkdir()
    people = ("Ada", "Bo", "Carmen", "Dilek")
    for number in range(60):
        day = f"2025-{1 + number // 5:02d}-{1 + number % 5:02d}"
        rows = [(day, people[i % 4], 100 + i, "dms", 3, "dms") for i in range(ROWS)]
        results(folder / f"{number:02d}.csv", rows)
    return folder


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no kill -9")
def test_twenty_kills_leave_whole_files_or_nothing(tmp_path, files):
    store, chance = tmp_path / "panel.duckdb", random.Random(7)
    acknowledged = 0
    for number in range(ROUNDS):
        # The last one lives until it has said something, so that a slow machine does so too.
        seconds = chance.uniform(0.0, 0.8)
        said = run_and_kill(store, files, seconds, is_heard=number == ROUNDS - 1)
        acknowledged += said
        desk = open_desk(store)
        try:
            size = verify(desk)
            half = desk.store.cursor().execute(HALF_FILES, [ROWS]).fetchone()
        finally:
            desk.close()
        assert half == (0,)
        assert size.answers % ROWS == 0
        assert size.answers >= acknowledged * ROWS
        acknowledged = size.answers // ROWS
    assert acknowledged > 0


def run_and_kill(store, files, seconds, *, is_heard):
    """Import until killed, not before a first file if it is heard; how many were acknowledged."""
    with subprocess.Popen(
        [sys.executable, "-c", IMPORTER, str(store), str(files)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as importer:
        assert importer.stdout.readline() == "open\n", importer.stderr.read()
        first = importer.stdout.readline() if is_heard else ""
        time.sleep(seconds)
        os.kill(importer.pid, signal.SIGKILL)
        said, _ = importer.communicate()
    return len(f"{first}{said}".splitlines())


def test_a_full_disk_is_said_in_a_sentence_and_leaves_the_store_whole(tmp_path, files):
    """A file-size limit stands in for a full disk: writes past it fail likewise."""
    pytest.importorskip("resource")
    store = tmp_path / "panel.duckdb"
    desk = open_desk(store)
    before = size_of(desk)
    desk.close()
    limit = 100_000  # bytes; enough to open the store, too little to write the rows
    code = (
        "import resource, signal; signal.signal(signal.SIGXFSZ, signal.SIG_IGN);"
        f"resource.setrlimit(resource.RLIMIT_FSIZE, ({limit}, {limit}));"
        "import sys; from seatworthy.cli import main;"
        f"sys.exit(main(['import', {str(files / 'all.csv')!r}, '--store', {str(store)!r}]))"
    )
    whole = [
        line for path in sorted(files.glob("*.csv")) for line in path.read_text().splitlines()[1:]
    ]
    header = (files / "00.csv").read_text().splitlines()[0]
    (files / "all.csv").write_text("\n".join([header, *whole]))
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False, timeout=120
    )
    assert done.returncode == 2, done.stdout + done.stderr
    assert "Traceback" not in done.stderr
    desk = open_desk(store)
    try:
        assert verify(desk) == before
    finally:
        desk.close()
