"""Judging 500 panellists on 60 compounds: what the rules take beyond SQL and statistics.

Reference: DuckDB's own count of the same glasses (the query ``counted_glasses``), in the same run.

    python tests/bench/bench_rules.py [people] [compounds]
"""

import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from seatworthy.rules.texts import rulebook_text
from seatworthy.steps import judging
from seatworthy.steps.desk import Desk, InForce, open_desk
from seatworthy.steps.rulebooks import supposed_rulebook
from seatworthy.steps.seen import Seen

GLASSES = 6  # answers of each person to each compound
TODAY = date(2026, 11, 24)

# Persons, sessions a week apart, one sample of each compound in each, everybody served all of them.
_FACTS = (
    "insert into beer_family values ('pale', 'Pale', $entry, $moment)",
    "insert into base_beer values ('pils', 'Pils', 'pale', null, $entry, $moment)",
    "insert into person select printf('%016x', n), $entry, $moment from range($people) t(n)",
    (
        "insert into person_name select printf('%016x', n), printf('Person %03d', n)"
        " from range($people) t(n)"
    ),
    (
        "insert into session select 's' || d, date '2026-11-20' - (7 * d)::integer, 'week ' || d,"
        " $entry, $moment from range($glasses) t(d)"
    ),
    "insert into sitting select 'g' || d, 's' || d, '', $entry, $moment from range($glasses) t(d)",
    (
        "insert into sample select 'g' || d || k, 'g' || d, 'pils', k, 3, null, null, k, $entry, $moment"
        " from range($glasses) t(d), (select compound as k from compound order by k limit $compounds)"
    ),
    (
        "insert into serving select sample_id || '-' || n, sample_id, printf('%016x', n), 'naming',"
        " null, null, null, $entry, $moment from sample, range($people) t(n)"
    ),
    (
        "insert into answer select serving_id, 'words', compound, compound,"
        " 'salt', sha256('salt' || compound), null, $entry, $moment"
        " from serving join sample using (sample_id)"
        " where hash(serving_id) % 100 < 80"
    ),
    (
        "insert into answer select serving_id, 'nothing', null, null, null, null, null, $entry, $moment"
        " from serving anti join answer using (serving_id)"
    ),
)


def fill(desk: Desk, people: int, compounds: int) -> None:
    """Record that everybody was served every compound, four glasses in five named right."""
    with desk.store.recording("results") as act:
        values = {
            "entry": act.entry_no, "moment": act.recorded_at, "people": people,
            "glasses": GLASSES, "compounds": compounds,
        }  # fmt: skip
        for sql in _FACTS:
            act.cursor.execute(sql, {k: v for k, v in values.items() if f"${k}" in sql})
        act.tables |= {
            "person",
            "session",
            "sitting",
            "sample",
            "serving",
            "answer",
            "beer_family",
            "base_beer",
        }


def timed(work: Callable[[], Any]) -> tuple[float, Any]:
    """Seconds of one call, and what it gave."""
    start = time.perf_counter()
    found = work()
    return time.perf_counter() - start, found


def judged(desk: Desk, book: InForce) -> tuple[float, float]:
    """Seconds of a judgement, and the part of them that the statistics took."""
    inside = []
    estimate = judging.estimate

    def watched(*words: Any) -> Any:
        seconds, found = timed(lambda: estimate(*words))
        inside.append(seconds)
        return found

    judging.estimate = watched
    try:
        seconds, _ = timed(lambda: judging.judge_day(desk, TODAY, supposed_book=book))
    finally:
        judging.estimate = estimate
    return seconds, sum(inside)


def main() -> None:
    """Print the figures."""
    people, compounds = (int(word) for word in (*sys.argv[1:], 500, 60)[:2])
    with tempfile.TemporaryDirectory() as folder:
        desk = open_desk(Path(folder) / "panel.duckdb")
        fill(desk, people, compounds)
        books = {name: supposed_rulebook(rulebook_text(name)) for name in ("default", "plain")}
        seen = Seen(desk, TODAY, None, books["default"].rulebook)
        seen.counted_today()
        reference, _ = timed(seen.counted_today)
        print(f"{people} people x {compounds} compounds x {GLASSES} glasses")
        print(f"{'counted_glasses':32} {reference:6.2f} s")
        for name, book in books.items():
            seconds, statistics = judged(desk, book)
            beyond = seconds - statistics
            print(f"{'statistics':32} {statistics:6.2f} s")
            print(
                f"{name + ': beyond the statistics':32} {beyond:6.2f} s"
                f"  {beyond / reference:5.1f} x reference"
            )
        desk.close()


if __name__ == "__main__":
    main()
