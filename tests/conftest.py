"""What every test may ask for: a store and a desk of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from seatworthy.steps.desk import Desk, open_desk
from seatworthy.store.file import Store


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path / "panel.duckdb") as opened:
        yield opened


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = open_desk(tmp_path / "panel.duckdb")
    yield opened
    opened.close()
