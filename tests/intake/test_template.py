import csv

import pytest
from openpyxl import load_workbook

from seatworthy.errors import PanelError
from seatworthy.intake.columns import COLUMNS, find_columns
from seatworthy.intake.template import write_template


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
@pytest.mark.parametrize("shape", ["answers", "glasses"])
def test_a_template_is_read_back_without_a_fault(tmp_path, read, shape, ending):
    path = tmp_path / f"template{ending}"
    write_template(path, shape)
    found = read(path.read_bytes(), path.name)
    assert (found.shape, found.notes, len(found.rows)) == (shape, (), 15)
    assert "061" in {row.blind_code for row in found.rows}
    assert {row.method for row in found.rows} == {"naming", "3afc"}
    assert found.open_words == {"sweetcorn": 1}


def test_both_shapes_and_both_formats_say_the_same(tmp_path, read):
    said = set()
    for shape in ("answers", "glasses"):
        for ending in (".csv", ".xlsx"):
            path = tmp_path / f"{shape}{ending}"
            write_template(path, shape)
            rows = read(path.read_bytes(), path.name).rows
            said.add(
                frozenset((r.panellist, r.blind_code, r.level, r.dose_ug, r.words) for r in rows)
            )
    assert len(said) == 1


@pytest.mark.parametrize("shape", ["answers", "glasses"])
def test_every_column_written_is_explained(tmp_path, shape):
    path = tmp_path / "template.csv"
    explained = write_template(path, shape)
    with path.open(encoding="utf-8-sig", newline="") as file:
        header = next(csv.reader(file))
    columns, faults = find_columns(header, 1)
    assert not faults
    assert columns.shape == shape
    for name in columns.places:
        assert f"  {name} " in explained
        assert COLUMNS[name] in explained


def test_a_workbook_has_one_sheet_and_keeps_zeros_that_are_typed_in(tmp_path):
    path = tmp_path / "template.xlsx"
    write_template(path, "glasses")
    book = load_workbook(path)
    assert book.sheetnames == ["results"]
    code = next(cell for cell in book.active[1] if cell.value == "code")
    assert book.active.column_dimensions[code.column_letter].number_format == "@"


def test_another_ending_is_refused(tmp_path):
    with pytest.raises(PanelError, match="template.ods must end in .csv or .xlsx"):
        write_template(tmp_path / "template.ods", "glasses")


def test_a_folder_that_is_not_there_is_a_sentence(tmp_path):
    with pytest.raises(PanelError, match="cannot be written"):
        write_template(tmp_path / "nowhere" / "template.csv", "glasses")


def test_another_shape_is_a_slip_of_the_programmer(tmp_path):
    with pytest.raises(ValueError, match="shape must be"):
        write_template(tmp_path / "template.csv", "rows")
