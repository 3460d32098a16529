"""What every test may ask for: a store and a desk of its own."""

import gc
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from seatworthy.steps.desk import Desk, open_desk
from seatworthy.store.connecting import connect
from seatworthy.store.copying import columns_of
from seatworthy.store.file import Store
from seatworthy.store.schema import make_tables, newest_number


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


@pytest.fixture(scope="session")
def stocked_earlier(tmp_path_factory: pytest.TempPathFactory, stocked: Path) -> Path:
    """The same as a version before the newest table file would have left it, closed."""
    path = tmp_path_factory.mktemp("earlier") / "panel.duckdb"
    con = connect(path)
    make_tables(con, newest_number() - 1)
    con.execute(f"attach '{stocked}' as later (read_only)")
    for table in columns_of(con):
        those = f"where number < {newest_number()}" if table == "applied_file" else ""
        con.execute(f"insert into {table} from later.{table} {those}")
    con.close()
    return path


@pytest.fixture
def earlier(tmp_path: Path, stocked_earlier: Path) -> Path:
    """A store of an earlier version of one's own."""
    return shutil.copyfile(stocked_earlier, tmp_path / "earlier.duckdb")


@pytest.fixture
def desk(tmp_path: Path, stocked: Path) -> Iterator[Desk]:
    path = tmp_path / "panel.duckdb"
    shutil.copyfile(stocked, path)
    opened = open_desk(path)
    yield opened
    opened.close()
