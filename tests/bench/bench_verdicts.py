"""Cold start of ``verdicts`` on the sample brewery, as a ratio to a named reference.

Reference: a Python process that only imports duckdb, numpy and scipy.special, which any program of
this kind has to do.

    python tests/bench/bench_verdicts.py
"""

import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

from seatworthy.steps.demo import set_up_demo

ROUNDS = 5


def best(*words: str) -> float:
    """Fastest of some runs of a Python process, in seconds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        subprocess.run([sys.executable, *words], check=True, stdout=subprocess.DEVNULL)
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as folder:
        store = Path(folder) / "panel.duckdb"
        set_up_demo(store, date(2026, 11, 24))
        reference = best("-c", "import duckdb, numpy, scipy.special")
        table = best("-m", "seatworthy.cli", "verdicts", "--store", str(store))
        rows = best("-m", "seatworthy.cli", "verdicts", "--store", str(store), "--format", "json")
    for name, seconds in {
        "importing duckdb, numpy, scipy.special": reference,
        "seatworthy verdicts": table,
        "seatworthy verdicts --format json": rows,
    }.items():
        print(f"{name:40} {seconds:6.2f} s  {seconds / reference:5.1f} x reference")


if __name__ == "__main__":
    main()
