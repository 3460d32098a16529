"""Speed and memory of an import, as ratios to a named reference measured in the same run.

Reference: pandas.read_csv of the same file, then one INSERT ... SELECT into a bare DuckDB file.
That checks nothing, names nobody and seals nothing; the ratio is what being careful costs.

    python tests/bench/bench_import.py [rows]
"""

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROWS = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000

REFERENCE = """
import sys, duckdb, pandas as pd
rows = pd.read_csv(sys.argv[1])
con = duckdb.connect(sys.argv[2])
con.execute("create table answer as select * from rows")
con.close()
"""

OURS = """
import sys
from seatworthy.cli import main
sys.exit(main(["import", sys.argv[1], "--store", sys.argv[2]]))
"""


def write_results(path: Path, rows: int) -> None:
    """So many answers of forty people over as many sessions as it takes."""
    compounds = ("diacetyl", "dms", "blank", "acetaldehyde", "t2n", "h2s", "acetic acid")
    with path.open("w", encoding="utf-8") as file:
        file.write("date,session,panellist,method,position,code,compound,level,answer,base beer\n")
        for i in range(rows):
            day, glass, who = i // 280, i % 7, i // 7 % 40
            compound = compounds[glass]
            level = "" if compound == "blank" else "3"
            said = "nothing" if (i * 7919) % 3 == 0 else compounds[(glass + i % 2) % 7]
            said = "nothing" if said == "blank" else said
            file.write(
                f"{2000 + day // 336}-{1 + day // 28 % 12:02d}-{1 + day % 28:02d},S{day},"
                f"Taster {who:02d},naming,{glass + 1},{100 + glass + 7 * who},"
                f"{compound},{level},{said},Pils\n"
            )


def measured(code: str, *words: str) -> tuple[float, float]:
    """Seconds from start to end of a Python process, and its peak memory in MB."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", code, *words], check=True)
    seconds = time.perf_counter() - start
    peak = max(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss, before)
    return seconds, peak / 1024


def main() -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as folder:
        results = Path(folder) / "results.csv"
        write_results(results, ROWS)
        reference = measured(REFERENCE, str(results), f"{folder}/reference.duckdb")
        ours = measured(OURS, str(results), f"{folder}/panel.duckdb")
        again = measured(OURS, str(results), f"{folder}/panel.duckdb")
    print(f"{ROWS} rows, whole process from start to end")
    for name, (seconds, peak) in {
        "pandas.read_csv + bare INSERT": reference,
        "seatworthy import": ours,
        "the same file again": again,
    }.items():
        ratio = seconds / reference[0]
        print(f"{name:32} {seconds:6.2f} s  {ratio:5.1f} x reference  peak {peak:5.0f} MB")


if __name__ == "__main__":
    main()
