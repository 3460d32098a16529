"""What every test may ask for: a store and a desk of its own."""

import gc
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from seatworthy.steps.desk import Desk, open_desk
from seatworthy.store.file import Store


def pytest_collection_finish() -> None:
    """Spare the collector what was imported: it stays until the end, and each round walks it."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new store with nothing in it, closed; copied, since making one takes longest."""
    path = tmp_path_factory.mktemp("bare") / "panel.duckdb"
    Store.open(path).close()
    return path


@pytest.fixture
def store(tmp_path: Path, bare: Path) -> Iterator[Store]:
    path = tmp_path / "panel.duckdb"
    shutil.copyfile(bare, path)
    with Store.open(path) as opened:
        yield opened


@pytest.fixture(scope="session")
def stocked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new store with the shipped vocabulary, closed; copied likewise."""
    path = tmp_path_factory.mktemp("stocked") / "panel.duckdb"
    open_desk(path).close()
    return path


@pytest.fixture
def desk(tmp_path: Path, stocked: Path) -> Iterator[Desk]:
    path = tmp_path / "panel.duckdb"
    shutil.copyfile(stocked, path)
    opened = open_desk(path)
    yield opened
    opened.close()
