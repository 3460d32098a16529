"""No room left, a disk that can't be written, too little memory: a sentence, and what was held is held.

A limit on the size of files stands in for a full disk: what is written past it fails likewise, for whoever
runs the tests.
"""

import lzma
import os
import shutil
import stat
import tempfile
from contextlib import contextmanager
from pathlib import Path

import pytest
import thursday
from handed_out import say, secrets_of, stored
from written import results

from seatworthy.cli import main
from seatworthy.errors import StoreDamaged, StoreError, StoreReadOnly
from seatworthy.shipped import shipped
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.closing import close_session
from seatworthy.steps.desk import open_desk
from seatworthy.steps.last_copy import copy_after_close
from seatworthy.steps.panel import add_people
from seatworthy.steps.safekeeping import back_up, size_of, verify
from seatworthy.steps.table import sitting_over
from seatworthy.store.file import Store

OLD = Path(__file__).resolve().parents[1] / "store" / "old_stores"
NO_ROOM = r"There is no room left to write .*panel\.duckdb\. Nothing of this was recorded"
NOBODY = 65534  # the user without rights, where the tests run with all of them
# Bytes up to which files may be written: none, and as many as a journal needs, but not the file itself.
NONE, JOURNAL_ONLY = 0, 100_000
resource = pytest.importorskip("resource")


@contextmanager
def no_room(limit=NONE):
    """Let no file of this process grow, or be written, past so many bytes."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


@pytest.fixture
def ready(desk, session_id):
    """A session whose ballots are handed out, with one answer; and the secret of that ballot."""
    secret = secrets_of(desk, session_id)["Bo Larsen"]
    assert say(desk, secret, 1, "nothing").outcome == "kept"
    return session_id, secret


def all_over(desk, session_id):
    """Say that both sittings are over."""
    for sitting in thursday.facts_of(desk, session_id).sittings:
        sitting_over(desk, sitting.sitting_id)


def held(desk):
    """What is on record, after the chain was found to add up."""
    return verify(desk)


def opened_again(desk):
    """The same store for who comes after: closed, opened, verified."""
    desk.close()
    again = open_desk(desk.store.path)
    try:
        return held(again)
    finally:
        again.close()


def test_an_import_without_room_is_refused_and_goes_through_once_there_is_some(desk, tmp_path):
    file = results(tmp_path / "rows.csv", [("2025-03-03", "Ida", 1, "dms", 3, "dms")])
    before = size_of(desk)
    with no_room(), pytest.raises(StoreError, match=NO_ROOM):
        bring_in_results(desk, file)
    assert held(desk) == before
    bring_in_results(desk, file)
    assert opened_again(desk).answers == 1


def test_the_command_says_so_and_leaves_the_store_as_it_was(desk, tmp_path, capsys):
    rows = [("2025-03-03", f"Person {n}", n, "dms", 3, "dms") for n in range(900)]
    file, before = results(tmp_path / "rows.csv", rows), size_of(desk)
    desk.close()
    for limit in (NONE, JOURNAL_ONLY):
        with no_room(limit):
            assert main(["import", str(file), "--store", str(desk.store.path)]) == 2
        assert "There is no room left" in capsys.readouterr().err
    again = open_desk(desk.store.path)
    assert held(again) == before
    again.close()


def test_an_answer_and_a_close_without_room_are_refused_and_can_be_done_again(desk, ready):
    session_id, secret = ready
    before = stored(desk)
    with no_room():
        done = say(desk, secret, 2, "nothing")
    assert (done.outcome, done.fault, stored(desk)) == ("refused", "no_room", before)
    assert say(desk, secret, 2, "nothing").outcome == "kept"
    all_over(desk, session_id)
    with no_room(), pytest.raises(StoreError, match=NO_ROOM):
        close_session(desk, session_id, without_missing=True)
    assert (stored(desk), stored(desk, "session_end")) == (before + 1, 0)
    close_session(desk, session_id, without_missing=True)
    opened_again(desk)


def test_what_fits_into_the_journal_is_kept_and_the_store_goes_on_once_there_is_room(desk):
    """The file can't be written, which makes DuckDB refuse everything until the file is opened anew."""
    before = size_of(desk).people
    with no_room(JOURNAL_ONLY):
        for number in range(3):
            add_people(desk, [f"Person {number}"], since_on=None, lookalikes_are_new=True)
            assert size_of(desk).people == before + 1 + number
    add_people(desk, ["Another"], since_on=None)
    assert held(desk).people == before + 4
    assert opened_again(desk).people == before + 4


