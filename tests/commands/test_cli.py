import csv
import io
import json
import os
import subprocess
import sys
from datetime import date

import pytest

from seatworthy.cli import main
from seatworthy.steps.demo import set_up_demo
from seatworthy.steps.desk import Desk

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def sample(tmp_path_factory):
    store = tmp_path_factory.mktemp("sample") / "panel.duckdb"
    set_up_demo(store, TODAY)
    return store


@pytest.fixture(autouse=True)
def the_day(monkeypatch):
    monkeypatch.setattr(Desk, "today", lambda _: TODAY)


def said(capsys, *words):
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return code, out, err


def test_help_reads_as_if_a_person_wrote_it(capsys):
    with pytest.raises(SystemExit, match="0"):
        main(["--help"])
    out = capsys.readouterr().out
    for words in ("demo", "import", "verdicts", "exit codes", "never releases beer"):
        assert words in out


@pytest.mark.parametrize("words", [[], ["nonsense"], ["import"], ["verdicts", "--as-of", "31/02"]])
def test_words_not_understood_get_one_sentence_and_exit_code_2(capsys, words):
    with pytest.raises(SystemExit, match="2"):
        main(words)
    err = capsys.readouterr().err
    assert "Traceback" not in err
    assert len(err.strip().splitlines()) == 1


def test_the_table_names_who_can_sit(capsys, sample):
    code, out, err = said(capsys, "verdicts", "--store", sample, "--as-of", "2026-11-25")
    assert (code, err) == (0, "")
    assert "Five meet the seat rule for the pale lagers today; no seat is signed yet." in out
    assert "too little evidence" in out


def test_json_and_csv_hold_the_same_rows(capsys, sample):
    words = ("verdicts", "--store", sample, "--as-of", "2026-11-25", "--format")
    rows = json.loads(said(capsys, *words, "json")[1])
    table = list(csv.DictReader(io.StringIO(said(capsys, *words, "csv")[1])))
    assert len(rows) == len(table)
    assert [row["sentence"] for row in rows] == [row["sentence"] for row in table]
    assert {row["standing"] for row in rows} <= {"met", "not_met", "too_little", "insensitive"}


def test_one_panellist_is_found_by_first_name_without_accents(capsys, sample):
    names = said(capsys, "people", "--store", sample)[1].splitlines()
    first = names[0].split()[0]
    code, out, _ = said(
        capsys,
        "verdicts",
        "--store",
        sample,
        "--panellist",
        first.casefold(),
        "--as-of",
        "2026-11-25",
    )
    assert code == 0
    assert out.startswith(names[0].split(" (")[0])


def test_somebody_unknown_is_said_so(capsys, sample):
    code, _, err = said(capsys, "verdicts", "--store", sample, "--panellist", "Nobody At All")
    assert code == 1
    assert "Nobody on record is called “Nobody At All”" in err


def test_reading_commands_make_no_store_by_mistake(capsys, tmp_path):
    code, _, err = said(capsys, "verdicts", "--store", tmp_path / "none.duckdb")
    assert code == 2
    assert "There is no store" in err
    assert list(tmp_path.iterdir()) == []


def test_template_import_backup_restore_verify(capsys, tmp_path):
    sheet, store = tmp_path / "results.xlsx", tmp_path / "panel.duckdb"
    assert said(capsys, "template", sheet)[0] == 0
    assert said(capsys, "import", sheet, "--store", store)[0] == 0
    code, out, _ = said(capsys, "backup", tmp_path / "kept.duckdb", "--store", store)
    assert code == 0
    assert "equal" in out
    other = tmp_path / "other.duckdb"
    assert said(capsys, "restore", tmp_path / "kept.duckdb", "--store", other)[0] == 0
    code, out, _ = said(capsys, "verify", "--store", other)
    assert code == 0
    assert "All is as it was sealed" in out


def test_a_store_in_a_synced_folder_gets_a_warning_and_works(capsys, tmp_path):
    folder = tmp_path / "Dropbox"
    folder.mkdir()
    sheet = tmp_path / "results.csv"
    said(capsys, "template", sheet)
    code, _, err = said(capsys, "import", sheet, "--store", folder / "panel.duckdb")
    assert code == 0
    assert err.startswith("Warning:")


