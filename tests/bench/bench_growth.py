"""From stored answers to UNDATED thresholds, beside the bare SQL count of the same answers.

A DuckDB file of 10,000 to 10 million answers, each with the columns of `scored_answer` that the
model needs; values come from hashes, so that nothing repeats in the order stored. The file is read
with the settings of a store. The count goes by person, compound, method and level, the level in
steps of 1/8 log2.

- bare count: DuckDB counts all groups and adds them up; nothing leaves it. People and compounds are
  numbered by a join before, which made the count faster than one by their texts.
- to thresholds: the same count, its columns fetched into numpy, laid out by cell and kind of glass,
  curves for all kinds, own and pooled thresholds with intervals of every cell.

Seconds by the clock, the best of several runs taken in turns; DuckDB uses every processor, the model
one. Memory is the peak of the process that reads, the bare count and its libraries included.

    python tests/bench/bench_growth.py
"""

import json
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np

from seatworthy.stats.undated import SLOPES, UNDATED, Undated, estimate_undated
from seatworthy.stats.undated_curves import GlassKinds, thurstone_curves
from seatworthy.store.connecting import connect

SIZES = {10_000: (6, 5), 100_000: (20, 15), 1_000_000: (100, 30), 10_000_000: (500, 60)}
METHODS = np.array(["naming", "3afc", "triangle"])
STEPS = 8  # of a level, to a doubling
HIGHEST = 64  # no level is above 2 ** 8 or below 2 ** -8, in such steps
FLOOR = 3.0

MAKE = """
create table scored_answer as
with drawn as (
    select
        (hash(i * 7 + 1) % {people})::integer                              as person_no,
        (hash(i * 13 + 5) % {compounds})::integer                          as compound_no,
        ['naming', '3afc', 'triangle'][1 + (hash(i * 3 + 2) % 3)::integer] as method,
        [0.5, 1, 2, 3, 4, 8][1 + (hash(i * 17 + 3) % 6)::integer]
            * (0.96 + 0.08 * (hash(i * 5 + 4) % 1000) / 1000.0)            as total_level,
        (hash(i * 29 + 11) % 10000) / 10000.0                              as luck,
        date '2016-01-01' + (i * 3650 // {rows})::integer                  as session_on
    from range({rows}) as numbers(i)
)
select
    printf('%016x', hash(person_no))          as person_id,
    printf('compound %02d', compound_no)      as compound,
    method,
    total_level,
    case
        when luck < 0.33 + 0.65 * total_level
            / (total_level + pow(2.0, (hash(person_no * 1000 + compound_no) % 400) / 100.0 - 2))
        then 'right' else 'wrong'
    end                                       as outcome,
    session_on
from drawn;

create table place_of_person as
select person_id, (row_number() over (order by person_id) - 1)::integer as person
from (select distinct person_id from scored_answer);

create table place_of_compound as
select compound, (row_number() over (order by compound) - 1)::integer as place
from (select distinct compound from scored_answer);
"""

COUNT = """
select
    place_of_person.person,
    place_of_compound.place                              as compound,
    list_position(['naming', '3afc', 'triangle'], method) - 1 as method,
    round(8 * log2(total_level))::integer                as level,
    count(*)                                             as total,
    count(*) filter (where outcome = 'right')            as right_ones
from scored_answer
join place_of_person using (person_id)
join place_of_compound using (compound)
group by place_of_person.person, place_of_compound.place, method, level
"""

Columns = Mapping[str, np.ndarray]


