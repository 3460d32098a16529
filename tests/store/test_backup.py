import json
from datetime import UTC, datetime

import duckdb
import pytest
from given import beer, glass, person, session, vocabulary

from seatworthy.errors import StoreDamaged, StoreError
from seatworthy.store.backup import back_up
from seatworthy.store.checks import impossible_facts
from seatworthy.store.copying import Manifest, manifest_path, table_digests
from seatworthy.store.file import Store
from seatworthy.store.restore import restore


@pytest.fixture
def full(store):
    vocabulary(store)
    with store.recording("results") as act:
        beer(act)
        glass(act, session(act), person(act, "ada"), "dms", "dms")
    return store


def contents(store):
    cursor = store.cursor()
    found = table_digests(cursor)
    cursor.close()
    return found


def test_a_backup_is_equal_to_its_store_and_restores_to_it(full, tmp_path):
    target, again = tmp_path / "kept.duckdb", tmp_path / "again.duckdb"
    manifest = back_up(full, target)
    assert manifest.tables == contents(full)
    restore(target, again)
    with Store.open(again) as restored:
        assert contents(restored) == contents(full)
        assert restored.version == full.version


def lot(act, name, made_from=None):
    """A lot of which 100 microlitres went into the next, or which was bought."""
    taken = None if made_from is None else 100
    act.add("stock", {
        "stock_id": name, "compound": "dms", "label": name, "lot": name, "kind": "solution",
        "strength": 1, "strength_off_percent": 0, "full_amount": 1000, "dead_ul": 0,
        "ethanol_percent": 0, "is_food_grade": True, "is_bought_dilution": True, "is_narrow": False,
        "made_from": made_from, "taken_ul": taken, "made_ul": taken and 1000,
    })  # fmt: skip


@pytest.mark.parametrize("names", ["abc", "cba"])
def test_a_dilution_of_a_dilution_is_backed_up_and_restored(full, tmp_path, names):
    for name, parent in zip(names, (None, *names), strict=False):
        with full.recording("bench") as act:
            lot(act, name, parent)
    target, again = tmp_path / "kept.duckdb", tmp_path / "again.duckdb"
    assert back_up(full, target).tables["stock"][0] == 3
    restore(target, again)
    with Store.open(again) as restored:
        assert contents(restored) == contents(full)
        assert list(impossible_facts(restored.cursor(), datetime.now(UTC))) == []


def test_a_backup_never_overwrites(full, tmp_path):
    target = tmp_path / "kept.duckdb"
    target.write_text("mine")
    with pytest.raises(StoreError, match="exists already"):
        back_up(full, target)
    assert target.read_text() == "mine"


def test_a_backup_is_taken_while_somebody_is_writing(full, tmp_path):
    with full.recording("people") as act:
        person(act, "bo")
        manifest = back_up(full, tmp_path / "kept.duckdb")
    assert manifest.tables["person"][0] == 1


def test_a_changed_backup_is_not_restored(full, tmp_path):
    target, again = tmp_path / "kept.duckdb", tmp_path / "again.duckdb"
    back_up(full, target)
    con = duckdb.connect(str(target))
    con.execute("update answer set recorded_at = now()::timestamp")
    con.close()
    with pytest.raises(StoreDamaged, match="differs from its manifest in table answer"):
        restore(target, again)
    assert not again.exists()


def test_a_truncated_backup_is_not_restored(full, tmp_path):
    target = tmp_path / "kept.duckdb"
    back_up(full, target)
    target.write_bytes(target.read_bytes()[:5000])
    with pytest.raises(StoreDamaged, match="kept.duckdb"):
        restore(target, tmp_path / "again.duckdb")


@pytest.mark.parametrize("text", ["", "{}", "[]", '{"tables": 3}'])
def test_a_backup_without_a_good_manifest_is_not_restored(full, tmp_path, text):
    target = tmp_path / "kept.duckdb"
    back_up(full, target)
    manifest_path(target).write_text(text)
    with pytest.raises(StoreDamaged, match="not a manifest"):
        restore(target, tmp_path / "again.duckdb")


def test_restoring_moves_a_store_aside_only_when_told(full, tmp_path):
    target, live = tmp_path / "kept.duckdb", tmp_path / "live.duckdb"
    back_up(full, target)
    Store.open(live).close()
    with pytest.raises(StoreError, match="exists already"):
        restore(target, live)
    restore(target, live, replace=True)
    assert len(list(tmp_path.glob("live.before-restore-*.duckdb"))) == 1
    with Store.open(live) as restored:
        assert contents(restored) == contents(full)


def test_a_manifest_reads_back_as_written(full, tmp_path):
    target = tmp_path / "kept.duckdb"
    written = back_up(full, target)
    assert Manifest.read(manifest_path(target)) == written
    assert json.loads(manifest_path(target).read_text())["tables"]["answer"][0] == 1


@pytest.mark.parametrize("content", [b"", b"torn" * 100])
def test_a_damaged_store_is_moved_aside_unopened(full, tmp_path, content):
    target, live = tmp_path / "kept.duckdb", tmp_path / "live.duckdb"
    back_up(full, target)
    live.write_bytes(content)
    (tmp_path / "live.duckdb.wal").write_bytes(b"a log of another store")
    restore(target, live, replace=True)
    (aside,) = tmp_path.glob("live.before-restore-*.duckdb")
    assert aside.read_bytes() == content
    assert aside.with_name(aside.name + ".wal").exists()
    with Store.open(live) as restored:
        assert contents(restored) == contents(full)


def test_a_restore_that_fails_leaves_the_store_where_it_was(full, tmp_path, monkeypatch):
    target, live = tmp_path / "kept.duckdb", tmp_path / "live.duckdb"
    back_up(full, target)
    Store.open(live).close()
    before = live.read_bytes()

    def fail(*_args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("seatworthy.store.restore.shutil.copyfile", fail)
    with pytest.raises(StoreError, match="No space left on device.; what was there is kept"):
        restore(target, live, replace=True)
    assert live.read_bytes() == before
    assert sorted(path.name for path in tmp_path.glob("live*")) == ["live.duckdb"]


def test_every_backup_has_a_manifest_of_its_own(full, tmp_path):
    first, second = tmp_path / "monday.1", tmp_path / "monday.2"
    for target in (first, second):
        back_up(full, target)
    with full.recording("people") as act:
        person(act, "bo")
    restore(first, tmp_path / "again.duckdb")
    assert manifest_path(first) != manifest_path(second)


def test_a_manifest_of_another_history_is_found(full, tmp_path):
    target = tmp_path / "kept.duckdb"
    back_up(full, target)
    found = json.loads(manifest_path(target).read_text())
    found["last_entry"] = [99, "f" * 64]
    manifest_path(target).write_text(json.dumps(found))
    with pytest.raises(StoreDamaged, match="another history entry"):
        restore(target, tmp_path / "again.duckdb")


@pytest.mark.parametrize(
    "name", ["copy_of_store.duckdb", "it's.duckdb", 'a"b.duckdb', "två ord.duckdb"]
)
def test_a_store_of_any_name_can_be_backed_up(tmp_path, name):
    with Store.open(tmp_path / name) as store:
        vocabulary(store)
        assert back_up(store, tmp_path / "kept.duckdb").tables["compound"][0] == 3
    assert not list(tmp_path.glob("*.unfinished*"))
