"""Months of glasses put straight on record for tests of the panel over time."""

from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta
from typing import Final

import thursday

from seatworthy.intake.words import fold
from seatworthy.steps.desk import Desk
from seatworthy.steps.signing import salted

FORTNIGHTS: Final = 18
LATELY: Final = 6  # fortnights back that lie within the last three months, whatever these are
Jug = tuple[str | None, str | None]  # compound (None for a blank) and the stock it was dosed from
Row = tuple[str, Mapping[str, object]]  # a table, and what goes in


def day_of(back: int) -> date:
    """The day so many fortnights ago."""
    return thursday.TODAY - timedelta(days=14 * back)


def pour(
    desk: Desk, day: date, jugs: Mapping[Jug, Mapping[str, str]], sitting: str = "early"
) -> None:
    """Record one closed session of one sitting.

    Args:
        desk: The open store.
        day: Its day.
        jugs: What each person said of each jug, by person id; "" for nothing.
        sitting: The sitting's label.
    """
    with desk.store.recording("session") as act:
        act.add_all(rows_of(day, jugs, sitting))


def rows_of(
    day: date, jugs: Mapping[Jug, Mapping[str, str]], sitting: str = "early"
) -> Iterator[Row]:
    """The rows of one such session, so that many can be one act of recording."""
    session = f"s-{day}-{sitting}"
    yield "session", {"session_id": session, "session_on": day, "label": sitting}
    yield "sitting", {"sitting_id": session, "session_id": session, "label": sitting}
    for (compound, stock), said in jugs.items():
        jug = f"{session}-{compound}"
        yield "sample", {
            "sample_id": jug, "sitting_id": session, "beer": "house pils", "compound": compound,
            "given_level": None if compound is None else 3, "dose_ug": None, "volume_ml": None,
            "mark": str(compound),
        }  # fmt: skip
        if stock is not None:
            yield from _dose(jug, stock, day)
        for person, words in said.items():
            yield from _answer(jug, person, words)


def _dose(jug: str, stock: str, day: date) -> Iterator[Row]:
    at = datetime.combine(day, time(9), UTC).replace(tzinfo=None)
    yield "sample_state", {"sample_id": jug, "actual_level": 3, "age_minutes": None}
    yield "vessel_dosed", {
        "sample_id": jug, "vessel_no": 1, "is_done": True, "is_shared": False, "stock_id": stock,
        "pipette_id": None, "setting_ul": None, "shots": None, "amount": 1, "solvent_ul": 0,
        "volume_ml": 1000, "dosed_at": at, "person_id": None,
    }  # fmt: skip


def _answer(jug: str, person: str, words: str) -> Iterator[Row]:
    serving = f"{jug}-{person}"
    yield "serving", {
        "serving_id": serving, "sample_id": jug, "person_id": person, "method": "naming",
        "position": None, "blind_code": None, "duplicate_mark": None,
    }  # fmt: skip
    yield "answer", {
        "serving_id": serving, "kind": "words" if words else "nothing", **salted("words", words or None),
        "words_key": fold(words) if words else None, "rating": None,
    }  # fmt: skip
