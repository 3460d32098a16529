import subprocess
import sys

import duckdb
import pytest
from given import beer, glass, person, session, vocabulary

from seatworthy.errors import StoreBusy, StoreDamaged, StoreError, StoreNewer
from seatworthy.store.file import Store
from seatworthy.store.schema import newest_number

HOLDER = """
import sys, time
from seatworthy.store.file import Store
store = Store.open(sys.argv[1]); print("open", flush=True); time.sleep(30)
"""


def test_a_store_held_by_another_process_says_so_in_one_sentence(tmp_path):
    path = tmp_path / "panel.duckdb"
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(path)], stdout=subprocess.PIPE, text=True
    )
    try:
        assert holder.stdout.readline() == "open\n"
        with pytest.raises(StoreBusy, match=rf"open in another process \(number {holder.pid}\)"):
            Store.open(path)
    finally:
        holder.kill()
        holder.wait()
        holder.stdout.close()


def test_a_store_of_a_later_version_is_refused_and_left_alone(tmp_path):
    path = tmp_path / "panel.duckdb"
    Store.open(path).close()
    con = duckdb.connect(str(path))
    con.execute(
        "insert into applied_file values (?, 'later.sql', 'x', now()::timestamp)",
        [newest_number() + 1],
    )
    con.close()
    with pytest.raises(StoreNewer, match="written by a later version"):
        Store.open(path)


def test_a_table_file_changed_after_it_ran_is_refused(tmp_path):
    path = tmp_path / "panel.duckdb"
    Store.open(path).close()
    con = duckdb.connect(str(path))
    con.execute("update applied_file set digest = 'other' where number = 2")
    con.close()
    with pytest.raises(StoreDamaged, match="another text of 02_people.sql"):
        Store.open(path)


@pytest.mark.parametrize("content", [b"", b"not a store", b"\0" * 5000])
def test_a_file_that_is_no_store_is_refused(tmp_path, content):
    path = tmp_path / "panel.duckdb"
    path.write_bytes(content)
    with pytest.raises(StoreDamaged, match="is not a store of Seatworthy"):
        Store.open(path)


def test_a_missing_folder_is_named(tmp_path):
    with pytest.raises(StoreError, match="There is no folder"):
        Store.open(tmp_path / "nowhere" / "panel.duckdb")


def test_table_files_run_once(tmp_path):
    path = tmp_path / "panel.duckdb"
    for _ in range(2):
        with Store.open(path) as store:
            numbers = store.cursor().execute("select count(*) from applied_file").fetchone()
    assert numbers == (newest_number(),)


def record_one_glass(store, **glass_words):
    with store.recording("results") as act:
        beer(act)
        glass(act, session(act), person(act, "ada"), "dms", "dms", **glass_words)


def fail_in_the_middle(store):
    with store.recording("results") as act:
        beer(act)
        glass(act, session(act), person(act, "ada"), "dms", "dms")
        message = "in the middle"
        raise RuntimeError(message)


def test_an_act_that_fails_leaves_nothing_behind(store):
    vocabulary(store)
    before = store.version
    with pytest.raises(RuntimeError, match="in the middle"):
        fail_in_the_middle(store)
    assert store.version == before
    cursor = store.cursor()
    for table in ("person", "session", "sample", "serving", "answer"):
        assert cursor.execute(f"select count(*) from {table}").fetchone() == (0,)


def test_an_act_without_facts_leaves_no_entry(store):
    with store.recording("nothing"):
        pass
    assert store.version == 0
    assert store.cursor().execute("select count(*) from history").fetchone() == (0,)


@pytest.mark.parametrize("value", ["nan", "inf", "-1", "0"])
def test_no_impossible_amount_can_enter(store, value):
    vocabulary(store)
    with pytest.raises(StoreError, match="cannot be recorded"):
        record_one_glass(store, level=value)
    assert store.cursor().execute("select count(*) from sample").fetchone() == (0,)


def test_many_threads_read_while_one_writes(store):
    from concurrent.futures import ThreadPoolExecutor

    vocabulary(store)

    def read(_):
        return len(store.rows("compounds"))

    def write(number):
        with store.recording("people") as act:
            person(act, f"p{number}")

    with ThreadPoolExecutor(8) as pool:
        reads = [pool.submit(read, i) for i in range(200)]
        writes = [pool.submit(write, i) for i in range(20)]
        assert {job.result() for job in reads} == {3}
        assert [job.result() for job in writes] == [None] * 20
    assert len(store.rows("people")) == 20


@pytest.mark.parametrize("name", ["rows.csv", "rows.json", "rows.parquet"])
def test_a_file_of_another_kind_is_never_taken_for_an_empty_store(tmp_path, name):
    path = tmp_path / name
    path.write_text("date,panellist\n2026-03-02,Ada\n")
    with pytest.raises(StoreDamaged, match="is not a store of Seatworthy"):
        Store.open(path)
    assert path.read_text().startswith("date,panellist")


def test_a_damaged_block_is_said_in_a_sentence(tmp_path):
    path = tmp_path / "panel.duckdb"
    with Store.open(path) as store:
        vocabulary(store, [f"c{i}" for i in range(300)])
    whole = bytearray(path.read_bytes())
    for start in range(13000, len(whole) - 64, 4096):
        whole[start : start + 64] = b"\xff" * 64
    path.write_bytes(whole)
    with pytest.raises(StoreError, match="panel.duckdb"):
        read_all(path)


def read_all(path):
    with Store.open(path) as store:
        store.rows("compounds")
        store.rows("meanings")


def test_small_acts_reuse_the_room_of_the_file(tmp_path):
    path = tmp_path / "panel.duckdb"
    with Store.open(path) as store, store.recording("people") as act:
        person(act, "first")
    with Store.open(path) as store:
        used = []
        for number in range(60):
            with store.recording("people") as act:
                person(act, f"{number}")
            used += store.cursor().execute(
                "select used_blocks from pragma_database_size()"
            ).fetchall()  # fmt: skip
    assert used[-1][0] - used[20][0] < 10
