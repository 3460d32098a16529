"""How far one file and one machine go: ever larger breweries, beside the sample brewery in the same run.

A brewery of so many people answers so many glasses of ten compounds and blanks, a session of everybody at a time, the
sessions spread evenly over two years (the largest over ten). Each step runs in a process of its own,
as the command line does: its seconds count from the import of the libraries to the answer, its memory
is the peak of that process. "Another look" is the same board asked again after one more session was
brought in, in a process that stays, as the pages do.

    python tests/bench/bench_limits.py [--quick]
"""

import argparse
import json
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from seatworthy.cli import main as seatworthy
from seatworthy.steps.boards import board
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.demo import set_up_demo
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.records import record
from seatworthy.steps.safekeeping import back_up, verify

COMPOUNDS = (
    "diacetyl", "dms", "acetaldehyde", "t2n", "h2s", "acetic acid", "isoamyl acetate", "ethyl hexanoate",
    "isovaleric acid", "4-vinylguaiacol",
)  # fmt: skip
GLASSES = 12  # each of a session: ten compounds and two blanks


@dataclass(frozen=True)
class Brewery:
    """How large an invented brewery is."""

    people: int
    answers: int
    years: int


BREWERIES = (
    Brewery(9, 5_000, 2),
    Brewery(20, 20_000, 2),
    Brewery(40, 100_000, 2),
    Brewery(60, 250_000, 10),
    Brewery(100, 500_000, 10),
    Brewery(200, 1_000_000, 10),
)


def write_results(path: Path, brewery: Brewery, first: date, sessions: int) -> None:
    """Everybody answers a session after another; three in four glasses are named right."""
    apart = 365 * brewery.years / sessions
    header = "date,session,panellist,position,compound,level,answer,base beer\n"
    with path.open("w", encoding="utf-8") as file:
        file.write(header)
        for session in range(sessions):
            day = first + timedelta(days=int(session * apart))
            for person in range(brewery.people):
                file.writelines(_lines(session, day, person))


def _lines(session: int, day: date, person: int) -> list[str]:
    lines = []
    for glass in range(GLASSES):
        luck = (session * 7919 + person * 104729 + glass * 1299709) % 97
        what = "blank" if glass >= len(COMPOUNDS) else COMPOUNDS[glass]
        level = "" if what == "blank" else str(2 + luck % 3)
        wrong = luck % 4 == 0
        said = ("nothing" if not wrong else COMPOUNDS[luck % 10]) if what == "blank" else what
        if wrong and what != "blank":
            said = "nothing" if luck % 3 else COMPOUNDS[(glass + 1) % 10]
        lines.append(
            f"{day},S{session},Taster {person:03d},{glass + 1},{what},{level},{said},Pils\n"
        )
    return lines


def timed(work: Callable[[], object]) -> tuple[float, object]:
    """Seconds by the clock, and what came out."""
    start = time.perf_counter()
    found = work()
    return time.perf_counter() - start, found


def _peak() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def _fresh(step: str, *words: object) -> dict[str, float]:
    """Run one step of this script in a process of its own."""
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, __file__, "--step", step, *map(str, words)],
        check=True, capture_output=True, text=True,
    )  # fmt: skip
    return {"seconds": time.perf_counter() - start, **json.loads(done.stdout.splitlines()[-1])}


def _import(store: Path, results: Path) -> None:
    if seatworthy(["import", str(results), "--store", str(store), "--dates", "day-first"]):
        message = f"{results} was not brought in"
        raise RuntimeError(message)


def _board(store: Path) -> None:
    desk = open_desk(store)
    board(desk)
    desk.close()


def _record(store: Path) -> None:
    desk = open_desk(store)
    record(desk, _somebody(desk))
    desk.close()


def _backup(store: Path) -> None:
    desk = open_desk(store)
    target = back_up(desk)
    desk.close()
    target.unlink()


def _verify(store: Path) -> None:
    desk = open_desk(store)
    verify(desk)
    desk.close()


def _again(store: Path, results: Path) -> dict[str, float]:
    """Another look at the board, in one process, after another session was brought in."""
    desk = open_desk(store)
    board(desk)
    unchanged, _ = timed(lambda: board(desk))
    bring_in_results(desk, results, new_people=["*"])
    after, _ = timed(lambda: board(desk))
    desk.close()
    return {"unchanged": unchanged, "after": after}


def _somebody(desk: Desk) -> str:
    return board(desk).people[0].person_id


STEPS: dict[str, Callable[..., dict[str, float] | None]] = {
    "import": _import, "board": _board, "record": _record, "backup": _backup, "verify": _verify,
    "again": _again,
}  # fmt: skip


def measure(store: Path, more: Path) -> dict[str, float]:
    """Seconds of every step on one store, its size and the highest peak of memory."""
    found = {"file": store.stat().st_size / 1e6}
    peaks = []
    for step in ("board", "record", "backup", "verify"):
        one = _fresh(step, store)
        found[step] = one["seconds"]
        peaks.append(one["peak"])
    again = _fresh("again", store, more)
    return {**found, "unchanged": again["unchanged"], "after": again["after"],
            "peak": max(*peaks, again["peak"])}  # fmt: skip


def brewery_of(folder: Path, brewery: Brewery) -> tuple[Path, Path, float]:
    """The store of one invented brewery, one session more as a file, and the seconds of the import."""
    store = folder / f"{brewery.answers}" / "panel.duckdb"
    store.parent.mkdir()
    results, more = store.with_name("results.csv"), store.with_name("more.csv")
    sessions = brewery.answers // (brewery.people * GLASSES)
    first = date.today() - timedelta(days=365 * brewery.years)
    write_results(results, brewery, first, sessions)
    brought = _fresh("import", store, results)["seconds"]
    write_results(more, Brewery(brewery.people, 0, 1), date.today() - timedelta(days=1), 1)
    more.write_text(
        more.read_text(encoding="utf-8").replace(",S0,", ",One more,"), encoding="utf-8"
    )
    return store, more, brought


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--quick", action="store_true", help="the three smallest only")
    chosen = BREWERIES[:3] if parser.parse_args().quick else BREWERIES
    names = ("file", "board", "record", "unchanged", "after", "backup", "verify", "peak")
    with tempfile.TemporaryDirectory() as folder:
        store = Path(folder) / "panel.duckdb"
        set_up_demo(store)
        sample = Path(folder) / "sample.csv"
        write_results(sample, Brewery(9, 0, 1), date.today() - timedelta(days=1), 1)
        reference = measure(store, sample)
        print(
            "People and answers; file and peak in MB; seconds, and in brackets times the sample brewery's"
        )
        print(f"{'':>18}" + "".join(f"{name:>17}" for name in ("import", *names)))
        print(
            f"{'sample brewery':>18}"
            + f"{'':>17}"
            + "".join(f"{reference[n]:17.2f}" for n in names)
        )
        for brewery in chosen:
            path, more, brought = brewery_of(Path(folder), brewery)
            found = measure(path, more)
            cells = (f"{found[n]:9.2f} ({found[n] / reference[n]:5.1f})" for n in names)
            head = f"{brewery.people:>5} {brewery.answers:>12,}"
            print(head + f"{brought:17.1f}" + "".join(f"{cell:>17}" for cell in cells), flush=True)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--step"]:
        step, *words = sys.argv[2:]
        told = STEPS[step](*map(Path, words)) or {}
        print(json.dumps({**told, "peak": _peak()}))
    else:
        main()
