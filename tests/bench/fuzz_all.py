"""Hostile inputs to every place that takes any: how many were tried, refused, accepted, and broke.

    python tests/bench/fuzz_all.py [--inputs 100000] [--seed 1] [--field plan]

Each input is drawn from its seed, field and number, so `--field F --only N` tries one again (where a
field keeps a store, what came before it counts too). An input is broken if anything but a refusal is
raised, if a warning is given, if what was accepted breaks a promise of its field, if a refusal stored
something, or if it does not say where, what was found and what to do; see the modules `fuzz_*.py`.
Leaves with 1 if any broke.
"""

import argparse
import gc
import re
import resource
import sys
import tempfile
import time
import warnings
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from statistics import median
from typing import Any, Final

from fuzz_ballots import Ballots
from fuzz_benches import BenchForms
from fuzz_calls import Calls
from fuzz_imports import Imports
from fuzz_pages import Pages
from fuzz_plans import Plans
from fuzz_results import ResultsFiles
from fuzz_rulebooks import Rulebooks
from fuzz_sheets import Sheets
from fuzz_shelf import ShelfFiles
from fuzz_verdicts import Verdicts
from fuzz_workbooks import Workbooks

FIELDS: Final = (ResultsFiles, Workbooks, Imports, ShelfFiles, Rulebooks, Verdicts, Plans, Ballots, Sheets,
                 BenchForms, Calls, Pages)  # fmt: skip
_SLOW: Final = 100  # times the median


@dataclass
class Tally:
    """What became of the inputs of one field.

    Attributes:
        accepted: How many were taken.
        refused: How many were refused, clearly.
        broken: How many of each kind broke something, and the number of the first.
        took: CPU seconds of each.
    """

    name: str
    accepted: int = 0
    refused: int = 0
    broken: Counter[str] = field(default_factory=Counter)
    first: dict[str, int] = field(default_factory=dict)
    took: list[float] = field(default_factory=list)

    def line(self) -> str:
        """One row of the table."""
        middle, longest = median(self.took), max(self.took)
        slow = sum(took > _SLOW * middle for took in self.took)
        number = self.took.index(longest)
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        return (
            f"| {self.name} | {len(self.took)} | {self.accepted} | {self.refused} | "
            f"{self.broken.total()} | {sum(self.took):.0f} | {1000 * middle:.1f} | "
            f"{1000 * longest:.0f} (no. {number}) | {slow} | {memory} |"
        )


def main() -> None:
    """Try them all and print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--inputs", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--field", default="", help="part of the name of the fields to try")
    parser.add_argument("--only", type=int, help="the number of one input")
    asked = parser.parse_args()
    print("| field | inputs | accepted | refused | broken | CPU s | median ms | longest ms "
          "| over 100 medians | peak MB |\n|---|---|---|---|---|---|---|---|---|---|", flush=True)  # fmt: skip
    with tempfile.TemporaryDirectory() as folder, warnings.catch_warnings():
        warnings.simplefilter("error")
        found = list(_tallies(Path(folder), asked))
    print(f"\n{sum(len(one.took) for one in found)} inputs, seed {asked.seed}")
    for one in found:
        for sentence, count in one.broken.most_common():
            print(f"{one.name}, no. {one.first[sentence]}, {count} times: {sentence}")
    sys.exit(any(one.broken for one in found))


def _tallies(folder: Path, asked: argparse.Namespace) -> Iterator[Tally]:
    whole = sum(kind.share for kind in FIELDS)
    for kind in FIELDS:
        if asked.field in kind.name:
            numbers = range(round(asked.inputs * kind.share / whole))
            tally = tried(kind(folder), asked.seed, numbers if asked.only is None else [asked.only])
            print(tally.line(), flush=True)
            yield tally


def tried(place: Any, seed: int, numbers: Any) -> Tally:
    """Try the inputs of one field with these numbers."""
    tally = Tally(place.name)
    for number in numbers:
        started = time.process_time()
        try:
            if place.attempt(Random(f"{seed}:{place.name}:{number}")):
                tally.accepted += 1
            else:
                tally.refused += 1
        except Exception as broken:  # noqa: BLE001 - whatever it is, it is what we look for
            sentence = _without_details(f"{type(broken).__name__}: {broken}")
            tally.broken[sentence] += 1
            tally.first.setdefault(sentence, number)
        tally.took.append(time.process_time() - started)
    getattr(place, "close", lambda: None)()
    gc.collect()
    return tally


def _without_details(sentence: str) -> str:
    """A sentence by which faults of one kind are counted as one."""
    return re.sub(r"“[^”]*”|\"[^\"]*\"|'[^']*'|\d+", "#", sentence)[:300]


if __name__ == "__main__":
    main()
