"""What the copies beside a store are called, which are good, and which the keep-rule lets go."""

from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Event, Thread

import pytest
from given import person, vocabulary

from seatworthy.errors import StoreError
from seatworthy.store.backup import back_up
from seatworthy.store.connecting import connect
from seatworthy.store.copies import (
    AFTER_CLOSE,
    BEFORE_UPGRADE,
    BY_HAND,
    Copy,
    copies_of,
    folder_of,
    last_good,
    new_place,
    remove_superfluous,
    superfluous,
)
from seatworthy.store.copying import copy_whole, manifest_path, read_whole, table_digests
from seatworthy.store.file import Store
from seatworthy.store.restore import restore

NOW = datetime(2031, 7, 15, 12, tzinfo=UTC)


def copy(why, days_ago, hour=12):
    made_at = (NOW - timedelta(days=days_ago)).replace(hour=hour)
    return Copy(Path(f"{made_at:%Y%m%d-%H}-{why}"), made_at, why)


def test_every_copy_of_the_last_thirty_days_stays():
    assert superfluous([copy(AFTER_CLOSE, day) for day in range(31)], NOW) == {}


def test_of_older_ones_the_last_of_each_month_stays():
    copies = [copy(AFTER_CLOSE, day) for day in range(0, 400, 5)]
    gone = superfluous(copies, NOW)
    left = [one for one in copies if one not in gone and (NOW - one.made_at).days > 30]
    months = [(one.made_at.year, one.made_at.month) for one in left]
    assert len(set(months)) == len(months)
    assert all(one.made_at <= stays.made_at for one, stays in gone.items())
    assert {(one.made_at.year, one.made_at.month) for one in copies} >= set(months)


def test_copies_made_by_hand_or_before_an_upgrade_never_go():
    copies = [copy(why, day) for why in (BY_HAND, BEFORE_UPGRADE) for day in range(60, 90)]
    assert superfluous(copies, NOW) == {}


def test_a_clock_that_was_wrong_takes_nothing_of_the_days_to_come():
    assert superfluous([copy(AFTER_CLOSE, -400), copy(AFTER_CLOSE, -401)], NOW) == {}


def test_two_copies_of_one_second_have_two_names(store):
    first = new_place(store.path, AFTER_CLOSE)
    back_up(store, first)
    second = new_place(store.path, AFTER_CLOSE)
    assert first != second
    back_up(store, second)
    listed = copies_of(store.path)
    assert {one.path for one in listed} >= {first, second}
    assert {one.why for one in listed if one.path in (first, second)} == {AFTER_CLOSE}


def test_files_of_others_are_no_copies(store):
    folder = folder_of(store.path)
    folder.mkdir()
    for name in ("panel-20310101-101500.db", "other-20310101-101500.duckdb", "panel-mine.duckdb",
                 "panel-20311399-101500.duckdb", "panel-20310101-101500-why.duckdb"):  # fmt: skip
        (folder / name).write_bytes(b"")
    assert copies_of(store.path) == []


def test_the_last_good_copy_is_the_newest_that_matches(store):
    assert last_good(store.path) is None
    for _ in range(2):
        back_up(store, new_place(store.path))
    newest, second = copies_of(store.path)
    assert last_good(store.path) == newest
    newest.path.write_bytes(newest.path.read_bytes()[:9000])
    assert last_good(store.path) == second
    manifest_path(second.path).unlink()
    assert "manifest" in second.fault()
    assert last_good(store.path) is None


def test_a_copy_whose_history_was_changed_along_with_its_manifest_is_no_good_one(store, tmp_path):
    vocabulary(store)
    target = tmp_path / "kept.duckdb"
    back_up(store, target)
    con = connect(target)
    con.execute("update synonym set words = 'other' where words_key = 'dms'")
    con.close()
    with Store.open(target) as changed:
        back_up(changed, tmp_path / "again.duckdb")
    with pytest.raises(StoreError, match="does not add up: facts of entry 1"):
        restore(tmp_path / "again.duckdb", tmp_path / "panel2.duckdb")


