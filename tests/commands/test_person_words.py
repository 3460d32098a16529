"""person on the command line: what is kept, and the copy."""

import json
import shutil
import zipfile

import pytest

from seatworthy.cli import main
from seatworthy.steps.desk import open_desk
from seatworthy.steps.panel import add_people


@pytest.fixture
def store(stocked, tmp_path):
    path = tmp_path / "panel.duckdb"
    shutil.copyfile(stocked, path)
    desk = open_desk(path)
    add_people(desk, ["Ada Moran", "Bo Larsen"], None)
    desk.close()
    return path


def said(capsys, *words):
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return code, out, err


def test_what_is_kept_is_printed(capsys, store):
    code, out, err = said(capsys, "person", "ada", "--store", store)
    assert (code, err) == (0, "")
    assert out.startswith("Of Ada Moran a name is kept; nobody has said for how long.\n")
    assert "1 statement of being on the panel or not, recorded on" in out


def test_a_copy_is_written_and_recorded(capsys, store, tmp_path):
    file = tmp_path / "ada.zip"
    code, out, _ = said(capsys, "person", "ada", "--copy", file, "--by", "bo", "--store", store)
    assert (code, out.splitlines()[0]) == (0, str(file))
    with zipfile.ZipFile(file) as made:
        assert json.loads(made.read("kept.json"))["name"] == "Ada Moran"
    _, out, _ = said(capsys, "history", "--kind", "kept", "--store", store)
    assert "Ada Moran was given a copy of what is kept about them. By Bo Larsen." in out


def test_a_file_that_is_there_is_kept_and_nothing_recorded(capsys, store, tmp_path):
    file = tmp_path / "ada.zip"
    file.write_text("mine")
    code, _, err = said(capsys, "person", "ada", "--copy", file, "--store", store)
    assert code != 0
    assert "exists already; name another file. Nothing was written." in err
    assert file.read_text() == "mine"
    assert (
        "copy"
        not in said(capsys, "history", "--kind", "kept", "--store", store)[1].split("\n", 3)[3]
    )


def test_a_name_that_nobody_bears_is_said(capsys, store):
    code, _, err = said(capsys, "person", "zoe", "--store", store)
    assert code != 0
    assert "Nobody on record is called “zoe”" in err
