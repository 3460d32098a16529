"""Many breweries' plain copies read together: one DuckDB over their Parquet files, no store opened.

Every site is a copy of the sample brewery's plain copy (its Parquet files alone) in a folder of its own,
whose name tells the site. Asked is what a group of breweries asks first: answers, and how often the
compound that was in the glass was named, by site and compound. The reference is the same question over
one site in the same run; memory is the peak of the process that asks.

    python tests/bench/bench_sites.py [--quick]
"""

import argparse
import json
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import duckdb

from seatworthy.steps.demo import set_up_demo
from seatworthy.steps.desk import open_desk
from seatworthy.steps.plain_copy import write_plain

SITES = (1, 10, 100, 1_000)
ROUNDS = 3
SITE = "regexp_extract(filename, '(site-[0-9]+)', 1)"
QUESTION = f"""
with answer as (
    select words_key, {SITE} || serving_id as serving_id
    from read_parquet('{{folder}}/*/tables/answer.parquet', filename = true)
),
serving as (
    select {SITE} || serving_id as serving_id, {SITE} || sample_id as sample_id
    from read_parquet('{{folder}}/*/tables/serving.parquet', filename = true)
),
sample as (
    select {SITE} as site, {SITE} || sample_id as sample_id, compound
    from read_parquet('{{folder}}/*/tables/sample.parquet', filename = true)
),
meaning as (
    select distinct words_key, compound
    from read_parquet('{{folder}}/*/tables/synonym.parquet')
)
select
    site,
    sample.compound,
    count(*)                                                   as answers,
    count(*) filter (where meaning.compound = sample.compound) as named_right
from answer
join serving using (serving_id)
join sample using (sample_id)
left join meaning on meaning.words_key = answer.words_key and meaning.compound = sample.compound
where sample.compound is not null
group by site, sample.compound
order by site, sample.compound
"""


def ask(folder: Path) -> dict[str, float]:
    """Best seconds of the question, the answers it counted, and the peak of memory."""
    best = float("inf")
    with duckdb.connect() as con:
        for _ in range(ROUNDS):
            start = time.perf_counter()
            rows = con.execute(QUESTION.format(folder=folder)).fetchall()
            best = min(best, time.perf_counter() - start)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {"seconds": best, "answers": sum(row[2] for row in rows), "rows": len(rows),
            "right": sum(row[3] for row in rows), "peak": peak}  # fmt: skip


def spread(plain: Path, folder: Path, sites: int) -> None:
    """Lay out the Parquet files of one plain copy as so many sites."""
    for number in range(sites):
        tables = folder / f"site-{number}" / "tables"
        tables.mkdir(parents=True)
        for name in ("answer", "serving", "sample", "synonym"):
            shutil.copyfile(plain / "tables" / f"{name}.parquet", tables / f"{name}.parquet")


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--quick", action="store_true", help="up to ten sites")
    chosen = SITES[:2] if parser.parse_args().quick else SITES
    reference = 0.0
    with tempfile.TemporaryDirectory() as scratch:
        store, plain = Path(scratch) / "panel.duckdb", Path(scratch) / "plain"
        set_up_demo(store)
        desk = open_desk(store)
        write_plain(desk, plain)
        desk.close()
        print(
            f"{'sites':>6}{'answers':>11}{'right':>8}{'rows':>8}{'seconds':>9}{'x one site':>12}{'peak MB':>9}"
        )
        for sites in chosen:
            folder = Path(scratch) / f"of-{sites}"
            spread(plain, folder, sites)
            done = subprocess.run(
                [sys.executable, __file__, "--ask", str(folder)],
                check=True, capture_output=True, text=True,
            )  # fmt: skip
            found = json.loads(done.stdout)
            reference = reference or found["seconds"]
            print(f"{sites:6,}{found['answers']:11,}{found['right'] / found['answers']:8.3f}"
                  f"{found['rows']:8,}{found['seconds']:9.3f}"
                  f"{found['seconds'] / reference:12.1f}{found['peak']:9.0f}")  # fmt: skip
            shutil.rmtree(folder)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--ask"]:
        print(json.dumps(ask(Path(sys.argv[2]))))
    else:
        main()