def test_old_copies_go_only_where_the_one_that_stays_is_good(store):
    for _ in range(3):
        back_up(store, new_place(store.path, AFTER_CLOSE))
    for number, one in enumerate(copies_of(store.path)):
        older = one.path.with_name(f"panel-2030050{9 - number}-101500-{AFTER_CLOSE}.duckdb")
        manifest_path(one.path).rename(manifest_path(older))
        one.path.rename(older)
    stays, *_ = copies_of(store.path)
    whole = manifest_path(stays.path).read_text()
    manifest_path(stays.path).write_text("{}")
    assert remove_superfluous(store.path, NOW) == []
    manifest_path(stays.path).write_text(whole)
    assert len(remove_superfluous(store.path, NOW)) == 2
    assert copies_of(store.path) == [stays]
    assert len(list(folder_of(store.path).iterdir())) == 2


def test_what_a_killed_process_left_goes_a_day_later(store):
    folder = folder_of(store.path)
    folder.mkdir()
    left = folder / "panel-20310101-101500-after-close.duckdb.0a1b2c3d.unfinished"
    for path in (left, folder / f"{left.name}.wal", folder / "other-1.duckdb.0a.unfinished"):
        path.write_bytes(b"half")
    now = datetime.now(UTC)
    assert remove_superfluous(store.path, now) == []
    assert len(remove_superfluous(store.path, now + timedelta(days=2))) == 2
    assert [path.name for path in folder.iterdir()] == ["other-1.duckdb.0a.unfinished"]


def test_a_store_of_an_earlier_version_is_copied_before_its_new_tables_are_made(earlier):
    before = read_whole(earlier)
    with Store.open(earlier) as opened:
        kept = opened.kept_before_upgrade
    assert kept.name.endswith(f"-{BEFORE_UPGRADE}.duckdb")
    assert read_whole(kept) == before
    assert [one.fault() for one in copies_of(earlier)] == [None]
    assert set(read_whole(earlier)) > set(before)
    with Store.open(earlier) as again:
        assert again.kept_before_upgrade is None
    assert len(copies_of(earlier)) == 1


def test_a_copy_of_an_earlier_version_is_restored_and_then_brought_up_to_date(earlier, tmp_path):
    before = read_whole(earlier)
    kept, again = new_place(earlier), tmp_path / "again.duckdb"
    con = connect(earlier)
    copy_whole(con, kept)
    con.close()
    assert restore(kept, again).tables == before
    with Store.open(again) as restored:
        assert restored.kept_before_upgrade is not None
        after = table_digests(restored.cursor())
    assert after["applied_file"][0] == before["applied_file"][0] + 1
    assert before.items() - after.items() == {("applied_file", before["applied_file"])}


def test_without_room_for_that_copy_nothing_is_changed(earlier):
    before = earlier.read_bytes()
    folder_of(earlier).write_text("a file where the folder should be")
    with pytest.raises(StoreError, match=r"could not be made.*nothing was changed"):
        Store.open(earlier)
    assert earlier.read_bytes() == before


def test_a_new_store_and_an_empty_one_need_no_such_copy(tmp_path):
    with Store.open(tmp_path / "new.duckdb") as new:
        assert new.kept_before_upgrade is None
    assert not folder_of(new.path).exists()


def test_a_copy_made_while_others_write_ends_with_a_whole_act(store):
    vocabulary(store)
    stop = Event()

    def write():
        number = 0
        while not stop.is_set():
            number += 1
            with store.recording("people") as act:
                for letter in "abc":
                    person(act, f"{letter}{number}")

    writer = Thread(target=write)
    writer.start()
    try:
        made = [back_up(store, new_place(store.path)) for _ in range(2)]
    finally:
        stop.set()
        writer.join()
    assert all(manifest.tables["person"][0] % 3 == 0 for manifest in made)
    assert all(manifest.tables["history"][0] == manifest.last_entry[0] for manifest in made)
    assert made[0].last_entry[0] < made[-1].last_entry[0]
    assert [one.fault() for one in copies_of(store.path)] == [None] * 2
