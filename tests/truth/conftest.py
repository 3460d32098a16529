"""The sample and its truth, read once a module."""

import tomllib

import pytest
from counting import SAMPLE, TOP, TRUTH, table

from seatworthy.intake.words import fold


@pytest.fixture(scope="module")
def rows():
    return table(SAMPLE / "results.csv")


@pytest.fixture(scope="module")
def naming(rows):
    return [row for row in rows if row["method"] == "naming"]


@pytest.fixture(scope="module")
def shelf():
    return tomllib.loads((SAMPLE / "shelf.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def truth():
    return tomllib.loads((TRUTH / "brewery.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def cells():
    return {(row["panellist"], row["compound"]): row for row in table(TRUTH / "truth.csv")}


@pytest.fixture(scope="module")
def references():
    return {
        row["key"]: row for row in table(TOP / "src" / "seatworthy" / "intake" / "compounds.csv")
    }


@pytest.fixture(scope="module")
def meanings(shelf, references):
    words = {fold(name): key for key, row in references.items() for name in (key, row["label"])}
    for entry in shelf["synonyms"]:
        words |= {fold(word): entry["compound"] for word in entry["words"]}
    return words


@pytest.fixture
def model(monkeypatch):
    monkeypatch.syspath_prepend(SAMPLE)
    import sample_answers

    return sample_answers
