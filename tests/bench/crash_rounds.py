"""Kills the program at random moments in each act of recording, and tells what that cost.

    .venv/bin/python tests/bench/crash_rounds.py [ROUNDS] [SEED] [MINUTES]

It ends after so many minutes at the latest. Rounds per act, how many facts were acknowledged, and how many of those were lost, half, or with a broken
chain: all of the last three must be 0. A store lives through several kills before a fresh one is taken.
"""

import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Self

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS / "bench"), str(TESTS / "steps")]

import crash_checks

# Act, up to how many lines of it are waited for, and within how many seconds after them the kill comes.
ACTS = {
    "import": (3, 0.5),
    "ballot": (5, 0.2),
    "release": (7, 0.3),
    "close": (7, 1.0),
    "sign": (2, 1.0),
    "backup": (2, 1.0),
    "upgrade": (0, 2.0),
    "anonymous": (3, 0.8),
}
KILLS_A_STORE = 4


@dataclass
class Line:
    """What came of an act's rounds."""

    rounds: int = 0
    told: Counter = field(default_factory=Counter)
    lost: list[str] = field(default_factory=list)
    half: list[str] = field(default_factory=list)
    broken: list[str] = field(default_factory=list)
    finished: int = 0


class Server:
    """The process that forks a child for every order; see `crash_acts.py`."""

    def __enter__(self) -> Self:
        paths = os.pathsep.join(str(TESTS / part) for part in ("bench", "steps"))
        self._process = subprocess.Popen(
            [sys.executable, str(TESTS / "bench" / "crash_acts.py")],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
            env={**os.environ, "PYTHONPATH": paths},
        )  # fmt: skip
        return self

    def __exit__(self, *_: object) -> None:
        self._process.stdin.close()
        self._process.wait()
        self._process.stdout.close()

    def killed(
        self, act: str, words: list[str], acknowledged: int, seconds: float
    ) -> list[list[str]]:
        """Have an act done, kill it, and give what was acknowledged by then.

        Args:
            act: Which.
            words: What it needs.
            acknowledged: How many lines the kill waits for, however slow the machine.
            seconds: How long after those the kill comes.
        """
        self._order(json.dumps([act, *words]))
        lines = [self._line(), self._line()]  # the child's number and its opening, in any order
        pid = next(int(line[1]) for line in lines if line[0] == "pid")
        while acknowledged and lines[-1][0] not in ("end", "fault"):
            lines.append(self._line())
            acknowledged -= lines[-1][0] != "joined"  # which tells only what is about to be done
        time.sleep(seconds)
        os.kill(pid, signal.SIGKILL)
        self._order("buried")
        while lines[-1] != ["over"]:
            lines.append(self._line())
        return [line for line in lines if line[0] not in ("pid", "open", "over")]

    def _order(self, text: str) -> None:
        self._process.stdin.write(text + "\n")
        self._process.stdin.flush()

    def _line(self) -> list[str]:
        return self._process.stdout.readline().rstrip("\n").split("\t")


def kill_round(
    server: Server, start: crash_checks.Start, line: Line, acknowledged: int, seconds: float
) -> None:
    """One kill, and what it left."""
    words = [str(start.path), *start.words]
    told = server.killed(start.act, words, acknowledged, seconds)
    faults = [json.loads(words[0]) for what, *words in told if what == "fault"]
    start.told += [words for words in told if words[0] not in ("fault", "end")]
    start.kills += 1
    found = crash_checks.look(start)
    line.rounds += 1
    line.told.update(words[0] for words in told if words[0] not in ("fault", "end", "joined"))
    line.finished += ["end"] in told
    line.lost += found.lost
    line.half += found.half
    line.broken += [*found.broken, *faults]


def run(rounds: int, seed: int, minutes: float, folder: Path) -> dict[str, Line]:
    """So many rounds, the acts by turns; fewer if they take longer."""
    ends = time.monotonic() + 60 * minutes
    chance = random.Random(seed)
    starts, lines, present = crash_checks.Starts(folder), {act: Line() for act in ACTS}, {}
    with Server() as server:
        for number in range(rounds):
            if time.monotonic() > ends:
                break
            act = list(ACTS)[number % len(ACTS)]
            line = lines[act]
            if act not in present or line.rounds % KILLS_A_STORE == 0:
                drop(present.pop(act, None))
                present[act] = starts.new(act, line.rounds // KILLS_A_STORE)
            if act == "upgrade" and line.rounds and ["upgraded"] in present[act].told:
                drop(present.pop(act))
                present[act] = starts.new(act, line.rounds)
            most, seconds = ACTS[act]
            heard, waited = chance.randint(0, most), chance.uniform(0, seconds)
            kill_round(server, present[act], line, heard, waited)
            if number % 50 == 49:
                print(f"{number + 1} rounds", flush=True)
    return lines


def drop(start: crash_checks.Start | None) -> None:
    """Take a store away that has served."""
    if start is not None:
        shutil.rmtree(start.path.parent)


def show(lines: dict[str, Line]) -> None:
    """The table, and every sentence of what went wrong."""
    print("| act | rounds | acknowledged | lost | half | chain broken |")
    print("| --- | --- | --- | --- | --- | --- |")
    for act, line in lines.items():
        told = ", ".join(f"{n} {what}" for what, n in line.told.items()) or "0"
        print(
            f"| {act} | {line.rounds} | {told} | {len(line.lost)} | {len(line.half)} "
            f"| {len(line.broken)} |"
        )
    for act, line in lines.items():
        for sentence in (*line.lost, *line.half, *line.broken):
            print(f"{act}: {sentence}")


if __name__ == "__main__":
    asked = dict(enumerate(sys.argv[1:]))
    rounds, seed, minutes = int(asked.get(0, 500)), int(asked.get(1, 1)), float(asked.get(2, 600))
    with tempfile.TemporaryDirectory() as scratch:
        show(run(rounds, seed, minutes, Path(scratch)))
