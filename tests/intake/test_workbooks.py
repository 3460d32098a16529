import io
import re
import zipfile
from datetime import date, datetime

import pytest
from openpyxl import Workbook
from openpyxl.comments import Comment

from seatworthy.errors import FileRefused

HEAD = ["date", "panellist", "code", "compound", "level", "answer"]
ROW = [datetime(2026, 3, 5), "Ann", "007", "dms", 2.5, "dms"]


def book_of(*rows, head=HEAD):
    book = Workbook()
    for row in (head, *rows):
        book.active.append(row)
    return book


def bytes_of(book):
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def repacked(data, change):
    """The same workbook with its sheet's XML changed."""
    source, target = zipfile.ZipFile(io.BytesIO(data)), io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as packed:
        for name in source.namelist():
            part = source.read(name)
            packed.writestr(name, change(part) if name.endswith("sheet1.xml") else part)
    return target.getvalue()


def test_dates_numbers_and_text_arrive_as_they_are_meant(read):
    (row,) = read(book_of(ROW), "monday.xlsx").rows
    assert (row.line, row.session_on, row.blind_code) == (2, date(2026, 3, 5), "007")
    assert (str(row.level), row.words) == ("2.5", "dms")


def test_the_ending_of_the_name_does_not_matter(read):
    assert len(read(bytes_of(book_of(ROW)), "monday.csv").rows) == 1


def test_a_code_shown_with_its_zeros_keeps_them(read):
    book = book_of([*ROW[:2], 7, *ROW[3:]])
    book.active["C2"].number_format = "000"
    assert read(book, "monday.xlsx").rows[0].blind_code == "007"


def test_whole_numbers_have_no_decimals(read):
    book = book_of([*ROW[:2], 351.0, "dms", 0.1 + 0.2, "dms"])
    (row,) = read(book, "monday.xlsx").rows
    assert (row.blind_code, str(row.level)) == ("351", "0.3")


def test_ticks_count_as_right_and_wrong(read):
    head = ["date", "panellist", "method", "compound", "level", "answer"]
    rows = [[datetime(2026, 3, 5), "Ann", "3-AFC", "dms", 3, tick] for tick in (True, False)]
    assert [r.answer for r in read(book_of(*rows, head=head), "m.xlsx").rows] == ["right", "wrong"]


def test_empty_rows_and_columns_around_the_data_do_no_harm(read):
    book = book_of(ROW, [], [None] * 20, ROW[:2] + ["008"] + ROW[3:])
    book.active["Z99"].number_format = "0.00"
    assert [row.line for row in read(book, "monday.xlsx").rows] == [2, 5]


def test_a_multiple_that_became_a_date_is_refused(read):
    with pytest.raises(FileRefused, match="line 2: level must not be a date, got 2026-04-02"):
        read(book_of([*ROW[:4], datetime(2026, 4, 2), "dms"]), "monday.xlsx")


def test_text_dates_among_real_ones_are_refused(read):
    rows = [ROW, ["25/03/2026", *ROW[1:2], "008", *ROW[3:]]]
    with pytest.raises(FileRefused, match="line 3: date is text .* the wrong way round"):
        read(book_of(*rows), "monday.xlsx")


def test_merged_cells_are_named(read):
    book = book_of(ROW, ROW[:2] + ["008"] + ROW[3:])
    book.active.merge_cells("A2:A3")
    with pytest.raises(FileRefused, match="line 2: the cells A2:A3 are merged; unmerge them"):
        read(book, "monday.xlsx")


def test_a_formula_whose_value_was_never_saved_is_named(read):
    with pytest.raises(FileRefused, match="line 2: the formula in E2 has no saved value"):
        read(book_of([*ROW[:4], "=1+2", "dms"]), "monday.xlsx")


