"""Kills at random moments in every act of recording: whole facts or none, and what was acknowledged stays.

Twenty rounds of `tests/bench/crash_rounds.py`, which does five hundred and prints them as a table.
"""

import os
import random
from pathlib import Path
from types import SimpleNamespace

import pytest

BENCH = Path(__file__).resolve().parents[1] / "bench"
KILLS = {
    "import": 3, "ballot": 4, "release": 3, "close": 2, "sign": 2, "backup": 2, "upgrade": 2,
    "anonymous": 2,
}  # fmt: skip

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no kill -9")


@pytest.fixture(scope="module")
def bench(tmp_path_factory, brewery):
    """The bench's parts, its server, and stores to begin with."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCH)
        import crash_checks
        import crash_rounds

        starts = crash_checks.Starts(tmp_path_factory.mktemp("kills"))
        starts.have("sign", brewery.path, (brewery.ids["Bo"], brewery.ids["Lee"]))
        with crash_rounds.Server() as server:
            yield SimpleNamespace(
                rounds=crash_rounds, checks=crash_checks, starts=starts, server=server
            )


@pytest.mark.parametrize("act", KILLS)
def test_a_kill_leaves_whole_facts_and_all_that_was_acknowledged(bench, act):
    start, line, chance = bench.starts.new(act), bench.rounds.Line(), random.Random(act)
    most, seconds = bench.rounds.ACTS[act]
    for number in range(KILLS[act]):
        is_last = (
            number == KILLS[act] - 1
        )  # it waits for a word, so that a slow machine says one too
        heard = min(most, 1 if is_last else chance.randint(0, 2))
        bench.rounds.kill_round(bench.server, start, line, heard, chance.uniform(0, seconds))
    assert (line.lost, line.half, line.broken) == ([], [], [])
    assert line.told or act == "upgrade"


def test_what_is_lost_or_half_is_seen(bench):
    start = bench.starts.new("import")
    bench.rounds.kill_round(bench.server, start, bench.rounds.Line(), 1, 0)
    start.told.append(["file", "another.csv"])
    assert bench.checks.look(start).lost == ["file another.csv"]
    bench.checks.change(
        start.path, "delete from answer where serving_id = (select min(serving_id) from answer)"
    )
    found = bench.checks.look(start)
    assert found.half
    assert found.broken
