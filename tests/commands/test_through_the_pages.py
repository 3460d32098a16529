"""A command does the same alone and through the process that has the store open."""

import contextlib
import io
import shutil
from argparse import Namespace
from datetime import date, timedelta
from pathlib import Path

import pytest
from held_store import held, said

from seatworthy.cli import main
from seatworthy.commands import SUMMARIES
from seatworthy.commands.command import existing_desk_of
from seatworthy.commands.within import Errand, carried_out
from seatworthy.errors import PanelError
from seatworthy.shipped import shipped
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.demo import moved_to, plan_today
from seatworthy.steps.desk import Desk, open_desk

TODAY = date(2026, 11, 25)
HERE = (
    "open",
    "demo",
    "template",
    "restore",
    "read-plain",
)  # need the store for themselves, or none
READ = {
    "verdicts": [[], ["--format", "json"], ["--panellist", "nobody"], ["--as-of", "9999-12-31"]],
    "sessions": [[]],
    "papers": [["--to", "made"], ["no such session"]],
    "rulebook": [["--text", "in_force"], ["ours.toml"], ["none.toml"]],
    "competence": [["Aoife", "--to", "made", "--format", "csv"], ["nobody"]],
    "seated": [["--to", "made", "--format", "json"]],
    "history": [["--format", "csv"], ["--format", "json", "--to", "made.json"]],
    "people": [[]],
    "person": [["Aoife"]],
    "words": [[], ["only words"]],
    "backup": [["made.duckdb"]],
    "verify": [[]],
    "write-plain": [["made"]],
    "pin": [["nobody"]],
}
CHANGE = {"import": [["bad.csv"], ["none.csv"]]}
ASKED = [(name, words) for name, all_words in {**READ, **CHANGE}.items() for words in all_words]


@pytest.fixture(scope="module", autouse=True)
def the_day():
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Desk, "today", lambda _: TODAY)
        yield


@pytest.fixture(scope="module")
def sample(the_day, tmp_path_factory):
    """The last months of the invented brewery."""
    store = tmp_path_factory.mktemp("through") / "panel.duckdb"
    desk = open_desk(store)
    try:
        bring_in_shelf(desk, shipped("sample_data/shelf.toml"))
        lately = TODAY - timedelta(days=100)
        bring_in_results(
            desk,
            shipped("sample_data/results.csv"),
            arrange=lambda rows: tuple(
                row for row in moved_to(rows, TODAY) if row.session_on > lately
            ),
        )
        plan_today(desk)
    finally:
        desk.close()
    return store


@pytest.fixture(scope="module")
def alone(sample, tmp_path_factory):
    """The folder in which all is called, with what every command says alone, before anybody holds it."""
    folder = tmp_path_factory.mktemp("called")
    (folder / "bad.csv").write_text("date,panellist\n", encoding="utf-8")
    (folder / "ours.toml").write_text("name = 1\n", encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        return folder, {(name, *words): printed(name, words, sample) for name, words in ASKED}


@pytest.fixture(scope="module")
def open_store(sample, alone):
    with held(sample) as desk:
        yield desk


def printed(name, words, store):
    """What a command prints, and what it wrote into its folder, which is cleared again."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main([name, *words, "--store", str(store)])
    made = sorted(str(path) for path in Path().rglob("*"))
    for path in (Path("made"), Path("made.json"), Path("made.duckdb"), *Path().glob("made.*")):
        shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)
    return code, out.getvalue(), err.getvalue(), made


def test_no_command_is_forgotten_here():
    assert {*READ, *CHANGE, *HERE} == set(SUMMARIES)


@pytest.mark.parametrize(("name", "words"), ASKED, ids=[" ".join([n, *w]) for n, w in ASKED])
def test_what_is_printed_and_written_is_the_same_to_the_byte(
    name, words, alone, open_store, monkeypatch
):
    folder, before = alone
    monkeypatch.chdir(folder)
    assert printed(name, words, open_store.store.path) == before[name, *words]
    assert any(code == 0 for code, *_ in before.values())


def test_a_question_is_asked_where_the_command_was_typed(capsys, sample, open_store, monkeypatch):
    asked, typed = [], iter(["1234", "1235"])
    monkeypatch.setattr(
        "seatworthy.commands.errand.getpass", lambda p: asked.append(p) or next(typed)
    )
    code, out, err = said(capsys, "pin", "Aoife", "--store", sample)
    assert (code, out) == (1, "")
    assert "The two PINs differ. Nothing was recorded." in err
    assert asked == ["New PIN (4 to 12 digits or letters): ", "Once more: "]


def test_a_fault_of_ours_is_a_sentence_there_too(capsys, sample, open_store, monkeypatch):
    def fail(*_args, **_words):
        message = "unforeseen"
        raise RuntimeError(message)

    monkeypatch.setattr("seatworthy.commands.asking.board_lines", fail)
    code, _, err = said(capsys, "verdicts", "--store", sample)
    assert code == 3
    assert "Something went wrong inside Seatworthy" in err
    assert "Traceback" not in err


def test_too_much_to_hand_over_is_said(capsys, sample, open_store, monkeypatch):
    monkeypatch.setattr("seatworthy.commands.within.LONGEST_OUTPUT", 2_000)
    code, out, err = said(capsys, "history", "--format", "json", "--store", sample)
    assert code == 1
    assert len(out) <= 2_000
    assert "write it into a file (--to)" in err


def test_restoring_says_why_it_can_not_be_done_there(capsys, sample, open_store, tmp_path):
    code, out, err = said(capsys, "restore", tmp_path / "x.duckdb", "--replace", "--store", sample)
    assert (code, out) == (2, "")
    assert "nobody may have it open. Stop it with Ctrl+C where it runs" in err
    assert "http://127.0.0.1:8501" in err


def test_a_second_opening_leads_to_the_pages_that_are_open(capsys, sample, open_store, monkeypatch):
    shown = []
    monkeypatch.setattr("webbrowser.open", shown.append)
    code, out, err = said(capsys, "open", "--store", sample)
    assert (code, err) == (0, "")
    assert "open already, at http://127.0.0.1:8501 (process" in out
    assert shown == ["http://127.0.0.1:8501"]
    assert said(capsys, "open", "--store", sample, "--port", "8501", "--no-browser")[0] == 0
    assert len(shown) == 1


@pytest.mark.parametrize("word", ["--lan", "--port=8700", "--new-passphrase"])
def test_what_only_a_new_opening_gives_is_said(capsys, sample, open_store, word):
    code, out, err = said(capsys, "open", "--store", sample, "--no-browser", word)
    assert (code, out) == (2, "")
    assert f"without {word.replace('=', ' ')}. Stop it there" in err


def test_a_copied_note_leads_to_no_other_store(capsys, sample, open_store, stocked, tmp_path):
    """The folder was copied while it was open: the copy's note names the store beside it no more."""
    shutil.copyfile(stocked, tmp_path / "panel.duckdb")
    note = sample.with_name("panel.duckdb.open")
    shutil.copyfile(note, tmp_path / "panel.duckdb.open")
    code, out, err = said(capsys, "people", "--store", tmp_path / "panel.duckdb")
    assert (code, out, err) == (0, "", "")


def test_a_desk_that_is_lent_is_closed_by_nobody_else(open_store):
    def run(_):
        desk = existing_desk_of(Namespace(store="nowhere"))
        assert desk.store is open_store.store
        desk.close()
        return 7

    def nobody(_):
        raise PanelError

    assert carried_out(Errand(open_store, Path.cwd(), nobody), run, []) == 7
    assert open_store.store.rows("record_size")
