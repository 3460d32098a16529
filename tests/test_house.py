"""The house rules that a tool can check."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]
SOURCE = TOP / "src" / "seatworthy"
MODULES = sorted(SOURCE.rglob("*.py"))

# In the order of the data; a folder may import itself, what stands before it, and nothing after it.
ORDER = (
    "errors",
    "shipped",
    "phrases",
    "store",
    "intake",
    "evidence",
    "stats",
    "rules",
    "sessions",
    "decide",
    "steps",
    "charts",
    "paper",
    "ballot",
    "network",
    "pages",
    "commands",
    "cli",
)
# Of the store and the pure parts only steps/ imports both.
STRANGERS = {
    "store": {"intake", "phrases"},
    "intake": {"store"},
    "evidence": {"store", "intake"},
    "stats": {"store", "intake", "evidence", "errors", "phrases"},
    "rules": {"store", "intake", "evidence"},
    "sessions": {"store", "intake", "evidence", "stats", "rules"},
    "decide": {"store", "intake", "evidence", "phrases"},
    "charts": {"store", "intake", "evidence", "stats", "rules", "decide"},
    "paper": {"store", "intake", "evidence", "stats", "rules", "decide"},
    "ballot": {"store", "intake", "evidence", "stats", "rules", "sessions", "charts", "paper"},
    "network": {"store", "intake", "evidence", "stats", "rules", "sessions", "charts", "paper"},
    "pages": {"store", "intake", "evidence", "stats", "rules", "decide"},
    "commands": {"store", "evidence", "stats", "rules", "decide", "pages", "charts"},
}


def part_of(path):
    return path.relative_to(SOURCE).with_suffix("").parts[0]


def imported_parts(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        for name in names:
            if name.startswith("seatworthy."):
                yield name.split(".")[1]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_data_flows_one_way(path):
    part = part_of(path)
    if part == "__init__":
        return
    for other in imported_parts(path):
        assert ORDER.index(other) <= ORDER.index(part), f"{part} imports {other}"
        assert other not in STRANGERS.get(part, set()), f"{part} may not know {other}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_a_module_is_no_longer_than_a_reader_can_hold(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 350


def test_no_two_files_of_tests_bear_one_name():
    """Pytest knows tests by it, and what they share is imported by it: whichever comes first."""
    names = [path.name for path in (TOP / "tests").rglob("*.py")]
    names = [name for name in names if name not in ("conftest.py", "__init__.py")]
    assert sorted(names) == sorted(set(names))


def tracked():
    listed = subprocess.run(
        ["git", "ls-files"], cwd=TOP, capture_output=True, text=True, check=False
    )
    if listed.returncode:
        pytest.skip("not a git checkout")
    return [TOP / name for name in listed.stdout.splitlines() if (TOP / name).exists()]


def test_the_top_level_holds_what_it_should_and_nothing_else():
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "app.py", "src", "sql", "tests",
               "sample_data"}  # fmt: skip
    found = {path.relative_to(TOP).parts[0] for path in tracked()}
    assert {name for name in found if not name.startswith(".")} <= allowed


def test_no_registry_host_and_no_machine_path_is_kept():
    hosts = re.compile("p" + "ypi" + r"\.org|python" + "hosted|npm" + "js|deb" + r"ian\.org")
    for path in tracked():
        if path.suffix in {".py", ".toml", ".md", ".sql", ".csv", ".css", ""}:
            text = path.read_text(encoding="utf-8")
            assert not hosts.search(text), path
            assert "/ro" + "ot/" not in text, path


@pytest.mark.parametrize("words", [("check", "."), ("format", "--check", ".")])
def test_the_style_is_kept(words):
    done = subprocess.run(
        [sys.executable, "-m", "ruff", *words], cwd=TOP, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_readmes_columns_are_those_that_the_intake_knows():
    from seatworthy.intake.columns import COLUMNS

    text = (TOP / "README.md").read_text(encoding="utf-8")
    table = text.split("| column |", 1)[1].split("\n\n", 1)[0]
    named = {
        word
        for row in table.splitlines()[2:]
        for word in re.findall(r"`([^`]+)`", row.split("|")[1])
    }
    assert named == set(COLUMNS)
