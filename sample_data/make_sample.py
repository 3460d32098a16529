"""Makes the sample brewery: results.csv and shelf.toml here, truth.csv beside the tests.

    python sample_data/make_sample.py             # writes the files in place
    python sample_data/make_sample.py --to DIR    # writes all three into DIR

The same brewery.toml gives the same bytes. What is true of the people stands in
tests/truth/brewery.toml and tests/truth/truth.csv only, never in the files that are shipped.
"""

import argparse
import csv
import io
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from sample_answers import NOTHING, Taster
from sample_draws import Draws
from sample_plan import Glass, Planner, pour
from sample_shelf import shelf_text

HERE = Path(__file__).resolve().parent
TRUTH = HERE.parent / "tests" / "truth"
COLUMNS = (
    "session", "date", "sitting", "panellist", "method", "position", "code", "sample", "compound",
    "level", "dose", "volume", "answer", "duplicate", "base beer", "beer family", "set aside",
    "note",
)  # fmt: skip


def main(arguments: Sequence[str] | None = None) -> None:
    """Write the three files."""
    parser = argparse.ArgumentParser(description="Make the sample brewery.")
    parser.add_argument("--to", type=Path, help="one folder for all three files")
    folder = parser.parse_args(arguments).to
    truth = read_truth(TRUTH / "brewery.toml")
    _write((folder or HERE) / "results.csv", results_text(truth))
    _write((folder or HERE) / "shelf.toml", shelf_text(truth))
    _write((folder or TRUTH) / "truth.csv", truth_text(truth))


def read_truth(path: Path) -> Mapping[str, Any]:
    """What is true of the sample brewery."""
    return tomllib.loads(path.read_text(encoding="utf-8"))


def results_text(truth: Mapping[str, Any]) -> str:
    """The results file: one row per answer, by day, sitting, panellist and position."""
    glasses = [glass for session in Planner(truth).sessions() for glass in pour(truth, session)]
    names = [person["name"] for person in truth["people"]]
    glasses.sort(key=lambda g: (g.session.held_on, g.sitting, names[g.person], g.position))
    rows = [_row(truth, names[glass.person], glass) for glass in glasses]
    _remark(truth, rows)
    return _csv(COLUMNS, [[row[column] for column in COLUMNS] for row in rows])


def truth_text(truth: Mapping[str, Any]) -> str:
    """What is true of every panellist and compound on the last day."""
    columns = (
        "panellist", "compound", "theta_log2", "rate_at_3x", "named_right", "false_call_rate"
    )  # fmt: skip
    return _csv(columns, list(_cells(truth)))


def _cells(truth: Mapping[str, Any]) -> Iterator[list[str]]:
    day = truth["calendar"]["last"]
    for number, person in enumerate(truth["people"]):
        taster = Taster(truth, number)
        for compound in truth["compounds"]:
            numbers = (
                taster.threshold(compound, day),
                taster.rate_at_reference(compound, day),
                taster.named_right(compound),
                taster.false_calls,
            )
            yield [person["name"], compound, *(f"{value:.4f}" for value in numbers)]


def _row(truth: Mapping[str, Any], name: str, glass: Glass) -> dict[str, str]:
    session, sample = glass.session, glass.sample
    return {
        "session": f"Panel {session.number:02}",
        "date": session.held_on.isoformat(),
        "sitting": glass.sitting,
        "panellist": name,
        "method": sample.method,
        "position": str(glass.position),
        "code": glass.code,
        "sample": sample.mark,
        "compound": sample.compound or "blank",
        "level": sample.level,
        "dose": sample.dose,
        "volume": sample.volume,
        "answer": Taster(truth, glass.person).answer(glass),
        "duplicate": "D" if glass.is_duplicate else "",
        "base beer": truth["families"][session.family]["beer"],
        "beer family": session.family,
        "set aside": "",
        "note": "",
    }


def _remark(truth: Mapping[str, Any], rows: Sequence[dict[str, str]]) -> None:
    """Spill a glass or two, and let somebody note something."""
    plan = truth["set_aside"]
    naming = [row for row in rows if row["method"] == "naming"]
    chosen = Draws(truth["seed"], 6).shuffled(naming)
    for row in chosen[: plan["spilled"]]:
        row["set aside"], row["answer"] = "glass spilled", NOTHING
    for row, note in zip(chosen[plan["spilled"] :], plan["notes"], strict=False):
        row["note"] = note


def _csv(columns: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return text.getvalue()


def _write(path: Path, text: str) -> None:
    path.write_bytes(text.encode("utf-8"))


if __name__ == "__main__":
    main()
