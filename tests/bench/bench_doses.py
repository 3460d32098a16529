"""Working out the doses of a session, against importing numpy in a fresh process in the same run.

    python tests/bench/bench_doses.py

Twelve people, ten glasses each: two blanks and eight spiked samples, three lots of each compound.
"""

import subprocess
import sys
import time
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "sessions" / "doses"))
import dose_bench

from seatworthy.sessions.doses.dilution import dilute
from seatworthy.sessions.doses.work_out import work_out

PEOPLE, SPIKED, LOTS = 12, 8, 3


def main() -> None:
    """Work out one session and one dilution in three steps, and print the times with their ratios."""
    reference = _timed(lambda: subprocess.run([sys.executable, "-c", "import numpy"], check=True))
    needs, bench = _session()
    found = work_out(needs, bench)
    if found.faults or len(found.recipes) != len(needs):
        raise SystemExit("\n".join(found.faults) or "A sample has no recipe.")
    _print("import numpy, fresh process", reference, reference)
    _print("doses of 12 people x 10", _timed(lambda: work_out(needs, bench)), reference)
    start, wanted = dose_bench.solution(), Decimal("0.000000003")
    diluting = _timed(lambda: dilute(start, wanted, bench.pipettes))
    _print("a dilution in three steps", diluting, reference)


def _session():
    names = [f"compound {number}" for number in range(SPIKED)]
    glasses = (PEOPLE // 2 + 1, PEOPLE // 2 + 1)
    needs = [
        dose_bench.need("3", mark=chr(ord("C") + place), compound=name, label=name, glasses=glasses)
        for place, name in enumerate(names)
    ]
    blanks = [dose_bench.blank(mark=mark, glasses=glasses) for mark in "AB"]
    stocks = [
        replace(
            dose_bench.solution(), stock_id=f"{name} {lot}", compound=name, label=f"{name} {lot}"
        )
        for name in names
        for lot in range(LOTS)
    ]
    return [*blanks, *needs], dose_bench.bench(*stocks, container=dose_bench.bottle(500))


def _timed(work) -> float:
    """Seconds of the fastest of five runs."""
    times = []
    for _ in range(5):
        started = time.perf_counter()
        work()
        times.append(time.perf_counter() - started)
    return min(times)


def _print(what: str, seconds: float, reference: float) -> None:
    print(f"{what:28} {1000 * seconds:8.1f} ms {seconds / reference:8.3f} x reference")


if __name__ == "__main__":
    main()