def lay_out(counted: Columns, people: int) -> tuple[np.ndarray, np.ndarray, GlassKinds]:
    """Right and total by cell, those of a compound side by side, and kind; and the kinds."""
    code = counted["method"] * 2 * HIGHEST + counted["level"] + HIGHEST
    present = np.flatnonzero(np.bincount(code))
    place = np.zeros(METHODS.size * 2 * HIGHEST, dtype=np.intp)
    place[present] = np.arange(present.size)
    cell = counted["compound"] * people + counted["person"]
    shape = people * (int(counted["compound"].max()) + 1), present.size
    right, total = np.zeros(shape), np.zeros(shape)
    right[cell, place[code]] = counted["right_ones"]
    total[cell, place[code]] = counted["total"]
    level = np.exp2((present % (2 * HIGHEST) - HIGHEST) / STEPS)
    kinds = GlassKinds(METHODS[present // (2 * HIGHEST)], level, np.zeros(present.size))
    return right, total, kinds


def estimate(counted: Columns, people: int) -> tuple[Undated, int]:
    """Thresholds of all cells, and the number of kinds of glasses."""
    right, total, kinds = lay_out(counted, people)
    compound = np.repeat(np.arange(len(right) // people), people)
    curves = thurstone_curves(kinds, UNDATED, SLOPES)
    return estimate_undated(right, total, compound, curves), kinds.method.size


def make_file(path: Path, rows: int) -> None:
    """Write the answers, in a process of its own so that its memory is not counted."""
    people, compounds = SIZES[rows]
    with connect(path) as con:
        con.execute(MAKE.format(rows=rows, people=people, compounds=compounds))


def measure(path: Path, rows: int) -> dict[str, float]:
    """Best seconds of each step, and what was handled."""
    people = SIZES[rows][0]
    turns: list[dict[str, float]] = []
    with connect(path, read_only=True) as con:

        def bare() -> tuple[int, ...]:
            totals = "count(*), sum(total), sum(right_ones)"
            return con.execute(f"select {totals} from ({COUNT})").fetchone()

        for _ in range(3 if rows > 1_000_000 else 7):
            alone, (groups, answers, _) = timed(bare)
            fetched, counted = timed(lambda: con.execute(COUNT).fetchnumpy())
            modelled, (found, kinds) = timed(lambda counted=counted: estimate(counted, people))
            turns.append({"bare": alone, "fetch": fetched, "model": modelled})
    best = {name: min(turn[name] for turn in turns) for name in turns[0]}
    best["all"] = min(turn["fetch"] + turn["model"] for turn in turns)
    cells = int(np.isfinite(found.pooled.mean).sum())
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {**best, "cells": cells, "groups": groups, "kinds": kinds, "answers": int(answers),
            "memory": memory, "file": path.stat().st_size / 1e6}  # fmt: skip


def timed(work: Callable[[], object]) -> tuple[float, object]:
    """Seconds by the clock, and what came out."""
    start = time.perf_counter()
    found = work()
    return time.perf_counter() - start, found


def in_a_process(*words: object) -> str:
    """What this script prints when run with these words."""
    command = [sys.executable, __file__, *map(str, words)]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def main() -> None:
    """Print the figures."""
    print("UNDATED thresholds from stored answers: no dates enter. Seconds, megabytes.")
    print(f"{'answers':>10}{'cells':>8}{'kinds':>6}{'groups':>10}{'file':>7}{'bare':>8}{'fetch':>8}"
          f"{'model':>8}{'to thresholds':>15}{'ratio':>7}{'us an answer':>14}{'memory':>8}")  # fmt: skip
    with tempfile.TemporaryDirectory() as folder:
        for rows in SIZES:
            path = Path(folder) / f"{rows}.duckdb"
            in_a_process("make", path, rows)
            row = json.loads(in_a_process("measure", path, rows))
            ratio = row["all"] / row["bare"]
            print(f"{row['answers']:10,}{row['cells']:8,}{row['kinds']:6}{row['groups']:10,}"
                  f"{row['file']:7.0f}{row['bare']:8.3f}{row['fetch']:8.3f}{row['model']:8.3f}"
                  f"{row['all']:15.3f}{ratio:7.2f}{row['all'] / rows * 1e6:14.2f}"
                  f"{row['memory']:8.0f}")  # fmt: skip
            path.unlink()
    held = "held" if ratio <= FLOOR else "NOT held"
    print(f"The ratio at {rows:,} answers should be at most {FLOOR:g}: {held}.")


if __name__ == "__main__":
    if len(sys.argv) == 1:
        main()
    elif sys.argv[1] == "make":
        make_file(Path(sys.argv[2]), int(sys.argv[3]))
    else:
        print(json.dumps(measure(Path(sys.argv[2]), int(sys.argv[3]))))
