"""Copies after a close, the way back that is named, the quiet reminder, and that decisions survive."""

import os
import zipfile
from datetime import UTC, datetime, timedelta
from io import BytesIO

import pytest
import seated
import thursday
from seated import FAMILY

from seatworthy.errors import StoreDamaged
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.facts_text import facts_digest
from seatworthy.steps.last_copy import (
    REMIND_AFTER_DAYS,
    copy_after_close,
    copy_lines,
    forget_checks,
    knows_more,
    reminder,
    way_back,
)
from seatworthy.steps.panel import add_people
from seatworthy.steps.plain_copy import plain_zip, read_plain, write_plain
from seatworthy.steps.safekeeping import back_up, read_file, restore, verify, verify_all
from seatworthy.steps.safety import check_all, safety
from seatworthy.steps.seats import signed_decisions
from seatworthy.store.copies import copies_of, folder_of
from seatworthy.store.copying import manifest_path


@pytest.fixture(autouse=True)
def _nothing_remembered():
    forget_checks()


def aged(copy, days):
    """The same copy under the name it would have had so many days ago."""
    stamp = datetime.now(UTC) - timedelta(days=days)
    older = copy.path.with_name(f"{copy.path.name.split('-')[0]}-{stamp:%Y%m%d-%H%M%S}.duckdb")
    manifest_path(copy.path).rename(manifest_path(older))
    copy.path.rename(older)


def test_a_close_is_followed_by_a_checked_copy(desk, session_id):
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    assert copy_after_close(desk) is None
    (line,) = copy_lines(desk.store.path)
    assert (line.why, line.fault, line.is_read) == ("after a close", None, True)
    assert line.last_entry[0] == desk.version


def test_a_copy_that_fails_undoes_nothing_and_is_said(desk):
    before = desk.version
    folder_of(desk.store.path).write_text("a file where the folder should be")
    said = copy_after_close(desk)
    assert said.startswith("The session is closed and on record, but no copy")
    assert said.endswith("Safekeeping.")
    assert desk.version == before
    verify(desk)


def test_decisions_rest_on_the_same_facts_after_backup_restore_and_plain_copy(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        sign_decision(
            desk, person_id=brewery.ids["Ada"], family=FAMILY, state="probation",
            until_on=seated.TODAY + timedelta(days=60), signer=brewery.ids["Lee"], pin=seated.PIN,
        )  # fmt: skip
        signed = digests(desk)
        kept = back_up(desk)
        write_plain(desk, tmp_path / "plain")
        restore(kept, tmp_path / "restored.duckdb")
        read_plain(tmp_path / "plain", tmp_path / "from-parquet.duckdb")
        for path in (tmp_path / "plain" / "tables").glob("*.parquet"):
            path.unlink()
        read_plain(tmp_path / "plain", tmp_path / "from-csv.duckdb")
    for name in ("restored", "from-parquet", "from-csv"):
        again = open_desk(tmp_path / f"{name}.duckdb")
        assert digests(again) == signed, name
        again.close()


def digests(desk: Desk):
    """Every decision, with the digest it was signed with, which is the one its facts have now."""
    signed = [(d, facts_digest(desk, d.stated_id, d.family, d.as_of_on, d.recorded_at))
              for d in signed_decisions(desk)]  # fmt: skip
    assert signed
    assert all(row.facts_digest == now for row, now in signed)
    return signed


def test_what_does_not_add_up_names_the_last_good_copy_and_the_words(desk):
    good = back_up(desk)
    back_up(desk)
    newest = copies_of(desk.store.path)[0]
    newest.path.write_bytes(newest.path.read_bytes()[:20_000])
    with desk.store.reading() as cursor:
        cursor.execute("update synonym set compound = 'dms' where words_key <> 'dms'")
    with pytest.raises(StoreDamaged) as told:
        verify(desk)
    store = desk.store.path
    assert "facts of entry 1 (vocabulary) were changed" in str(told.value)
    assert f"The last good backup is {good}" in str(told.value)
    assert f"seatworthy restore {good} --store {store} --replace" in str(told.value)


def test_without_a_good_copy_that_is_said_too(desk):
    assert "There is no good backup" in way_back(desk.store.path)


def test_a_damaged_file_is_said_before_anything_is_written(desk):
    good = back_up(desk)
    desk.close()
    path = desk.store.path
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 3])
    torn = path.read_bytes()
    with pytest.raises(StoreDamaged, match=f"The last good backup is {good}"):
        read_file(path)
    assert path.read_bytes() == torn


