"""Three people of the sample brewery for tests of pages: judged once, copied for each test."""

import shutil
from collections import OrderedDict
from dataclasses import dataclass
from pathlib import Path

from seatworthy.shipped import shipped
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.demo import moved_to
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.proposals import proposals
from seatworthy.steps.signers import appoint_signer

PALE = "pale_lager"
PEOPLE = ("Aoife", "Gwen", "Márta")  # found, came once, found but for one compound
PIN = "4711"


class Judgements(OrderedDict):
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
class Sample:
    """A closed store of the sample brewery, and what was judged of it."""

    path: Path
    judged: OrderedDict
    estimated: OrderedDict


def made(folder: Path) -> Sample:
    """Set the brewery up, its calendar moved to today, and judge today."""
    path = folder / "panel.duckdb"
    desk = open_desk(path)
    bring_in_shelf(desk, shipped("sample_data/shelf.toml"))
    bring_in_results(desk, shipped("sample_data/results.csv"), arrange=lambda rows: tuple(
        row for row in moved_to(rows, desk.today()) if row.panellist in PEOPLE
    ))  # fmt: skip
    judge_day(desk)
    sample = Sample(path, desk.judged, desk.estimated)
    desk.close()
    return sample


def copied(sample: Sample, folder: Path) -> Desk:
    """A desk of one's own at a copy of the store."""
    path = folder / "sample.duckdb"
    shutil.copyfile(sample.path, path)
    desk = open_desk(path)
    desk.judged, desk.estimated = Judgements(), sample.estimated
    for asked, judged in sample.judged.items():
        desk.judged[asked] = judged
    return desk


def person_id(desk: Desk, name: str) -> str:
    """Id of somebody at the sample brewery."""
    return next(key for key, known in judge_day(desk).people.items() if known == name)


def appointed(desk: Desk, name: str = "Gwen") -> str:
    """Appoint somebody to sign and return their id; Gwen's own seat is never proposed."""
    who = person_id(desk, name)
    appoint_signer(desk, who, PIN)
    return who


def waiting(desk: Desk, name: str = "Aoife", family: str = PALE):
    """What is proposed for somebody; None for nothing."""
    who = (person_id(desk, name), family)
    return next((one for one in proposals(desk) if (one.person_id, one.family) == who), None)
