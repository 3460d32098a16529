"""A part of the hostile results files, brought into a store: whole, or nothing of it."""

from pathlib import Path
from random import Random

import fuzz_hostile as hostile
from fuzz_brewery import Brewery, copied
from fuzz_clear import check_clear, fail
from fuzz_results import table, written

from seatworthy.errors import PanelError
from seatworthy.steps.bring_in import bring_in_results


class Imports:
    """The field of files that are brought in.

    Args:
        folder: Where a brewery may be kept.
    """

    name, share = "file into the store", 0.1

    def __init__(self, folder: Path) -> None:
        self.brewery: Brewery = copied(folder, "imports")
        self.path = folder / "brought.csv"

    def close(self) -> None:
        """Let the brewery go."""
        self.brewery.desk.close()

    def attempt(self, draw: Random) -> bool:
        """Bring one file in; whether it was accepted."""
        data = written(draw, *table(draw))
        self.path.write_bytes(hostile.damaged(draw, data) if draw.random() < 0.1 else data)
        counts, version = self.brewery.counts(), self.brewery.desk.version
        try:
            found = bring_in_results(
                self.brewery.desk, self.path, date_order="day-first",
                new_people=("*",) if draw.random() < 0.9 else (),
            )  # fmt: skip
        except PanelError as refused:
            check_clear(refused)
            if self.brewery.desk.version != version or self.brewery.counts() != counts:
                fail(f"stored and refused: {refused}")
            return False
        grown = self.brewery.counts()["answer"] - counts["answer"]
        if found.added != grown or found.added + found.known != found.rows:
            fail(f"{grown} answers stored, told {found}")
        return True
