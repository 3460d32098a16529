"""Tables that leave: no live formula in any form, numbers and days as such, and the way back."""

import csv
import io
import re
from datetime import UTC, date, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from seatworthy.intake.live_text import as_meant, harmless
from seatworthy.intake.results import read_results
from seatworthy.intake.words import Vocabulary
from seatworthy.steps.history_exports import history_csv, history_xlsx
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.spreadsheet import SheetOf, csv_bytes, workbook_bytes, xlsx_bytes

# OWASP's page on injection into CSV names = + - @, tab (0x09), CR (0x0D), LF and, for some programs,
# the full-width forms; from memory.
BEGINS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠", "﹦")
BEFORE = ("", " ", "'", '"', "“", "\xa0", "\ufeff", "\u200b", "' \"", "\x0b")
LIVE = st.lists(
    st.sampled_from([*BEGINS_A_FORMULA, *BEFORE, ";", "a", "1", "\r\n", "x;=1"]), max_size=9
)
TEXTS = st.one_of(st.text(max_size=40), LIVE.map("".join))


@pytest.mark.parametrize("start", BEGINS_A_FORMULA)
@pytest.mark.parametrize("before", BEFORE)
def test_no_dress_hides_a_formula(start, before):
    assert harmless(f"{before}{start}1+1").startswith(f"'{before}")


@pytest.mark.parametrize("text", ["tank;=1+1", "tank\n=1+1", "tank;\ufeff@x", "tank\r＝1"])
def test_a_formula_after_a_mark_that_parts_cells_elsewhere_is_disarmed(text):
    """Where a comma is a decimal mark, spreadsheets part a file at semicolons, quoted or not."""
    assert harmless(text) == text[:5] + "'" + text[5:]


@pytest.mark.parametrize("text", ["", "007", "Łucja Wrzos", "it's 3-AFC", "a=b", "a, -b", "'tis"])
def test_other_words_stay_as_they_are(text):
    assert (harmless(text), as_meant(text)) == (text, text)


@settings(deadline=None)  # a busy machine takes its time
@given(TEXTS)
def test_every_text_comes_back_as_it_was(text):
    assert as_meant(harmless(text)) == text


@settings(deadline=None)  # a busy machine takes its time
@given(TEXTS)
def test_what_was_disarmed_starts_no_formula_anywhere(text):
    cells = re.split("[;\r\n]", harmless(text))
    assert not [cell for cell in cells if cell.startswith(BEGINS_A_FORMULA)]


@settings(deadline=None)  # a busy machine takes its time
@given(st.lists(TEXTS, min_size=1, max_size=4))
def test_a_row_is_one_row_and_comes_back(cells):
    rows = list(csv.reader(io.StringIO(_text(csv_bytes(cells, [cells])), newline=""), strict=True))
    meant = [cell.replace("\r\n", "\n").replace("\r", "\n") for cell in cells]
    assert [[as_meant(cell) for cell in row] for row in rows] == [meant, meant]


def test_csv_is_utf_8_with_its_mark_and_rows_end_as_rfc_4180_says():
    made = csv_bytes(["dose (µg)", "code"], [[33.5, "007"], [-2, None]])
    assert made == "\ufeffdose (µg),code\r\n33.5,007\r\n-2,\r\n".encode()


def test_days_moments_and_yes_or_no():
    moment = datetime(2026, 3, 14, 9, 26, 53, tzinfo=UTC)
    made = _text(csv_bytes(["a"] * 5, [[date(2026, 3, 14), moment, True, float("nan"), "-1"]]))
    assert made.splitlines()[1] == "2026-03-14,2026-03-14T09:26:53+00:00,yes,,'-1"


@pytest.mark.parametrize("made", [csv_bytes, xlsx_bytes])
def test_a_moment_that_does_not_say_its_zone_is_a_slip(made):
    with pytest.raises(ValueError, match="without its distance from UTC"):
        made(["at"], [[datetime(2026, 3, 14)]])


def test_a_workbook_holds_text_as_text_numbers_as_numbers_and_no_formula():
    cells = [
        "=1+1",
        "007",
        "#N/A",
        33.5,
        -2,
        date(2026, 3, 14),
        None,
        "\x00\x0b",
        "-3",
        date(1850, 1, 1),
    ]
    sheet = load_workbook(io.BytesIO(xlsx_bytes(["=2", *"bcdefghij"], [cells]))).active
    head, row = sheet.iter_rows()
    assert (head[0].value, head[0].data_type) == ("=2", "s")
    assert [cell.data_type for cell in row] == ["s", "s", "s", "n", "n", "d", "n", "s", "s", "s"]
    assert [row[n].value for n in (0, 1, 3, 4, 8)] == ["=1+1", "007", 33.5, -2, "-3"]
    assert (row[5].value.date(), row[5].number_format) == (date(2026, 3, 14), "yyyy-mm-dd")
    assert row[9].value == "1850-01-01"
    assert row[0].quotePrefix
    assert not row[1].quotePrefix


def test_a_column_is_as_wide_as_its_cells_and_long_text_runs_on_below():
    sheet = SheetOf("a:b/c [d]", ["who", "why"], [["A" * 20, "long " * 30]])
    made = load_workbook(io.BytesIO(workbook_bytes([sheet]))).active
    assert made.title == "a b c d "  # none of what no tab may have
    assert [made.column_dimensions[letter].width for letter in "AB"] == [21, 60]
    assert [cell.alignment.wrap_text for cell in made[2]] == [None, True]


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_a_results_file_of_ours_is_read_as_it_was_meant(tmp_path, ending):
    """The apostrophe is no part of what was said, and a code keeps its zeros."""
    heads = ["date", "panellist", "code", "compound", "level", "answer", "note"]
    rows = [[date(2025, 3, 6), "Bram", "007", "diacetyl", 3, "=butter", "a;-b"]]
    path = tmp_path / f"ours.{ending}"
    path.write_bytes({"csv": csv_bytes, "xlsx": xlsx_bytes}[ending](heads, rows))
    words = Vocabulary({"diacetyl": "diacetyl"})
    found = read_results(path, words, date(2026, 11, 25)).rows[0]
    assert (found.blind_code, found.words, found.note) == ("007", "=butter", "a;-b")
    assert found.session_on == date(2025, 3, 6)


def test_the_history_says_the_same_as_csv_and_as_a_workbook(desk):
    view = history_lines(desk)
    table = list(csv.reader(io.StringIO(_text(history_csv(view)), newline="")))
    sheet = load_workbook(io.BytesIO(history_xlsx(view))).active
    rows = [["" if cell is None else str(cell) for cell in row] for row in sheet.values]
    assert rows == table
    assert len(rows) > 1


def _text(made):
    return made.decode("utf-8-sig")
