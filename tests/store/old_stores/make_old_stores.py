"""Makes the small stores of earlier versions that `test_upgrade.py` opens with today's code.

For each number of table files it takes the last commit that had so many and whose code ran, unpacks it
into a scratch folder, and lets that code fill a store and write down what it saw of it
(`filled_by_old_code.py`). Beside each other lie then, in this folder:

    store_NN.duckdb.xz   the store, rewritten by DuckDB's own copy in blocks of 16 KiB, compressed
    store_NN.json        its tables, chain, decisions, readings and verdicts, as that version saw them

Numbers 1 to 3 were never alone: the first version came with four files, and two of them were changed
before anybody had a store; such a one is refused as made with another text.

A store that lies here is never made anew: its worth is that an old version wrote it. After a new table
file landed, add the number before it and run, in a full checkout of the project:

    .venv/bin/python tests/store/old_stores/make_old_stores.py 11
"""

import lzma
import os
import subprocess
import sys
import tarfile
import tempfile
from io import BytesIO
from pathlib import Path

HERE = Path(__file__).resolve().parent
TOP = HERE.parents[2]
COMMITS = {
    4: "614a19e",
    5: "e08b732",
    6: "3fabdbd",  # later ones with six files do not run by themselves
    7: "176fae0",
    8: "d1022b3",
    9: "fa83bd1",
    10: "cb9cb09",
}
PARTS = ("src", "sql", "tests", "sample_data")


def unpack(commit: str, folder: Path) -> None:
    """Put the sources of a commit into a folder."""
    packed = subprocess.run(
        ["git", "archive", commit, *PARTS], cwd=TOP, capture_output=True, check=True
    ).stdout
    with tarfile.open(fileobj=BytesIO(packed)) as archive:
        archive.extractall(folder, filter="data")


def fill(folder: Path) -> Path:
    """Let the sources in a folder make a store; its path, with what they saw in a .json beside it."""
    made = folder / "made"
    made.mkdir()
    store = made / "panel.duckdb"
    paths = os.pathsep.join(str(folder / part) for part in ("src", "tests/steps"))
    subprocess.run(
        [
            sys.executable,
            str(HERE / "filled_by_old_code.py"),
            str(store),
            str(store.with_suffix(".json")),
        ],
        env={**os.environ, "PYTHONPATH": paths},
        check=True,
    )
    return store


def keep(number: int) -> None:
    """Make the store of one number and keep it here, unless there is one."""
    target = HERE / f"store_{number:02d}.duckdb.xz"
    if target.exists():
        print(f"{target.name} is there and stays as it is.")
        return
    with tempfile.TemporaryDirectory() as scratch:
        unpack(COMMITS[number], Path(scratch))
        store = fill(Path(scratch))
        target.write_bytes(lzma.compress(store.read_bytes(), preset=9 | lzma.PRESET_EXTREME))
        told = store.with_suffix(".json").read_text(encoding="utf-8")
        (HERE / f"store_{number:02d}.json").write_text(told, encoding="utf-8")
    print(f"{target.name}: {target.stat().st_size} bytes")


if __name__ == "__main__":
    for asked in [int(word) for word in sys.argv[1:]] or COMMITS:
        keep(asked)
