"""Two breweries of eight people for 18 months: one guided by the pages, one by rotation and 70 %.

    python tests/bench/two_breweries.py                   # every line, some minutes
    python tests/bench/two_breweries.py --quick           # two panels a line, to see that it runs
    python tests/bench/two_breweries.py --seeds 60 --from 500 weekly
    python tests/bench/two_breweries.py --markdown table.md

Both have the same people, the same truth, the same tanks and the same luck glass by glass: what
somebody would say to a glass does not depend on who asks. A seat is right where its holder truly
names at least four of the six critical compounds at 3 times threshold 70 % of the time and at most
one less than half of the time. ± is one standard error over the panels drawn.
"""

import argparse
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Final

from two_breweries_guided import Guided
from two_breweries_rotation import Rotation
from two_breweries_run import Brewery, Outcome, live
from two_breweries_table import Row, deciles, floors, markdown
from two_breweries_truth import AS_ASSUMED, MIXED, TRAINED, WELL_TRAINED, Kind, draw_truth

SEEDS, QUICK_SEEDS = 40, 2
FIRST_SEED: Final = 1
WORKERS: Final = 2
ASSUMED: Final = "faults as assumed"


@dataclass(frozen=True)
class Line:
    """One brewery in one kind of panel.

    Attributes:
        group: By which it is asked for; the first line of a group is what others are held against.
        name: For the table.
        build: Makes the brewery.
        kind: How good its people are.
        every: A session every so many weeks.
        skips: Of every three sessions leaves the last out.
    """

    group: str
    name: str
    build: Callable[[], Brewery]
    kind: Kind = TRAINED
    every: int = 1
    skips: bool = False

    def has_session(self, week: int) -> bool:
        """Whether there is a session in a week."""
        turn, rest = divmod(week, self.every)
        return rest == 0 and not (self.skips and turn % 3 == 2)


LINES: Final = (
    Line("weekly", "rotation, 70 % right", Rotation),
    Line("weekly", "rotation, one caller: poured again", partial(Rotation, pours_again=True)),
    Line("weekly", "rotation, 80 % right asked", partial(Rotation, right=0.80)),
    Line("weekly", "rotation of the six critical ones", partial(Rotation, of=6)),
    Line("weekly", "guided", Guided),
    Line("weekly", "guided, a third fewer glasses", Guided, skips=True),
    Line("weekly", "guided, without the start-up rule", partial(Guided, has_start_up=False)),
    Line("fortnightly", "rotation, 70 % right", Rotation, every=2),
    Line("fortnightly", "guided", Guided, every=2),
    Line("fortnightly", "guided, a third fewer glasses", Guided, every=2, skips=True),
    Line("monthly", "rotation, 70 % right", Rotation, every=4),
    Line("monthly", "guided", Guided, every=4),
    Line("well trained", "rotation, 70 % right", Rotation, kind=WELL_TRAINED),
    Line("well trained", "guided", Guided, kind=WELL_TRAINED),
    Line("mixed", "rotation, 70 % right", Rotation, kind=MIXED),
    Line("mixed", "guided", Guided, kind=MIXED),
    Line(ASSUMED, "rotation, 70 % right", Rotation, kind=AS_ASSUMED),
    Line(ASSUMED, "guided", Guided, kind=AS_ASSUMED),
)


def main() -> None:
    """Print the table, what the floors are held against, and how true the weighed calls are."""
    asked = _read_words()
    number = QUICK_SEEDS if asked.quick else asked.seeds
    seeds = range(asked.start, asked.start + number)
    rows: list[Row] = []
    with ProcessPoolExecutor(WORKERS) as workers:
        for line in LINES:
            if not asked.groups or line.group in asked.groups:
                start = time.perf_counter()
                rows.append(run(line, seeds, workers.map))
                print(rows[-1].text(), f"{time.perf_counter() - start:5.0f} s", flush=True)
    print("", *floors(rows), "", *deciles(rows, ASSUMED), sep="\n")
    if asked.markdown:
        asked.markdown.write_text(markdown(rows, ASSUMED), encoding="utf-8")


def run(line: Line, seeds: Sequence[int], each: Callable = map) -> Row:
    """Let a line live through some panels."""
    return Row(line.group, line.name, tuple(each(partial(one, line), seeds)))


def one(line: Line, seed: int) -> Outcome:
    """One panel; the same seed is the same truth and luck for every line of a kind."""
    return live(draw_truth(seed, line.kind), line.build(), line.has_session)


def _read_words() -> argparse.Namespace:
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    groups = list(dict.fromkeys(line.group for line in LINES))
    words.add_argument("groups", nargs="*", help=f"all, or some of: {', '.join(groups)}")
    words.add_argument("--seeds", type=int, default=SEEDS, help="panels of a line")
    words.add_argument("--from", dest="start", type=int, default=FIRST_SEED, help="first seed")
    words.add_argument("--quick", action="store_true", help=f"{QUICK_SEEDS} panels a line")
    words.add_argument("--markdown", type=Path, help="where to write the table")
    asked = words.parse_args()
    if unknown := set(asked.groups) - set(groups):
        words.error(f"no group is called {', '.join(sorted(unknown))}; there are {groups}")
    return asked


if __name__ == "__main__":
    main()
