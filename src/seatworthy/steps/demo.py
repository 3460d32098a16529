"""Sets up the sample brewery, its calendar moved so that its last session was lately."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from seatworthy.intake.results import ResultRow
from seatworthy.shipped import shipped
from seatworthy.steps.bring_in import BroughtIn, bring_in_results, bring_in_shelf
from seatworthy.steps.demo_bench import set_up_bench
from seatworthy.steps.desk import open_desk


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
