"""What keeping the record safe costs, as ratios to a plain copy of the file in the same run.

Reference: shutil.copyfile of the same store, then fsync. That checks nothing; the ratio is what proving
costs. Measured on the sample brewery and on one with ten times as many answers.

    python tests/bench/bench_backup.py
"""

import os
import shutil
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from bench_import import write_results

from seatworthy.cli import main
from seatworthy.shipped import shipped
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.plain_copy import read_plain, write_plain
from seatworthy.steps.safekeeping import back_up, restore, size_of, verify
from seatworthy.store.copying import manifest_path, read_whole

TIMES = 5
TEN = 10


def seconds(step: Callable[[], object], clear: Callable[[], object]) -> float:
    """Seconds of the fastest of some runs of a step, cleared after each: others may be using the machine."""
    found = []
    for _ in range(TIMES):
        start = time.perf_counter()
        step()
        found.append(time.perf_counter() - start)
        clear()
    return min(found)


def copied(source: Path, target: Path) -> None:
    """Copy a file and have it on the disk."""
    shutil.copyfile(source, target)
    with target.open("rb+") as file:
        os.fsync(file.fileno())


def measure(name: str, desk: Desk, folder: Path) -> None:
    """Print the ratios for one store."""
    copy, plain, again = folder / "copy.duckdb", folder / "plain", folder / "again.duckdb"

    def gone(*paths: Path) -> None:
        for path in paths:
            shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)

    size = size_of(desk)
    megabytes = desk.store.path.stat().st_size / 1e6
    print(f"{name}: {size.answers} answers, {size.entries} entries, {megabytes:.0f} MB")
    reference = seconds(lambda: copied(desk.store.path, again), lambda: gone(again))
    back_up(desk, copy)
    write_plain(desk, plain)
    plain_mb = sum(path.stat().st_size for path in plain.rglob("*")) / 1e6
    other, made = folder / "other.duckdb", folder / "made"
    steps: dict[str, tuple[Callable[[], object], Callable[[], object]]] = {
        "backup, compared": (
            lambda: back_up(desk, other),
            lambda: gone(other, manifest_path(other)),
        ),
        "restore, compared": (lambda: restore(copy, again), lambda: gone(again)),
        "verify": (lambda: verify(desk), lambda: None),
        "plain copy, proved": (lambda: write_plain(desk, made), lambda: gone(made)),
        "read from Parquet": (lambda: read_plain(plain, again), lambda: gone(again)),
    }
    print(
        f"  plain file copy and fsync: {reference * 1000:.0f} ms = 1; plain copy {plain_mb:.1f} MB"
    )
    for words, (step, clear) in steps.items():
        took = seconds(step, clear)
        print(f"  {words:<20} {took * 1000:7.0f} ms  {took / reference:6.1f} times")
    for path in (plain / "tables").glob("*.parquet"):
        path.unlink()
    took = seconds(lambda: read_plain(plain, again), lambda: gone(again))
    print(f"  {'read from CSV':<20} {took * 1000:7.0f} ms  {took / reference:6.1f} times")
    read_plain(plain, again)
    assert read_whole(again) == read_whole(copy)


def brewery(folder: Path, results: Path) -> Desk:
    """A store with these results."""
    path = folder / "panel.duckdb"
    words = ["import", str(shipped("sample_data/shelf.toml")), str(results), "--store", str(path)]
    assert main(words) == 0
    return open_desk(path)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        small, large = Path(place) / "small", Path(place) / "large"
        for folder in (small, large):
            folder.mkdir()
        desk = brewery(small, shipped("sample_data/results.csv"))
        answers = size_of(desk).answers
        measure("sample brewery", desk, small)
        desk.close()
        write_results(large / "results.csv", TEN * answers)
        desk = brewery(large, large / "results.csv")
        measure("ten times larger", desk, large)
        desk.close()
