"""A plain copy: read back with nothing lost, and readable without us."""

import csv
import json
import re
import shutil
import subprocess
import sys
from datetime import date, datetime
from decimal import Decimal

import pyarrow.parquet as pq
import pytest
from given import beer, glass, person, session, vocabulary

from seatworthy.errors import StoreDamaged, StoreError, StoreNewer
from seatworthy.store.connecting import connect
from seatworthy.store.copying import read_whole
from seatworthy.store.file import Store
from seatworthy.store.plain import sha256_of, write_plain
from seatworthy.store.plain_back import read_plain
from seatworthy.store.schema import newest_number

TEXTS = (
    "", "NULL", r"\N", r"\\N", "\\", "it's", 'she said "yes", twice', "a,b;c\td", "one\ntwo", "one\r\ntwo", "one\rtwo",
    "\n", " ", "Łódź 🍺 naïve", "=1+1", "\ufeffmark", "zero\x00byte", "unit\x1fand\x1erecord", "line\u2028two",
    "'", '"', "x" * 200_000,
)  # fmt: skip


@pytest.fixture(scope="module")
def written(bare, tmp_path_factory):
    """A store with every text that could go wrong, closed, and its plain copy."""
    folder = tmp_path_factory.mktemp("written")
    path = folder / "panel.duckdb"
    shutil.copyfile(bare, path)
    with Store.open(path) as store:
        vocabulary(store)
        with store.recording("results") as act:
            beer(act)
            sitting, who = session(act), person(act, "ada")
            glass(act, sitting, who, "dms", "dms", level=3)
            glass(act, sitting, who, None, "nothing")
            act.add_all(
                ("shelf_file", {"file_name": text, "file_digest": "0" * 64}) for text in TEXTS
            )
            act.add("background", {
                "beer": "pils", "compound": "dms", "known": "unknown", "background_ug_l": None,
                "valid_from_on": date(1999, 12, 31),
            })  # fmt: skip
            for n, amount in enumerate(("0.000000001", "123456789.123456789", "7")):
                act.add("working_threshold", {
                    "compound": "dms", "family": "", "threshold_ug_l": Decimal(amount),
                    "valid_from_on": date(2020, 1, 1 + n),
                })  # fmt: skip
        write_plain(store, folder / "plain")
    return path


@pytest.fixture
def folder(written, tmp_path):
    """A plain copy of one's own."""
    return shutil.copytree(written.parent / "plain", tmp_path / "plain")


def without(folder, kind):
    for path in (folder / "tables").glob(f"*.{kind}"):
        path.unlink()


def rows_of(folder, table):
    with (folder / "tables" / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("missing", ["parquet", "csv"])
def test_a_plain_copy_becomes_the_same_store_again(written, folder, tmp_path, missing):
    without(folder, missing)
    target = tmp_path / "again.duckdb"
    manifest = read_plain(folder, target)
    assert read_whole(target) == read_whole(written) == manifest.tables
    with Store.open(target) as again:
        assert again.kept_before_upgrade is None
        kept = again.cursor().execute("select file_name from shelf_file").fetchall()
    assert sorted(text for (text,) in kept) == sorted(TEXTS)


def test_a_table_whose_parquet_is_missing_is_read_from_its_csv(written, folder, tmp_path):
    (folder / "tables" / "shelf_file.parquet").unlink()
    read_plain(folder, tmp_path / "again.duckdb")
    assert read_whole(tmp_path / "again.duckdb") == read_whole(written)


def test_the_check_that_travels_along_needs_nothing_of_ours(folder):
    said = subprocess.run(
        [sys.executable, "-I", "-S", "check.py"], cwd=folder, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert (said.returncode, said.stderr) == (0, "")
    assert said.stdout == "All tables and the whole history add up.\n"


def test_it_sees_a_text_that_was_changed(folder):
    path = folder / "tables" / "shelf_file.csv"
    path.write_bytes(
        path.read_bytes().replace(b"naive", b"naiv").replace("naïve".encode(), b"naive")
    )
    said = subprocess.run(
        [sys.executable, "-I", "-S", "check.py"], cwd=folder, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert said.returncode == 1
    assert "Table shelf_file holds other rows" in said.stdout


def test_any_reader_of_csv_tells_nothing_from_an_empty_text(folder):
    texts = [row["file_name"] for row in rows_of(folder, "shelf_file")]
    assert sorted(text.removeprefix("\\") for text in texts) == sorted(TEXTS)
    assert rows_of(folder, "background")[0]["background_ug_l"] == r"\N"
    raw = (folder / "tables" / "background.csv").read_bytes()
    assert raw.endswith(b"\r\n")
    assert raw.count(b"\r\n") == 2


def test_amounts_days_and_moments_are_exact_in_the_csv(folder):
    rows = rows_of(folder, "working_threshold")
    amounts = {row["threshold_ug_l"] for row in rows}
    assert amounts == {"0.000000001", "123456789.123456789", "7.000000000"}
    assert {row["valid_from_on"] for row in rows} == {"2020-01-01", "2020-01-02", "2020-01-03"}
    moment = rows[0]["recorded_at"]
    assert moment.endswith("Z")
    assert datetime.fromisoformat(moment).tzinfo is not None
    assert len(moment) == len("2026-03-14T10:15:00.123456Z")


def test_another_reader_of_parquet_finds_the_same_values(folder):
    table = pq.read_table(folder / "tables" / "working_threshold.parquet")
    assert sorted(table["threshold_ug_l"].to_pylist()) == [
        Decimal("0.000000001"), Decimal("7.000000000"), Decimal("123456789.123456789"),
    ]  # fmt: skip
    names = pq.read_table(folder / "tables" / "shelf_file.parquet")["file_name"].to_pylist()
    assert sorted(names) == sorted(TEXTS)
    assert pq.read_table(folder / "tables" / "background.parquet")[
        "background_ug_l"
    ].to_pylist() == [None]


def test_the_readme_names_every_table_and_column(folder):
    text = (folder / "README.txt").read_text(encoding="utf-8")
    told = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
    for table, about in told["tables"].items():
        part = text.split(f"\n{table} (", 1)[1].split("\n\n")[0]
        assert all(f"\n    {name} " in part for name, *_ in about["columns"]), table
    assert "threshold_ug_l       decimal(18,9), micrograms in a litre" in text
    assert max(map(len, text.splitlines())) <= 110
    assert "create table answer" in (folder / "schema.sql").read_text(encoding="utf-8")


def test_the_readme_leads_from_a_day_to_seats_rules_and_glasses_by_names_that_are_there(folder):
    text = (folder / "README.txt").read_text(encoding="utf-8")
    told = text.partition("WHO HELD A SEAT ON A DAY")[2].partition("BACK INTO")[0]
    columns = {
        "decision": ["person_id", "family", "from_on", "until_on", "state", "rulebook_digest", "as_of_on"],
        "decision_compound": ["decision_id"], "rulebook": ["rulebook_digest"], "sitting": ["session_id"],
        "serving": ["serving_id", "sample_id"], "answer": ["serving_id"], "sample": ["sitting_id"],
        "session": ["session_on"], "set_aside": ["serving_id", "is_aside"],
    }  # fmt: skip
    for table, names in columns.items():
        assert re.search(rf"\b{table}\b", told), table
        with (folder / "tables" / f"{table}.csv").open(encoding="utf-8", newline="") as file:
            assert set(names) <= set(next(csv.reader(file))), table


def test_every_file_is_told_with_its_digest(folder):
    told = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))["files"]
    found = {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}
    assert found == {*told, "manifest.json"}
    assert all(sha256_of(folder / name) == digest for name, digest in told.items())


def test_no_column_is_a_float(folder):
    told = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))["tables"]
    types = {type_ for about in told.values() for _, type_, _ in about["columns"]}
    assert not types & {"FLOAT", "DOUBLE", "REAL"}


