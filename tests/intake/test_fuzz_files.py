"""Hostile results and shelf files, a seeded few of tests/bench/fuzz_all.py, and what it found there."""

import io
import zipfile
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from seatworthy.errors import FileRefused
from seatworthy.intake.cells import read_level
from seatworthy.intake.csv_text import text_of
from seatworthy.intake.shelf import read_shelf
from seatworthy.intake.words import Unreadable, read_name
from seatworthy.intake.workbook import read_workbook

BENCH = Path(__file__).resolve().parents[1] / "bench"
DRAWS = st.randoms(use_true_random=False)
seeded = settings(derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))


@pytest.fixture(scope="module")
def fields(tmp_path_factory):
    """The fields of files, by name."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCH)
        import fuzz_results
        import fuzz_shelf
        import fuzz_workbooks

        folder = tmp_path_factory.mktemp("hostile")
        kinds = (fuzz_results.ResultsFiles, fuzz_workbooks.Workbooks, fuzz_shelf.ShelfFiles)
        yield {kind.__name__: kind(folder) for kind in kinds}


@settings(seeded, max_examples=250)
@given(draw=DRAWS)
def test_no_hostile_results_file_is_taken_in(fields, draw):
    fields["ResultsFiles"].attempt(draw)


@settings(seeded, max_examples=40)
@given(draw=DRAWS)
def test_no_hostile_workbook_is_taken_in(fields, draw):
    fields["Workbooks"].attempt(draw)


@settings(seeded, max_examples=150)
@given(draw=DRAWS)
def test_no_hostile_shelf_file_is_taken_in(fields, draw):
    fields["ShelfFiles"].attempt(draw)


@pytest.mark.parametrize(
    "changed",
    [
        {"level": Decimal(-3)}, {"level": Decimal("NaN")}, {"level": Decimal(5000)}, {"compound": None},
        {"session_on": date(2099, 1, 1)}, {"session_on": date(1, 1, 1)}, {"panellist": ""},
        {"panellist": "A\u202ea"}, {"words": "x" * 121}, {"position": 0}, {"answer": "right"},
        {"rating": Decimal(3)}, {"dose_ug": Decimal(1)}, {"note": "a\x00"},
    ],
)  # fmt: skip
def test_the_judge_of_these_finds_a_row_that_should_not_have_been_taken(read, changed):
    found = read("date,panellist,compound,level,answer\n2026-03-05,Ann,dms,3,banana\n")
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCH)
        from fuzz_results import judge
    judge(found)
    with pytest.raises(AssertionError, match="line 2: "):
        judge(replace(found, rows=(replace(found.rows[0], **changed),)))


def test_a_long_cell_of_blanks_is_refused_before_it_takes_long():
    """With a search that took the square of its length this took many minutes."""
    with pytest.raises(Unreadable, match="must be a number"):
        read_level("1" + " " * 500_000 + "!")


def test_a_long_word_in_windows_text_is_read_before_it_takes_long():
    """Likewise: the example for the note is looked for around the first such letter."""
    text, (note,) = text_of("monday.csv", ("y" * 1_000_000 + " caf\u00e9 au lait").encode("cp1252"))
    assert text.endswith("caf\u00e9 au lait")
    assert "“caf\u00e9”" in note


@pytest.mark.parametrize("name", ["\u0345", "\u0301", "\u200d", "...", " \u0345 "])
def test_a_name_of_marks_alone_is_refused(name):
    with pytest.raises(Unreadable, match="must be a name with letters or digits"):
        read_name(name)


def _refused_shelf(tmp_path, vocabulary, text):
    path = tmp_path / "shelf.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(FileRefused) as refused:
        read_shelf(path, vocabulary)
    return str(refused.value)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ('"sweet\\u202ecorn"', "holds a hidden character: “sweet\\u202ecorn”; write it again"),
        ('"corn\\tcob\\u0000"', "holds a hidden character"),
        (f'"{"x" * 3000}"', "must have at most 120 characters, got 3000"),
    ],
)
def test_a_wording_on_the_shelf_can_be_seen_and_is_no_novel(tmp_path, vocabulary, words, told):
    text = f'[[synonyms]]\ncompound = "dms"\nwords = [{words}]\n'
    assert f"line 3: a wording {told}" in _refused_shelf(tmp_path, vocabulary, text)


@pytest.mark.parametrize("day", ["0001-01-01", "1899-12-31", "2200-01-02", "9999-12-31"])
def test_a_day_that_nobody_can_mean_is_refused(tmp_path, vocabulary, day):
    text = f'[[working_thresholds]]\ncompound = "dms"\nvalue = 3\nunit = "ug/L"\nfrom = {day}\n'
    told = _refused_shelf(tmp_path, vocabulary, text)
    assert f"line 5: from must lie between 1900-01-01 and 2200-01-01, got {day}." in told


def test_the_key_of_a_family_is_short(tmp_path, vocabulary):
    told = _refused_shelf(tmp_path, vocabulary, f"[beer_families.{'y' * 41}]\n")
    assert "line 1: the key “" in told
    assert "like pale_lager, at most 40 of them." in told


def test_a_key_of_very_many_parts_is_refused_before_it_takes_long(tmp_path, vocabulary):
    told = _refused_shelf(tmp_path, vocabulary, f"\n{'.'.join('a' * 100_000)} = 1\n")
    assert "line 2: holds 99999 points; break it up" in told


def test_a_shelf_that_is_no_toml_says_what_to_write(tmp_path, vocabulary):
    told = _refused_shelf(tmp_path, vocabulary, "[brewery\n")
    assert "line 1: cannot be read as TOML: " in told
    assert "Write a key as key = value" in told


def _workbook(comment):
    """A workbook whose sheet holds a comment."""
    from openpyxl import Workbook

    book, packed, changed = Workbook(), io.BytesIO(), io.BytesIO()
    book.active.append(["date", "compound", "panellist", "answer"])
    book.save(packed)
    with zipfile.ZipFile(packed) as before, zipfile.ZipFile(changed, "w") as after:
        for part in before.namelist():
            data = before.read(part)
            is_sheet = part.endswith("sheet1.xml")
            after.writestr(
                part, data.replace(b"<sheetData>", comment + b"<sheetData>") if is_sheet else data
            )
    return changed.getvalue()


@pytest.mark.parametrize("tag", [b"<c ", b"<x:mergeCell "])
def test_a_sheet_of_open_tags_takes_no_longer_than_its_length(tag):
    """With a search that ran on to the end of the sheet this took minutes."""
    comment = b"<!-- " + tag * 60_000 + b" x -->"
    assert read_workbook("x.xlsx", _workbook(comment), None).header[0] == "date"