def test_a_copy_is_read_once_and_again_when_it_is_written(desk):
    back_up(desk)
    (line,) = copy_lines(desk.store.path)
    assert line.fault is None
    line.path.write_bytes(line.path.read_bytes()[:9000])
    (line,) = copy_lines(desk.store.path)
    assert line.path.name in line.fault


def test_the_reminder_comes_after_a_fortnight_with_acts_since(desk):
    assert reminder(desk) is None
    add_people(desk, ["Maren Thode"], since_on=None)
    assert reminder(desk) == "There is no copy of this record yet."
    back_up(desk)
    assert reminder(desk) is None
    aged(copies_of(desk.store.path)[0], REMIND_AFTER_DAYS + 1)
    assert reminder(desk) is None
    add_people(desk, ["Iker Solana"], since_on=None)
    assert (
        reminder(desk)
        == "The newest copy of this record is 15 days old, and more was recorded since."
    )


def test_the_page_says_whether_the_record_is_safe(desk):
    assert safety(desk).answer == "The record adds up, but has no copy"
    back_up(desk)
    view = safety(desk)
    assert view.answer.startswith("The record is safe; its last good copy was made ")
    assert view.answer.endswith("and nothing was recorded since")
    assert view.catch == ""
    aged(copies_of(desk.store.path)[0], 40)
    add_people(desk, ["Maren Thode"], since_on=None)
    view = safety(desk)
    assert view.answer.endswith("and 1 act was recorded since")
    assert view.catch == "back up now"


def test_a_copy_of_another_record_is_not_counted_on(desk, tmp_path):
    other = open_desk(tmp_path / "other.duckdb")
    target = back_up(other)
    other.close()
    ours = target.with_name(target.name.replace("other", desk.store.path.stem))
    manifest_path(target).rename(manifest_path(ours))
    target.rename(ours)
    view = safety(desk)
    assert view.answer == "The record adds up, but has no copy"
    assert "No copy that lies here is a good one of this record." in view.lead


def test_everything_is_read_again_when_asked(desk):
    back_up(desk)
    assert "1 copy is good." in check_all(desk)
    path = copies_of(desk.store.path)[0].path
    moment = path.stat()
    with path.open("rb+") as file:
        file.seek(12288 + 300)
        file.write(b"\x55\xaa\x55\xaa")
    os.utime(path, ns=(moment.st_atime_ns, moment.st_mtime_ns))
    assert f"0 copies are good. Not good: {path.name}" in check_all(desk)
    assert "no copy" in safety(desk).answer


def test_the_record_itself_is_read_from_the_disk(desk):
    assert verify_all(desk).entries == desk.version


def test_the_zip_holds_a_whole_plain_copy(desk, tmp_path):
    with zipfile.ZipFile(BytesIO(plain_zip(desk))) as archive:
        archive.extractall(tmp_path)
    (folder,) = tmp_path.glob("panel-plain-*")
    assert read_plain(folder, tmp_path / "again.duckdb").last_entry[0] == desk.version


def test_a_record_that_lost_what_its_newest_copy_holds_is_told(desk, tmp_path):
    before = back_up(desk)
    add_people(desk, ["Ada"], since_on=None)
    newest = back_up(desk)
    assert knows_more(desk) == ""
    behind = tmp_path / "elsewhere" / "panel.duckdb"
    behind.parent.mkdir()
    restore(before, behind)
    for path in (newest, manifest_path(newest)):
        path.rename(behind.parent / path.name)
    folder_of(behind).mkdir()
    for path in behind.parent.glob("panel-*"):
        path.rename(folder_of(behind) / path.name)
    with open_desk(behind).store as store:
        again = Desk(store)
        verify(again)  # it adds up: only the copy can tell
        assert f"{newest.name}, ends with entry 2, which this record doesn't hold" in knows_more(
            again
        )
        assert safety(again).catch == "look before you go on"
        assert reminder(again) is None  # nothing but the shipped vocabulary is on record yet
        add_people(again, ["Bashir"], since_on=None)
        assert reminder(again) == knows_more(again) != ""
        while back_up(again).name <= newest.name:  # a copy of the same second is not newer
            pass
        assert knows_more(again) == ""
