"""A brewery to be hostile to: its shelf, nine people, sessions before, in and after their time."""

import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from decimal import Decimal
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "steps"))
import benched
import handed_out
import release_sittings
import thursday
from fuzz_clear import fail

from seatworthy.sessions.wish import WantedSample, WantedSitting, Wish
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.planning import record_plan
from seatworthy.steps.talk import open_talk

TODAY = thursday.TODAY
MIXED = (
    WantedSample("diacetyl", Decimal(3), "50 µl in 1 l", 2),
    WantedSample("t2n", Decimal(3), "one capsule", 1),
    WantedSample("dms", Decimal(3), "60 µl in 1 l", 1, "3afc"),
    WantedSample("diacetyl", Decimal(2), "", 1, "intensity", "diacetyl"),
    WantedSample("dms", Decimal(2), "", 1, "a_not_a", "dms"),
    WantedSample(None, None, "", 2),
)


@dataclass(frozen=True)
class Brewery:
    """The open desk and what stands in it.

    Attributes:
        people: Person id by first name.
        sessions: Session ids: "open", "release", "closed", "early".
        secrets: Link secrets by session and name.
        stocks: Stock ids on the bench.
    """

    desk: Desk
    people: dict[str, str]
    sessions: dict[str, str]
    secrets: dict[str, dict[str, str]]
    stocks: dict[str, str]

    def counts(self) -> dict[str, int]:
        """How many rows every table holds."""
        cursor = self.desk.store.cursor()
        names = [row[0] for row in cursor.execute(
            "select table_name from information_schema.tables where table_type = 'BASE TABLE'"
        ).fetchall()]  # fmt: skip
        each = " union all ".join(f"select '{name}', count(*) from \"{name}\"" for name in names)
        return dict(cursor.execute(each).fetchall())

    @contextmanager
    def untouched(self) -> Iterator[None]:
        """Raise if anything was stored within; the rows of every table are counted."""
        before = self.counts()
        yield
        after = self.counts()
        if changed := {name: after[name] - n for name, n in before.items() if after[name] != n}:
            fail(f"a refusal stored {changed}")


def copied(folder: Path, name: str) -> "Brewery":
    """A brewery of one's own for a field, copied from the one made first."""
    made = folder / "made.duckdb"
    if not made.exists():
        brewery = _made(made, folder)
        brewery.desk.close()
        _MADE[made] = brewery
    path = folder / f"{name}.duckdb"
    shutil.copyfile(made, path)
    desk = open_desk(path)
    desk.today = lambda: thursday.TODAY  # type: ignore[method-assign]
    return replace(_MADE[made], desk=desk)


_MADE: dict[Path, Brewery] = {}


def _made(path: Path, folder: Path) -> Brewery:
    desk = open_desk(path)
    people = thursday.set_up(desk, folder)
    stocks = benched.set_up(desk)
    sessions = {
        "open": record_plan(desk, _mixed(people)),
        "release": release_sittings.planned(desk, people),
        "closed": record_plan(desk, replace(thursday.wish(people), label="Closed panel")),
        "early": record_plan(desk, _tomorrow(people)),
    }
    secrets = {key: handed_out.secrets_of(desk, one) for key, one in sessions.items()}
    for first_name in ("Ada", "Bo", "Carmen", "Dilek", "Emil"):
        for label in ("Tank 12", "Tank 13", "dms", "plain"):
            release_sittings.tell(desk, sessions["release"], first_name, label, "nothing")
    open_talk(desk, release_sittings.early(desk, sessions["release"]))
    thursday.answer_all(desk, sessions["closed"])
    thursday.close(desk, sessions["closed"])
    return Brewery(desk, people, sessions, secrets, stocks)


def _mixed(people: dict[str, str]) -> Wish:
    asked = thursday.wish(people)
    (early, _) = asked.sittings
    limits = replace(asked.limits, most_glasses=16, alcohol_g=Decimal(20))
    return replace(asked, label="Mixed panel", samples=MIXED, sittings=(early,), limits=limits)


def _tomorrow(people: dict[str, str]) -> Wish:
    asked = thursday.wish(people)
    day = thursday.TODAY + timedelta(days=1)
    sitting = WantedSitting("Early", datetime.combine(day, time(10)), asked.sittings[0].people)
    return replace(asked, session_on=day, label="Tomorrow", sittings=(sitting,))
