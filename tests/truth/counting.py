"""Where the sample lies, how it is read, and how hits are counted in it."""

import csv
from collections import defaultdict
from datetime import date
from pathlib import Path

from seatworthy.intake.words import fold

TOP = Path(__file__).resolve().parents[2]
SAMPLE, TRUTH = TOP / "sample_data", TOP / "tests" / "truth"
LAST = date(2026, 11, 19)


def table(path):
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def is_hit(row, meanings):
    return meanings.get(fold(row["answer"])) == row["compound"]


def is_counted(row):
    """After the default rulebook: pale lager, 2 to 4 times threshold, the last twelve months."""
    return (
        row["compound"] != "blank"
        and row["beer family"] == "pale_lager"
        and not row["set aside"]
        and 2 <= float(row["level"] or 3) <= 4
        and date.fromisoformat(row["date"]) > date(2025, 11, 19)
    )


def hits_of_glasses(rows, meanings):
    counts = defaultdict(lambda: [0, 0])
    for row in rows:
        counts[row["panellist"], row["compound"]][0] += is_hit(row, meanings)
        counts[row["panellist"], row["compound"]][1] += 1
    return counts