def test_a_folder_or_store_that_is_there_is_never_touched(written, folder, tmp_path):
    before = sha256_of(folder / "manifest.json")
    with Store.open(shutil.copyfile(written, tmp_path / "own.duckdb")) as store:
        with pytest.raises(StoreError, match="exists already"):
            write_plain(store, folder)
        with pytest.raises(StoreError, match="There is no folder"):
            write_plain(store, tmp_path / "none" / "plain")
    (tmp_path / "mine.duckdb").write_text("mine")
    with pytest.raises(StoreError, match="exists already"):
        read_plain(folder, tmp_path / "mine.duckdb")
    assert (tmp_path / "mine.duckdb").read_text() == "mine"
    assert sha256_of(folder / "manifest.json") == before
    assert not list(tmp_path.glob("*.unfinished"))


@pytest.mark.parametrize(
    ("harm", "words"),
    [
        (lambda f: (f / "manifest.json").unlink(), "is no plain copy"),
        (lambda f: (f / "manifest.json").write_text("{}"), "not a manifest"),
        (lambda f: (f / "manifest.json").write_text("[" * 9), "not a manifest"),
        (lambda f: (f / "tables" / "answer.parquet").write_bytes(b"x"), "answer.parquet was changed"),
        (lambda f: [p.unlink() for p in (f / "tables").glob("answer.*")], "has neither"),
    ],
)  # fmt: skip
def test_a_plain_copy_that_was_harmed_is_said_and_nothing_is_made(folder, tmp_path, harm, words):
    harm(folder)
    with pytest.raises(StoreError, match=words):
        read_plain(folder, tmp_path / "again.duckdb")
    assert [path.name for path in tmp_path.iterdir()] == ["plain"]


def changed(folder, **about):
    """The manifest says something else."""
    path = folder / "manifest.json"
    path.write_text(json.dumps(json.loads(path.read_text(encoding="utf-8")) | about))


def test_rows_that_were_changed_with_their_file_digest_are_found(folder, tmp_path):
    without(folder, "parquet")
    path = folder / "tables" / "person_name.csv"
    path.write_bytes(path.read_bytes().replace(b"ada\r\n", b"bob\r\n"))
    files = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))["files"]
    changed(folder, files=files | {"tables/person_name.csv": sha256_of(path)})
    with pytest.raises(StoreDamaged, match="in table person_name"):
        read_plain(folder, tmp_path / "again.duckdb")
    assert not (tmp_path / "again.duckdb").exists()


def test_a_later_version_is_asked_for(folder, tmp_path):
    changed(folder, tables_number=newest_number() + 1)
    with pytest.raises(StoreNewer, match="Install that version"):
        read_plain(folder, tmp_path / "again.duckdb")
    changed(folder, form="seatworthy plain copy, form 9")
    with pytest.raises(StoreNewer, match="form 9"):
        read_plain(folder, tmp_path / "again.duckdb")


def test_a_plain_copy_of_an_earlier_version_is_read_and_then_brought_up_to_date(earlier, tmp_path):
    again = tmp_path / "again.duckdb"
    con = connect(earlier)
    write_plain(Store(con, earlier), tmp_path / "plain")
    con.close()
    read_plain(tmp_path / "plain", again)
    before = read_whole(earlier)
    assert read_whole(again) == before
    with Store.open(again) as opened:
        assert read_whole(opened.kept_before_upgrade) == before
