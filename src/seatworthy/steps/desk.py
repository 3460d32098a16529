"""The open store with what belongs to it: the brewery's day, and the rulebook in force."""

import os
import threading
from collections import OrderedDict
from contextlib import suppress
from dataclasses import dataclass, field, fields
from datetime import UTC, date, datetime, time, timedelta
from hashlib import sha256
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from seatworthy.errors import PanelError, StoreError
from seatworthy.intake.tables import vocabulary_rows
from seatworthy.rules.reading import read_rulebook
from seatworthy.rules.rulebook import Rulebook
from seatworthy.rules.texts import rulebook_text
from seatworthy.store.file import Store
from seatworthy.store.rewriting import keep_anonymous, rewrite_if_due

STORE_VARIABLE = "SEATWORTHY_STORE"
EARLIEST = date(1900, 1, 1)
DEFAULT_STORE = "panel.duckdb"


FIRST_RULEBOOK = "default"


@dataclass(frozen=True)
class InForce:
    """A rulebook as it was adopted.

    Attributes:
        rulebook: What it says.
        digest: SHA-256 of its text, by which decisions name it.
        text: Its TOML.
        adopted_at: When it was recorded (UTC).
    """

    rulebook: Rulebook
    digest: str
    text: str
    adopted_at: datetime


_ESTIMATED: OrderedDict[Any, Any] = OrderedDict()
_LOSSES: OrderedDict[Any, Any] = OrderedDict()
_HELD: dict[Path, "Desk"] = {}
_HOLDING = threading.Lock()


@dataclass
class Desk:
    """Where the panel leader sits: one open store.

    Attributes:
        store: The open store.
        judged: Judgements kept by what was asked, the latest few; see `steps.judging`.
        estimated: Estimates kept by the evidence they rest on, for every desk of the process; see
            `steps.estimating`.
        losses: What was found of a loss in a person, likewise; see `steps.alarms`.
        read: Rulebooks read from their texts, by digest.
        digests: Digests of facts by what was asked, the latest few; see `steps.facts_text`.
        sessions: Sessions read, by version and id, the latest few; see `steps.session_facts`.
        noses: What everybody says to each compound, the latest few; see `steps.noses`.
        grounds: What the choice of a session rests on, the latest few; see `steps.next_ground`.
        zone: The brewery's time zone, with the version at which it was read.
        stamp: The latest act that may have changed a verdict, likewise.
    """

    store: Store
    judged: OrderedDict[Any, Any] = field(default_factory=OrderedDict)
    estimated: OrderedDict[Any, Any] = field(default_factory=lambda: _ESTIMATED)
    losses: OrderedDict[Any, Any] = field(default_factory=lambda: _LOSSES)
    read: dict[str, Rulebook] = field(default_factory=dict)
    digests: OrderedDict[Any, str] = field(default_factory=OrderedDict)
    sessions: OrderedDict[Any, Any] = field(default_factory=OrderedDict)
    noses: OrderedDict[Any, Any] = field(default_factory=OrderedDict)
    grounds: OrderedDict[Any, Any] = field(default_factory=OrderedDict)
    zone: tuple[int, ZoneInfo] | None = None
    stamp: tuple[int, int] | None = None

    @property
    def version(self) -> int:
        """Grows with every act of recording."""
        return self.store.version

    @property
    def counted_version(self) -> int:
        """Grows with every act that may change what counts; answers count with the close."""
        return self.store.counted_version

    @property
    def evidence_version(self) -> int:
        """Grows with every act that may change a verdict or the facts behind it; signing changes none."""
        version, stamp = self.counted_version, self.stamp
        if stamp is None or stamp[0] != version:
            (found,) = self.store.rows("evidence_stamp")
            stamp = self.stamp = (version, found["entry_no"])
        return stamp[1]

    @property
    def time_zone(self) -> ZoneInfo:
        """The brewery's time zone; UTC until it is stated."""
        version, zone = self.counted_version, self.zone
        if zone is None or zone[0] != version:
            found = self.store.rows("brewery")
            zone = self.zone = (version, ZoneInfo(found[0]["time_zone"] if found else "UTC"))
        return zone[1]

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

    @property
    def rulebook(self) -> Rulebook:
        """The rulebook in force today."""
        return self.rulebook_on(self.today()).rulebook

    def rulebooks(self, known_at: datetime | None = None) -> tuple[InForce, ...]:
        """Every adopted rulebook, in the order in which they count; never empty.

        Args:
            known_at: As the record stood then (UTC). Before the first was recorded, that first one.
        """
        rows = self.store.rows("rulebooks", known_at) or self.store.rows("rulebooks")[:1]
        return tuple(
            InForce(
                self._read(row), row["rulebook_digest"], row["rulebook_text"], row["recorded_at"]
            )
            for row in rows
        )

    def rulebook_on(self, day: date, known_at: datetime | None = None) -> InForce:
        """The rulebook by which verdicts of a day are given: the latest that counts by then.

        Before the first counts, the first; a later one never changes an earlier day's verdicts.
        """
        all_of_them = self.rulebooks(known_at)
        counting = [one for one in all_of_them if one.rulebook.counts_from <= day]
        return counting[-1] if counting else all_of_them[0]

    def in_force_since(self, adopted: InForce) -> date:
        """From when a rulebook has been in force; the first one not before it was adopted.

        Days before that are judged by it too, since nobody had adopted any rules then.
        """
        start, day = adopted.rulebook.counts_from, self.day_of(adopted.adopted_at)
        return max(start, day) if adopted.digest == self.rulebooks()[0].digest else start

    def _read(self, row: dict[str, Any]) -> Rulebook:
        digest = row["rulebook_digest"]
        if digest not in self.read:
            name = f"rulebook {row['name']}, version {row['version']}"
            self.read[digest] = read_rulebook(name, row["rulebook_text"])
        return self.read[digest]

    def close(self) -> None:
        """Close the store, and write its file anew if something was to be gone from it for good."""
        self.store.close()
        with suppress(StoreError):
            rewrite_if_due(self.store.path)