def test_a_formula_with_its_value_is_read(read):
    data = bytes_of(book_of([*ROW[:4], "=1+2", "dms"]))
    saved = repacked(data, lambda xml: re.sub(rb"<v\s*/>|<v></v>", b"<v>3</v>", xml))
    assert read(saved, "monday.xlsx").rows[0].level == 3


def test_an_error_of_the_spreadsheet_is_named(read):
    with pytest.raises(FileRefused, match="line 2: level holds the spreadsheet's error “#DIV/0!”"):
        read(book_of([*ROW[:4], "#DIV/0!", "dms"]), "monday.xlsx")


def test_a_cell_right_of_the_header_is_named(read):
    with pytest.raises(FileRefused, match="line 2: “stray” stands in column 7"):
        read(book_of([*ROW, "stray"]), "monday.xlsx")


def test_of_several_filled_sheets_one_must_be_named(read):
    book = book_of(ROW)
    book.create_sheet("Plan").append(["anything"])
    with pytest.raises(FileRefused, match="2 sheets with content .*“Plan”.* with --sheet NAME"):
        read(book, "monday.xlsx")
    assert len(read(book, "monday.xlsx", sheet="sheet").rows) == 1
    with pytest.raises(
        FileRefused, match="no sheet called “Tuesday”: choose one of “Sheet”, “Plan”"
    ):
        read(book, "monday.xlsx", sheet="Tuesday")


def test_empty_sheets_beside_the_filled_one_are_passed_over_with_a_note(read):
    book = book_of(ROW)
    book.create_sheet("Empty")
    assert read(book, "m.xlsx").notes == ("Read the sheet “Sheet”; the others are empty.",)


def test_an_empty_workbook_is_refused(read):
    with pytest.raises(FileRefused, match="the file is empty"):
        read(Workbook(), "monday.xlsx")


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"date,panellist\n", "is no workbook, whatever its name says"),
        (b"PK\x03\x04 and no more", "is no workbook that can be read"),
        (b"", "the file is empty"),
    ],
)
def test_what_is_no_workbook_is_refused(read, data, reason):
    with pytest.raises(FileRefused, match=reason):
        read(data, "monday.xlsx")


def test_a_zip_that_holds_something_else_is_refused(read):
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as packed:
        packed.writestr("hello.txt", "hello")
    with pytest.raises(FileRefused, match="is no workbook that can be read"):
        read(file.getvalue(), "monday.xlsx")


def test_a_workbook_cut_off_half_way_is_refused(read):
    data = bytes_of(book_of(ROW))
    with pytest.raises(FileRefused, match="is no workbook that can be read"):
        read(data[: len(data) // 2], "monday.xlsx")


def test_a_bomb_is_refused_by_its_unpacked_size(read):
    file = io.BytesIO(bytes_of(book_of(ROW)))
    with zipfile.ZipFile(file, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/media/noise.bin", bytes(201_000_000))
    with pytest.raises(FileRefused, match="unpacks to more than 200 MB"):
        read(file.getvalue(), "monday.xlsx")


def test_entities_that_multiply_are_refused(read):
    levels = "".join(f'<!ENTITY e{n + 1} "{f"&e{n};" * 10}">' for n in range(9))
    bomb = f'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY e0 "ha">{levels}]>'.encode()
    data = bytes_of(book_of(ROW))
    changed = repacked(
        data, lambda xml: bomb + xml.replace(b"<v>2.5</v>", b"<v>&e9;</v>").split(b"?>", 1)[-1]
    )
    with pytest.raises(FileRefused, match="is no workbook that can be read|level must be"):
        read(changed, "monday.xlsx")


def test_too_many_columns_are_refused(read):
    with pytest.raises(FileRefused, match="301 columns; at most 300"):
        read(book_of(head=[f"c{n}" for n in range(301)]), "monday.xlsx")


def test_comments_and_styles_are_passed_over(read):
    book = book_of(ROW)
    book.active["B2"].comment = Comment("left early", "Bram")
    assert read(book, "monday.xlsx").panellists == ("Ann",)
