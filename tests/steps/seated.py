"""A brewery with answers enough to sign on, made once a test file and copied for each test."""

import shutil
from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from written import flight, results

from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.proposals import proposals
from seatworthy.steps.signers import appoint_signer

FIRST = date(2026, 6, 1)
WEEKS = 10
TODAY = FIRST + timedelta(weeks=WEEKS)
FAMILY = "pale"
LEADER, PIN = "Lee", "1234"
COMPOUNDS = ("diacetyl", "dms", "acetaldehyde", "t2n", "h2s")
# Lee finds everything, Ada too, Bo nearly nothing, and Cleo came to the first two sessions.
MISSED = {"Lee": 0, "Ada": 0, "Bo": 9, "Cleo": 0}
CAME = {"Cleo": 2}


class Kept(OrderedDict):
    """Judgements kept while a test only signs: what is signed changes no verdict."""

    def __contains__(self, asked):
        """Whether it was judged, at whatever version of the store."""
        return super().__contains__(asked[1:])

    def __getitem__(self, asked):
        """What was judged."""
        return super().__getitem__(asked[1:])

    def __setitem__(self, asked, judged):
        """Keep what was judged."""
        super().__setitem__(asked[1:], judged)


@dataclass
class Brewery:
    """A built store, and what was judged of it already."""

    path: Path
    ids: Mapping[str, str]
    judged: OrderedDict
    estimated: OrderedDict


def flights(weeks: range, who: str, n: int, missed: int = 0) -> list[tuple]:
    """Weekly flights of five compounds and a blank; in the first so many weeks nothing is found."""
    rows = []
    for week in weeks:
        said = {c: "nothing" if week < missed else c for c in COMPOUNDS}
        day = (FIRST + timedelta(weeks=week)).isoformat()
        rows += flight(day, who, {**said, "blank": "nothing"}, first=100 + 20 * n)
    return rows


def build(folder: Path) -> Brewery:
    """Bring ten weeks of results in, appoint Lee to sign, and judge the day after."""
    desk = open_desk(folder / "panel.duckdb")
    rows = []
    for n, (who, missed) in enumerate(MISSED.items()):
        rows += flights(range(CAME.get(who, WEEKS)), who, n, missed)
    bring_in_results(desk, results(folder / "rows.csv", rows))
    desk.today = lambda: TODAY  # type: ignore[method-assign]
    ids = {name: i for i, name in judge_day(desk).people.items()}
    appoint_signer(desk, ids[LEADER], PIN)
    brewery = Brewery(desk.store.path, ids, desk.judged, desk.estimated)
    desk.close()
    return brewery


@contextmanager
def opened(brewery: Brewery, folder: Path) -> Iterator[Desk]:
    """A desk of one's own at a copy of the store."""
    path = folder / "panel.duckdb"
    shutil.copyfile(brewery.path, path)
    desk = open_desk(path)
    desk.judged, desk.estimated = Kept(), brewery.estimated
    for asked, judged in brewery.judged.items():
        desk.judged[asked] = judged
    at(desk, TODAY)
    yield desk
    desk.close()


def bring_in(desk: Desk, folder: Path, rows: Iterable[tuple], new_people: Sequence[str] = ()):
    """Bring further rows in; what was judged before is forgotten."""
    path = results(folder / f"rows {desk.version}.csv", rows)
    bring_in_results(desk, path, new_people=new_people)
    desk.judged.clear()


def at(desk: Desk, day: date) -> None:
    """Make it that day at the brewery."""
    desk.today = lambda: day  # type: ignore[method-assign]


def proposal_of(desk: Desk, person_id: str):
    """What the rules propose for somebody; None for nothing."""
    return next((p for p in proposals(desk) if p.person_id == person_id), None)