def test_a_backup_without_room_leaves_nothing_under_its_name(desk, tmp_path):
    before, target = held(desk), tmp_path / "copies" / "kept.duckdb"
    target.parent.mkdir()
    for limit in (NONE, JOURNAL_ONLY):
        with no_room(limit), pytest.raises(StoreError, match=r"kept\.duckdb could not be written"):
            back_up(desk, target)
        assert list(target.parent.iterdir()) == []
        assert held(desk) == before
    back_up(desk, target)


def test_a_close_stands_where_there_is_no_room_for_the_copy_after_it(desk, ready):
    all_over(desk, ready[0])
    close_session(desk, ready[0], without_missing=True)
    with no_room():
        assert "no copy of the record could be kept" in copy_after_close(desk)
    assert stored(desk, "session_end") == 1
    assert list((desk.store.path.parent / "backups").glob("*.duckdb*")) == []


@pytest.mark.parametrize("limit", [NONE, JOURNAL_ONLY])
def test_an_upgrade_without_room_is_refused_and_goes_through_once_there_is_some(tmp_path, limit):
    path = tmp_path / "panel.duckdb"
    path.write_bytes(lzma.decompress((OLD / "store_04.duckdb.xz").read_bytes()))
    before = path.read_bytes()
    with no_room(limit), pytest.raises(StoreError, match="panel.duckdb") as refused:
        open_desk(path)
    assert "room" in str(refused.value)
    assert path.read_bytes() == before
    desk = open_desk(path)
    assert held(desk).answers == 156
    desk.close()


def join_by_the_million(desk):
    """Record more people at once than there is memory for."""
    rows = "select sha256(i::varchar)[:16], ?, ?::timestamp from range(1000000) as t(i)"
    with desk.store.recording("people") as act:
        act.tables.add("person")
        act.cursor.execute(f"insert into person {rows}", [act.entry_no, act.recorded_at])


def test_too_little_memory_is_said_and_nothing_is_lost(desk):
    before = held(desk)
    with desk.store.reading() as cursor:
        cursor.execute("set memory_limit = '30MB'")
    with pytest.raises(StoreError, match="needs more memory") as refused:
        join_by_the_million(desk)
    assert not isinstance(refused.value, StoreDamaged)
    assert held(desk) == before


@contextmanager
def nothing_written(folder):
    """Nothing in a folder can be written, not even by who may do everything else."""
    for path in folder.iterdir():
        path.chmod(0o444)
    folder.chmod(0o555)
    is_root = os.geteuid() == 0
    if is_root:
        os.seteuid(NOBODY)
    try:
        if not os.access(shipped("sql"), os.R_OK | os.X_OK, effective_ids=is_root):
            pytest.skip("who has no rights can't read the program here")
        yield
    finally:
        if is_root:
            os.seteuid(0)
        folder.chmod(0o755)


@pytest.fixture
def read_only(stocked):
    """A store in a folder that everybody can reach."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    path = folder / "panel.duckdb"
    shutil.copyfile(stocked, path)
    assert main(["verify", "--store", str(path)]) == 0  # what it imports may be out of reach later
    yield path
    shutil.rmtree(folder)


def test_a_store_that_cannot_be_written_is_read_by_commands_that_only_read(read_only, capsys):
    with nothing_written(read_only.parent):
        with pytest.raises(
            StoreReadOnly, match="read-only. Nothing was changed. Let it be written"
        ):
            Store.open(read_only)
        with pytest.raises(StoreReadOnly, match="cannot be written where it lies"):
            Store.open(read_only.with_name("new.duckdb"), may_only_read=True)
        assert main(["verify", "--store", str(read_only)]) == 0
        desk = open_desk(read_only, may_only_read=True)
        before = size_of(desk)
        with pytest.raises(StoreReadOnly, match="cannot be written where it lies"):
            add_people(desk, ["Ida"], since_on=None)
        assert size_of(desk) == before
        desk.close()
    assert "All is as it was sealed" in capsys.readouterr().out
    assert stat.S_IMODE(read_only.stat().st_mode) == 0o444


def test_an_older_store_that_cannot_be_written_asks_to_be_copied(read_only):
    read_only.write_bytes(lzma.decompress((OLD / "store_04.duckdb.xz").read_bytes()))
    with nothing_written(read_only.parent):
        with pytest.raises(
            StoreReadOnly, match="must be brought up to date.*Copy it into a folder"
        ):
            open_desk(read_only, may_only_read=True)
        assert main(["verify", "--store", str(read_only)]) == 2
