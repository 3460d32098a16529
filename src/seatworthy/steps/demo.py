"""Sets up the sample brewery: its calendar moved so that its last session was lately, one for today."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Final

from seatworthy.intake.results import ResultRow
from seatworthy.sessions.wish import WantedSample, WantedSitting
from seatworthy.shipped import shipped
from seatworthy.steps.bring_in import BroughtIn, bring_in_results, bring_in_shelf
from seatworthy.steps.demo_bench import set_up_bench
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.planning import first_wish, record_plan

_POURED: Final = (("diacetyl", 3, 2), ("dms", 3, 1), ("t2n", 4, 1), (None, None, 2))
_STARTS: Final = time(14)


def set_up_demo(store: Path, today: date | None = None) -> BroughtIn | None:
    """Make the sample brewery's store, unless it is there already.

    Args:
        store: Where.
        today: The day up to which its calendar is moved; None for the real one.

    Returns:
        What was brought in; None if the store was there.
    """
    if store.exists():
        return None
    store.parent.mkdir(parents=True, exist_ok=True)
    desk = open_desk(store)
    try:
        bring_in_shelf(desk, shipped("sample_data/shelf.toml"))
        set_up_bench(desk)
        return bring_in_results(
            desk,
            shipped("sample_data/results.csv"),
            arrange=lambda rows: moved_to(rows, today or desk.today()),
        )
    finally:
        desk.close()


def moved_to(rows: tuple[ResultRow, ...], today: date) -> tuple[ResultRow, ...]:
    """The same sessions moved by whole weeks, so that the last one was less than a week ago."""
    last = max(row.session_on for row in rows)
    shift = timedelta(weeks=(today - last).days // 7)
    return tuple(replace(row, session_on=row.session_on + shift) for row in rows)


def plan_today(desk: Desk) -> str:
    """Plan a small session for today, so that papers, ballots and the table can be looked at.

    Returns:
        Its id.
    """
    people = tuple(person.person_id for person in people_of_panel(desk) if person.is_panellist)
    samples = (
        WantedSample(compound, None if level is None else Decimal(level), "", glasses)
        for compound, level, glasses in _POURED
    )
    sitting = WantedSitting("Afternoon", datetime.combine(desk.today(), _STARTS), people)
    wish = replace(
        first_wish(desk),
        session_on=desk.today(),
        label="Today's panel",
        purpose="training",
        samples=tuple(samples),
        sittings=(sitting,),
        leaves_out=True,
    )
    return record_plan(desk, wish)