def test_a_held_store_is_refused_with_exit_code_2(tmp_path, sample):
    code = "import sys; from seatworthy.cli import main; sys.exit(main(sys.argv[1:]))"
    hold = (
        "import sys; from seatworthy.steps.desk import open_desk; d = open_desk(sys.argv[1]);"
        "print('open', flush=True); sys.stdin.read()"
    )
    with subprocess.Popen(
        [sys.executable, "-c", hold, str(sample)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    ) as holder:  # fmt: skip
        assert holder.stdout.readline() == "open\n"
        done = subprocess.run(
            [sys.executable, "-c", code, "verdicts", "--store", str(sample)],
            capture_output=True, text=True, check=False, env=dict(os.environ),
        )  # fmt: skip
        holder.communicate("")
    assert done.returncode == 2
    assert "is open in another process" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_fault_of_ours_is_a_sentence_and_a_report(capsys, monkeypatch, sample):
    def fail(*_args, **_words):
        message = "unforeseen"
        raise RuntimeError(message)

    monkeypatch.setattr("seatworthy.commands.asking.board_lines", fail)
    code, _, err = said(capsys, "verdicts", "--store", sample)
    assert code == 3
    assert "Something went wrong inside Seatworthy" in err
    assert "Traceback" not in err


def test_a_refused_first_import_leaves_no_store_behind(capsys, tmp_path):
    (tmp_path / "bad.csv").write_text("date,panellist\n")
    store = tmp_path / "panel.duckdb"
    assert said(capsys, "import", tmp_path / "bad.csv", "--store", store)[0] == 1
    assert not store.exists()


@pytest.mark.parametrize(
    ("words", "code", "text"),
    [
        (("--family", "nope"), 1, "There is no beer family “nope”"),
        (("--as-of", "9999-12-31"), 1, "name a day from 1900-01-01 to today"),
        (("--as-recorded", "9999-12-31"), 1, "name a day from 1900-01-01 to today"),
        (("--panellist", ""), 1, "Nobody on record is called"),
    ],
)
def test_what_cannot_be_asked_is_said(capsys, sample, words, code, text):
    found, _, err = said(capsys, "verdicts", "--store", sample, *words)
    assert (found, text in err) == (code, True), err


def test_as_recorded_before_the_record_says_so(capsys, sample):
    out = said(capsys, "verdicts", "--store", sample, "--as-recorded", "2020-01-01")[1]
    assert "were on record by 1 January 2020" in out


@pytest.mark.parametrize("port", ["0", "99999", "-5", "http"])
def test_a_port_that_is_none_is_refused(capsys, port):
    with pytest.raises(SystemExit, match="2"):
        main(["open", f"--port={port}"])
    assert "is not a port" in capsys.readouterr().err


def test_a_shelf_template_is_brought_in(capsys, tmp_path):
    shelf, store = tmp_path / "shelf.toml", tmp_path / "panel.duckdb"
    assert said(capsys, "template", shelf)[0] == 0
    assert said(capsys, "import", shelf, "--store", store)[0] == 0


def test_the_rulebook_in_force_is_said_in_plain_words(capsys, sample):
    code, out, err = said(capsys, "rulebook", "--store", sample)
    assert (code, err) == (0, "")
    assert out.startswith("People are judged by “default”, version 1, in force since")
    assert "A compound: Met: at least 85% sure" in out


def test_a_rulebook_of_ones_own_is_tried_and_nothing_is_recorded(capsys, sample, tmp_path):
    text = said(capsys, "rulebook", "--text", "plain")[1]
    (tmp_path / "ours.toml").write_text(text, encoding="utf-8")
    before = said(capsys, "verify", "--store", sample)[1]
    code, out, err = said(capsys, "rulebook", tmp_path / "ours.toml", "--store", sample)
    assert (code, err) == (0, "")
    assert "would lose what a seat rests on" in out
    assert "Nothing was recorded." in out
    assert said(capsys, "verify", "--store", sample)[1] == before


def test_a_rulebook_with_faults_is_refused_with_their_lines(capsys, sample, tmp_path):
    text = said(capsys, "rulebook", "--text", "default")[1].replace("quorum = 4", "quorun = 4")
    (tmp_path / "ours.toml").write_text(text, encoding="utf-8")
    code, out, err = said(capsys, "rulebook", tmp_path / "ours.toml", "--store", sample)
    assert (code, out) == (1, "")
    assert err.startswith("ours.toml cannot be used as a rulebook:")
    assert '"quorun" is not a word of [panel]' in err


def test_the_two_pins_of_a_signer_must_agree(capsys, sample, monkeypatch):
    typed = iter(["1234", "1235"])
    monkeypatch.setattr("seatworthy.commands.within.getpass", lambda _: next(typed))
    code, out, err = said(capsys, "pin", "Aoife", "--store", sample)
    assert (code, out) == (1, "")
    assert "The two PINs differ. Nothing was recorded." in err
