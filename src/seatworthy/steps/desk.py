"""The open store with what belongs to it: the brewery's day, and the rulebook in force."""

import os
from collections import OrderedDict
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from functools import cached_property
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from seatworthy.errors import PanelError
from seatworthy.intake.tables import vocabulary_rows
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.rules.rulebook import Rulebook
from seatworthy.store.file import Store

STORE_VARIABLE = "SEATWORTHY_STORE"
EARLIEST = date(1900, 1, 1)
DEFAULT_STORE = "panel.duckdb"


@dataclass
class Desk:
    """Where the panel leader sits: one open store.

    Attributes:
        store: The open store.
        judged: Judgements kept by what was asked, the latest few; see `steps.judging`.
        estimated: Estimates kept by the evidence they rest on; see `steps.estimating`.
        losses: What was found of a loss in a person, likewise; see `steps.alarms`.
    """

    store: Store
    judged: OrderedDict[Any, Any] = field(default_factory=OrderedDict)
    estimated: OrderedDict[Any, Any] = field(default_factory=OrderedDict)
    losses: OrderedDict[Any, Any] = field(default_factory=OrderedDict)

    @property
    def version(self) -> int:
        """Grows with every act of recording."""
        return self.store.version

    @property
    def time_zone(self) -> ZoneInfo:
        """The brewery's time zone; UTC until it is stated."""
        found = self.store.rows("brewery")
        return ZoneInfo(found[0]["time_zone"] if found else "UTC")

    def today(self) -> date:
        """The day it is at the brewery."""
        return datetime.now(self.time_zone).date()

    def end_of(self, day: date) -> datetime:
        """Last moment of a day at the brewery, in UTC, as the store counts.

        Raises:
            PanelError: if the day is still to come, or before anybody kept such records.
        """
        self.check_day(day)
        end = datetime.combine(day + timedelta(days=1), time(), self.time_zone)
        return end.astimezone(UTC).replace(tzinfo=None) - timedelta(microseconds=1)

    def day_of(self, moment: datetime) -> date:
        """The day it was at the brewery at a moment of the store (UTC)."""
        return moment.replace(tzinfo=UTC).astimezone(self.time_zone).date()

    def check_day(self, day: date) -> None:
        """Refuse a day of which nothing can be known.

        Raises:
            PanelError: if it is still to come, or before anybody kept such records.
        """
        today = self.today()
        if not EARLIEST <= day <= today:
            message = f"{day} cannot be judged: name a day from {EARLIEST} to today, {today}."
            raise PanelError(message)

    @cached_property
    def rulebook(self) -> Rulebook:
        """The rulebook in force."""
        return rulebook_on_menu("default")

    def close(self) -> None:
        """Close the store."""
        self.store.close()


def store_path(named: str | None = None) -> Path:
    """The store that is meant: the one named, else the environment's, else one in this folder."""
    return Path(named or os.environ.get(STORE_VARIABLE) or DEFAULT_STORE)


def open_desk(path: Path | str) -> Desk:
    """Open a store, making and stocking it with the shipped vocabulary if it is new.

    Raises:
        StoreError: if it cannot be used; see `store.file.Store.open`.
    """
    store = Store.open(path)
    try:
        if not store.rows("compounds"):
            with store.recording("vocabulary") as act:
                act.add_all(vocabulary_rows())
    except BaseException:
        store.close()
        raise
    return Desk(store)
