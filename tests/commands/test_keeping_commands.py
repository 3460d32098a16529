"""restore, verify, write-plain and read-plain as they are typed."""

import shutil

import pytest

from seatworthy.cli import main
from seatworthy.steps.last_copy import forget_checks
from seatworthy.store.copies import copies_of, folder_of
from seatworthy.store.copying import read_whole


@pytest.fixture
def store(stocked, tmp_path):
    """A stocked store, closed."""
    forget_checks()
    return shutil.copyfile(stocked, tmp_path / "panel.duckdb")


@pytest.fixture
def say(capsys, store):
    """Say a command about the store; returns its exit code and what it printed."""

    def said(*words):
        code = main([*map(str, words), "--store", str(store)])
        return code, *capsys.readouterr()

    return said


def test_restore_without_a_file_lists_what_there_is(say, store):
    code, out, _ = say("restore")
    assert (code, out) == (0, f"No backup lies in {folder_of(store)}; name the file of one.\n")
    say("backup")
    say("backup")
    newest, older = copies_of(store)
    newest.path.write_bytes(newest.path.read_bytes()[:9000])
    code, out, _ = say("restore")
    lines = out.splitlines()
    assert code == 0
    assert newest.path.name in lines[1]
    assert "NOT GOOD" in lines[1]
    assert older.path.name in lines[2]
    assert lines[2].endswith(" MB, good")
    assert "by hand, entry 1, " in lines[2]
    assert lines[3].endswith(f"seatworthy restore {older.path} --store {store} --replace")


def test_restore_says_what_was_proved(say, store):
    say("backup")
    (copy,) = copies_of(store)
    code, out, _ = say("restore", copy.path, "--replace")
    assert code == 0
    assert "matches its manifest" in out
    assert "the history up to entry 1; all of it adds up." in out
    assert len(list(store.parent.glob("panel.before-restore-*"))) == 1


@pytest.mark.parametrize("size", [0, 5000, 0.5])
def test_verify_names_the_last_good_backup_of_a_damaged_file(say, store, size):
    say("backup")
    (copy,) = copies_of(store)
    whole = store.read_bytes()
    store.write_bytes(whole[: int(size * len(whole)) if isinstance(size, float) else size])
    code, out, err = say("verify")
    assert (code, out) == (2, "")
    assert f"The last good backup is {copy.path}" in err
    assert f"seatworthy restore {copy.path} --store {store} --replace" in err
    assert "Traceback" not in err
    assert main(["restore", str(copy.path), "--store", str(store), "--replace"]) == 0
    assert say("verify")[0] == 0


def test_the_record_goes_out_as_text_and_comes_back_the_same(say, store, tmp_path, capsys):
    code, out, _ = say("write-plain", tmp_path / "plain")
    assert code == 0
    assert "as CSV and as Parquet: equal" in out
    assert say("write-plain", tmp_path / "plain")[0] == 2
    again = tmp_path / "again.duckdb"
    assert main(["read-plain", str(tmp_path / "plain"), "--store", str(again)]) == 0
    assert "every table and the whole history match" in capsys.readouterr().out
    assert read_whole(again) == read_whole(store)
    code, _, err = say("read-plain", tmp_path / "plain")
    assert code == 2
    assert "exists already" in err


def test_a_folder_that_is_none_gets_a_sentence(say, store, tmp_path):
    store.unlink()
    code, _, err = say("read-plain", tmp_path)
    assert code == 2
    assert "no plain copy" in err
    assert not store.exists()


def test_a_store_of_an_earlier_version_is_said_to_be_kept_as_it_was(capsys, earlier):
    words = ["verify", "--store", str(earlier)]
    assert main(words) == 0
    (copy,) = copies_of(earlier)
    assert capsys.readouterr().err.endswith(f"a copy of it as it was is kept: {copy.path}\n")
    assert main(words) == 0
    assert capsys.readouterr().err == ""
