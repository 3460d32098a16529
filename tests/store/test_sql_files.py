import re

import pytest

from seatworthy.shipped import shipped
from seatworthy.store.sql_files import numbered_files, parameters

QUERIES = sorted(shipped("sql/queries").glob("*.sql"))
VIEWS = [path for folder in ("2_scored", "3_evidence") for _, path in numbered_files(folder)]
EVERYTHING = sorted(shipped("sql").rglob("*.sql"))


@pytest.mark.parametrize("path", QUERIES, ids=lambda path: path.stem)
def test_a_query_declares_the_parameters_it_uses(path):
    text = path.read_text(encoding="utf-8")
    body = "\n".join(line for line in text.splitlines() if not line.startswith("--"))
    assert parameters(text) == set(re.findall(r"\$(\w+)", body))


@pytest.mark.parametrize("path", QUERIES, ids=lambda path: path.stem)
def test_a_query_says_its_grain_and_who_uses_it(path):
    text = path.read_text(encoding="utf-8")
    assert text.startswith(f"-- {path.stem}: ")
    for word in ("Params", "Grain", "Used by"):
        assert re.search(rf"^-- {word}: ", text, re.MULTILINE), word


@pytest.mark.parametrize("path", VIEWS, ids=lambda path: path.stem)
def test_every_view_has_its_purpose_grain_reads_and_users(path):
    text = path.read_text(encoding="utf-8")
    for word in ("Purpose|[a-z_*]+", "Grain", "Reads", "Used by"):
        assert re.search(rf"^-- ({word}): ", text, re.MULTILINE), word


@pytest.mark.parametrize("path", QUERIES, ids=lambda path: path.stem)
def test_a_query_is_used_by_the_modules_it_names(path):
    users = re.search(r"^-- Used by: (.*)$", path.read_text(encoding="utf-8"), re.MULTILINE)
    called = [
        f"{module.parent.name}.{module.stem}"
        for module in sorted(shipped("src/seatworthy").rglob("*.py"))
        if re.search(rf'(rows|read)\(\s*"{path.stem}"', module.read_text(encoding="utf-8"))
    ]
    assert called
    assert users.group(1).split(", ") == called


def test_no_value_is_pasted_into_a_query():
    for path in EVERYTHING:
        assert "{" not in path.read_text(encoding="utf-8"), path.name