def store_path(named: str | None = None) -> Path:
    """The store that is meant: the one named, else the environment's, else one in this folder."""
    return Path(named or os.environ.get(STORE_VARIABLE) or DEFAULT_STORE)


def open_desk(path: Path | str, *, may_only_read: bool = False) -> Desk:
    """Open a store, making and stocking it with the shipped vocabulary if it is new.

    Args:
        path: The file.
        may_only_read: Whether to open it for reading alone where nothing can be written.

    Raises:
        StoreError: if it cannot be used; see `store.file.Store.open`.
    """
    store = Store.open(path, may_only_read=may_only_read)
    try:
        if not store.rows("rulebooks"):
            is_new = not store.rows("compounds")
            with store.recording("vocabulary" if is_new else "rulebook") as act:
                act.add_all(vocabulary_rows() if is_new else ())
                act.add("rulebook", rulebook_row(rulebook_text(FIRST_RULEBOOK)))
        keep_anonymous(store)
    except BaseException:
        store.close()
        raise
    return Desk(store)


def held_desk(path: Path | str | None = None) -> Desk:
    """The one open desk of this process at a store, opened when somebody first asks for it.

    Pages and ballots write through the same one, since its lock is what keeps their acts apart.

    Args:
        path: The store; None for the one that is meant.

    Raises:
        StoreError: if it cannot be used; see `store.file.Store.open`.
    """
    where = Path(path or store_path()).resolve()
    with _HOLDING:
        if where not in _HELD:
            _HELD[where] = open_desk(where)
        return _HELD[where]


class _LentDesk(Desk):
    def close(self) -> None:
        """Leave the store open: it is another's."""


def lent(desk: Desk) -> Desk:
    """The same desk for somebody who closes theirs when done; the store stays open."""
    return _LentDesk(**{one.name: getattr(desk, one.name) for one in fields(desk)})


def let_go(desk: Desk) -> None:
    """Close a held desk; whoever asks for it next opens it anew."""
    with _HOLDING:
        for where in [path for path, held in _HELD.items() if held is desk]:
            del _HELD[where]
    desk.close()


def rulebook_row(text: str) -> dict[str, object]:
    """A rulebook's text as it is recorded.

    Raises:
        RulebookRefused: if it cannot be used; see `rules.reading.read_rulebook`.
    """
    text = text.replace("\r\n", "\n")
    book = read_rulebook("the rulebook", text)
    return {
        "rulebook_digest": sha256(text.encode()).hexdigest(),
        "name": book.name,
        "version": book.version,
        "counts_from_on": book.counts_from,
        "rulebook_text": text,
    }
