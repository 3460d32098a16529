"""competence, seated and history on the command line; the head that backup and verify print."""

import csv
import io
import json
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from seatworthy.cli import main
from seatworthy.steps.chain_head import chain_head
from seatworthy.steps.demo import set_up_demo
from seatworthy.steps.desk import Desk, open_desk

TODAY = datetime.now(ZoneInfo("Europe/Dublin")).date()  # when the sample is recorded


@pytest.fixture(scope="module")
def sample(tmp_path_factory):
    store = tmp_path_factory.mktemp("sample") / "panel.duckdb"
    set_up_demo(store, TODAY)
    return store


@pytest.fixture(scope="module")
def head(sample):
    desk = open_desk(sample)
    found = chain_head(desk)
    desk.close()
    return found


@pytest.fixture(autouse=True)
def the_day(monkeypatch):
    monkeypatch.setattr(Desk, "today", lambda _: TODAY)


def said(capsys, *words):
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return code, out, err


def test_a_competence_record_is_written_as_pdf_and_its_place_is_printed(capsys, sample, tmp_path):
    code, out, err = said(
        capsys, "competence", "aoife", "--store", sample, "--to", tmp_path, "--as-of", "2026-03-14"
    )
    assert (code, err) == (0, "")
    written = next(tmp_path.iterdir())
    assert out.strip() == str(written)
    assert written.name.startswith("2026-03-14-competence-")
    assert written.read_bytes().startswith(b"%PDF")


def test_the_panel_on_a_day_answers_both_questions(capsys, sample, tmp_path):
    words = ("seated", "--store", sample, "--as-of", "2026-03-14", "--format", "json")
    assert said(capsys, *words, "--to", tmp_path / "now")[0] == 0
    recorded = ("--as-recorded", TODAY.isoformat())
    assert said(capsys, *words, *recorded, "--to", tmp_path / "then")[0] == 0
    now, then = (
        json.loads(next((tmp_path / name).iterdir()).read_text(encoding="utf-8"))
        for name in ("now", "then")
    )
    assert now["read"] == "by today's record"
    assert then["read"] == f"as the record stood at the end of {TODAY.day} {TODAY:%B %Y}"
    assert now["as_of"] == then["as_of"] == "2026-03-14"


def test_somebody_unknown_is_said_so(capsys, sample, tmp_path):
    code, _, err = said(capsys, "competence", "Nobody At All", "--store", sample, "--to", tmp_path)
    assert code == 1
    assert "Nobody on record is called “Nobody At All”" in err
    assert list(tmp_path.iterdir()) == []


def test_both_questions_have_files_of_their_own(capsys, sample, tmp_path):
    words = ("seated", "--store", sample, "--as-of", TODAY, "--format", "json", "--to", tmp_path)
    assert said(capsys, *words)[0] == 0
    assert said(capsys, *words, "--as-recorded", TODAY)[0] == 0
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names == [
        f"{TODAY}-panel-pale-lager-as-it-stood.json",
        f"{TODAY}-panel-pale-lager.json",
    ]


def test_a_file_that_is_there_is_never_written_over(capsys, sample, tmp_path):
    words = ("seated", "--store", sample, "--format", "csv", "--to", tmp_path)
    said(capsys, *words)
    (path,) = tmp_path.iterdir()
    path.write_text("kept", encoding="utf-8")
    code, _, err = said(capsys, *words)
    assert code == 1
    assert f"{path} exists already; name another folder with --to." in err
    assert path.read_text(encoding="utf-8") == "kept"


def test_a_record_of_before_that_holds_nothing_is_named_with_its_day(capsys, sample, tmp_path):
    words = ("--store", sample, "--as-of", "2026-03-14", "--as-recorded", "2026-03-14")
    code, _, err = said(capsys, "seated", *words, "--to", tmp_path)
    assert code == 1
    assert "At the end of 14 March 2026 there was nothing on record to write of." in err
    assert "Leave out --as-recorded to ask by today's record." in err
    assert list(tmp_path.iterdir()) == []


def test_somebody_who_came_on_record_later_is_said_to(capsys, sample, tmp_path):
    words = ("--store", sample, "--as-of", "2026-03-14", "--as-recorded", "2026-03-14")
    code, _, err = said(capsys, "competence", "aoife", *words, "--to", tmp_path)
    assert code == 1
    assert "At the end of 14 March 2026 nobody on record was called “aoife”." in err
    assert "Leave out --as-recorded" in err


def test_somebody_never_on_record_is_not_promised_by_todays(capsys, sample, tmp_path):
    words = ("--store", sample, "--as-recorded", "2026-03-14", "--to", tmp_path)
    err = said(capsys, "competence", "Nobody At All", *words)[2]
    assert "Nobody on record is called “Nobody At All”" in err
    assert "--as-recorded" not in err


def test_the_history_is_a_table_for_the_eye(capsys, sample):
    code, out, err = said(capsys, "history", "--store", sample)
    assert (code, err) == (0, "")
    assert "The chain adds up" in out
    assert "Results file “results.csv” brought in" in out


def test_the_history_is_csv_and_json_with_the_same_entries(capsys, sample):
    words = ("history", "--store", sample, "--format")
    table = list(csv.DictReader(io.StringIO(said(capsys, *words, "csv")[1])))
    found = json.loads(said(capsys, *words, "json")[1])
    assert [row["digest (SHA-256, hex)"] for row in table] == [
        entry["digest_sha256"] for entry in found["entries"]
    ]


def test_the_history_is_written_to_a_file_that_a_spreadsheet_knows(capsys, sample, tmp_path):
    path = tmp_path / "history.csv"
    assert said(capsys, "history", "--store", sample, "--format", "csv", "--to", path)[0] == 0
    assert path.read_bytes().startswith(b"\xef\xbb\xbf")


def test_a_kind_of_act_can_be_asked_for(capsys, sample):
    words = ("history", "--store", sample, "--format", "json", "--kind", "files")
    found = json.loads(said(capsys, *words)[1])
    assert [entry["sealed_as"] for entry in found["entries"]] == ["results"]


def test_verify_prints_the_head_whole(capsys, sample, head):
    out = said(capsys, "verify", "--store", sample)[1]
    assert f"It ends with {head.words}. Whole digest: {head.digest}." in out


def test_backup_prints_the_head_and_writes_it_into_the_manifest(capsys, sample, head, tmp_path):
    target = tmp_path / "kept.duckdb"
    out = said(capsys, "backup", target, "--store", sample)[1]
    assert f"It ends with {head.words}." in out
    manifest = json.loads((tmp_path / "kept.duckdb.manifest.json").read_text(encoding="utf-8"))
    assert f"up to entry {head.entry_no}, whose digest is {head.digest}" in manifest["in_words"]


def test_a_manifest_of_before_is_still_read(capsys, sample, tmp_path):
    target, other = tmp_path / "kept.duckdb", tmp_path / "other.duckdb"
    said(capsys, "backup", target, "--store", sample)
    path = tmp_path / "kept.duckdb.manifest.json"
    manifest = json.loads(path.read_text(encoding="utf-8"))
    del manifest["in_words"]
    path.write_text(json.dumps(manifest), encoding="utf-8")
    assert said(capsys, "restore", target, "--store", other)[0] == 0
