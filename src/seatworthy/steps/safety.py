"""Whether the record is safe, and where its last copy lies."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from seatworthy.steps.chain_head import ChainHead, chain_head, faults_of_history
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import counted, plain_day
from seatworthy.steps.last_copy import (
    KEEP_RULE,
    REMIND_AFTER_DAYS,
    CopyLine,
    copy_lines,
    forget_checks,
    is_of_this_record,
    knows_more,
    way_back,
)
from seatworthy.steps.safekeeping import back_up, verify_all
from seatworthy.store.copies import folder_of

ELSEWHERE: Final = (
    "If this computer is lost or its disk fails, the copies beside the store go with it: now and then "
    "carry the newest with its manifest to another machine or a stick. Names of people are in it."
)


@dataclass(frozen=True)
class SafetyView:
    """What the page says.

    Attributes:
        answer: First half of the sentence on top.
        catch: The half that needs a person, "" if nothing does.
        lead: What proves it.
        copies: The newest first.
        folder: Where copies lie.
        keep_rule: Which copies are removed, and which never.
        elsewhere: What copies beside the store don't save from.
        time_zone: Of every time in the view.
    """

    answer: str
    catch: str
    lead: str
    copies: tuple[CopyLine, ...]
    folder: Path
    keep_rule: str
    elsewhere: str
    time_zone: str


def safety(desk: Desk, *, read_all: bool = False) -> SafetyView:
    """Whether the record adds up and has a good copy.

    Args:
        desk: The open store.
        read_all: Whether every copy is read again, or only the newest where it changed.
    """
    if read_all:
        forget_checks()
    path = desk.store.path
    copies, faults = copy_lines(path, read_all=read_all), faults_of_history(desk)
    if copies and copies[0].fault:  # the newest is no good: look which one is
        copies = copy_lines(path)
    answer, catch, lead = (
        _broken(path, faults) if faults else _sentences(desk, copies, chain_head(desk))
    )
    return SafetyView(
        answer, catch, lead, copies, folder_of(path), KEEP_RULE, ELSEWHERE, desk.time_zone.key
    )


def back_up_now(desk: Desk) -> str:
    """Make a checked copy and say where.

    Raises:
        StoreError: if it cannot be written.
    """
    target = back_up(desk)
    return f"{target.name} was written and compared with the record table by table: equal."


def check_all(desk: Desk) -> str:
    """Read the file, the history and every copy again, and say what was found.

    Raises:
        StoreDamaged: if the record does not add up; the sentence names the way back.
    """
    size = verify_all(desk)
    forget_checks()
    copies = copy_lines(desk.store.path)
    bad = [f"{copy.path.name}: {copy.fault}" for copy in copies if copy.fault]
    good = f"{counted(len(copies) - len(bad), 'copy is', 'copies are')} good."
    said = (
        f"All was read again and is as it was sealed: {counted(size.entries, 'act')}, "
        f"{counted(size.answers, 'answer')}. {good}"
    )
    return " ".join([said, *(["Not good:", *bad] if bad else [])])


def _broken(path: Path, faults: Sequence[str]) -> tuple[str, str, str]:
    lead = f"{' '.join(faults[:3])} {way_back(path)}"
    return "The record does not add up", "restore its last good copy", lead


def _sentences(desk: Desk, copies: Sequence[CopyLine], head: ChainHead) -> tuple[str, str, str]:
    if words := knows_more(desk):
        return (
            "The record adds up, but its newest copy knows of more",
            "look before you go on",
            words,
        )
    last = next((copy for copy in copies if _is_good(desk, copy)), None)
    ends = f"It ends with {head.words}."
    if last is None or last.last_entry is None:
        found = " No copy that lies here is a good one of this record." if copies else ""
        return "The record adds up, but has no copy", "make one now", ends + found
    since = head.entry_no - last.last_entry[0]
    is_old = datetime.now(UTC) - last.made_at > timedelta(days=REMIND_AFTER_DAYS)
    younger = (
        f"{counted(since, 'act was', 'acts were')} recorded since"
        if since
        else "nothing was recorded since"
    )
    passed = " Newer copies are not good: see below." if copies[0] is not last else ""
    lead = (
        f"{ends} The copy is {last.path.name}; it was read, ends with entry {last.last_entry[0]}, adds up "
        f"and is equal to its manifest.{passed}"
    )
    is_due = bool(since) and is_old
    start = "The record adds up" if is_due else "The record is safe"
    answer = f"{start}; its last good copy was made {_when(desk, last.made_at)}, and {younger}"
    return answer, "back up now" if is_due else "", lead


def _is_good(desk: Desk, copy: CopyLine) -> bool:
    return copy.is_read and copy.fault is None and is_of_this_record(desk, copy)


def _when(desk: Desk, moment: datetime) -> str:
    there = moment.astimezone(desk.time_zone)
    days = (desk.today() - there.date()).days
    day = {0: "today", 1: "yesterday"}.get(days, f"on {plain_day(there.date())}")
    return f"{day} at {there:%H:%M}"
