"""A small vocabulary, a day, and files written for one test."""

from datetime import date

import pytest

from seatworthy.intake.results import read_results
from seatworthy.intake.words import Vocabulary

TODAY = date(2026, 11, 25)
KEYS = ("diacetyl", "dms", "acetaldehyde", "t2n", "h2s", "acetic_acid", "lactic_acid")


@pytest.fixture(scope="session")
def vocabulary():
    wordings = {key: key for key in KEYS}
    return Vocabulary(wordings | {"Dimethyl sulfide": "dms", "Butter": "diacetyl"})


@pytest.fixture
def read(tmp_path, vocabulary):
    """Read a results file given as text, bytes or an openpyxl workbook."""

    def _read(content, name="monday.csv", **options):
        path = tmp_path / name
        if isinstance(content, str):
            path.write_bytes(content.encode())
        elif isinstance(content, bytes):
            path.write_bytes(content)
        else:
            content.save(path)
        return read_results(path, vocabulary, TODAY, **options)

    return _read
