"""Verdicts written to a file that a spreadsheet opens as it is."""

import json

from seatworthy.cli import main


def test_csv_and_json_go_to_a_file_and_a_table_does_not(tmp_path, stocked, capsys):
    def written(*words):
        code = main(["verdicts", "--store", str(stocked), *map(str, words)])
        return code, capsys.readouterr()

    sheet, plain = tmp_path / "verdicts.csv", tmp_path / "verdicts.json"
    assert written("--format", "csv", "--to", sheet)[0] == 0
    assert sheet.read_bytes().startswith(b"\xef\xbb\xbfas_of,family,panellist")
    assert sheet.read_bytes().endswith(b"change\r\n")
    assert written("--format", "json", "--to", plain)[0] == 0
    assert json.loads(plain.read_text(encoding="utf-8")) == []
    code, said = written("--to", sheet)
    assert code == 1
    assert "--to goes with --format csv or json" in said.err
    code, said = written("--format", "csv", "--to", tmp_path / "nowhere" / "x.csv")
    assert code == 2
    assert "nowhere" in said.err
    assert "Traceback" not in said.err
