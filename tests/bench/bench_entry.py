"""Typing ballots: time per answer, and to close and reveal, against bare inserts in the same run.

    python tests/bench/bench_entry.py

The reference is one committed INSERT into the same kind of file for each answer, nothing checked.
"""

import sys
import tempfile
import time
from pathlib import Path

import duckdb

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "steps"))
import thursday

from seatworthy.steps.answers import enter_answer
from seatworthy.steps.closing import reveal
from seatworthy.steps.desk import open_desk
from seatworthy.steps.sheets import sheet_key


def main() -> None:
    """Enter one session of 72 answers, close it, and print the times with their ratios."""
    with tempfile.TemporaryDirectory() as folder:
        reference = _bare_inserts(Path(folder) / "bare.duckdb", 72)
        desk = open_desk(Path(folder) / "panel.duckdb")
        people = thursday.set_up(desk, Path(folder))
        session_id = thursday.planned(desk, people)
        started = time.perf_counter()
        for glass in thursday.facts_of(desk, session_id).glasses:
            key = sheet_key(glass.sitting_id, glass.person_id)
            enter_answer(desk, session_id, key, glass.blind_code or "", "nothing")
        entering = (time.perf_counter() - started) / 72
        thursday.close(desk, session_id)
        started = time.perf_counter()
        reveal(desk, session_id)
        revealing = time.perf_counter() - started
        desk.close()
    _print("bare INSERT and commit", reference, reference)
    _print("one answer entered", entering, reference)
    _print("reveal of a first session", revealing, reference)


def _bare_inserts(path: Path, count: int) -> float:
    con = duckdb.connect(str(path))
    con.execute("create table answer (serving_id varchar, kind varchar)")
    started = time.perf_counter()
    for number in range(count):
        con.execute("insert into answer values (?, 'nothing')", [f"glass {number}"])
    took = (time.perf_counter() - started) / count
    con.close()
    return took


def _print(what: str, seconds: float, reference: float) -> None:
    print(f"{what:28} {1000 * seconds:8.1f} ms {seconds / reference:8.1f} x reference")


if __name__ == "__main__":
    main()
