"""Everything that was ever recorded, act by act, in plain words: for whoever audits the record."""

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from seatworthy.steps.chain_head import ChainHead, chain_head, faults_of_history
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import Part, counted, plain_day
from seatworthy.steps.history_views import HistoryLine, HistoryView
from seatworthy.steps.history_words import GROUP_LABELS, group_of, what_happened
from seatworthy.steps.sentences import joined
from seatworthy.steps.views import Choice

ADDS_UP = (
    "The chain adds up: just now every entry was held against its facts and against the entry "
    "before it."
)


def history_lines(
    desk: Desk,
    *,
    kinds: Collection[str] = (),
    who: str | None = None,
    since: date | None = None,
    until: date | None = None,
    words: str = "",
) -> HistoryView:
    """What was recorded, newest first; the chain is checked anew each time.

    Args:
        desk: The open store.
        kinds: Keys of kinds of acts ("files", "shelf", "seats", ...); () for all.
        who: Id of somebody who stated it or whom it is about; None for everybody.
        since: First day, at the brewery; None for the first of all.
        until: Last day, likewise.
        words: Every one of these words occurs in the line; its number and digest belong to it.
    """
    lines = _every_line(desk)
    wanted = _Wanted(frozenset(kinds), who, since, until, tuple(words.casefold().split()))
    faults, head = faults_of_history(desk), chain_head(desk)
    chosen = tuple(line for line in lines if wanted.holds(line))
    answer, catch, lead = _sentences(lines, chosen, faults, head)
    return HistoryView(
        answer=answer,
        catch=catch,
        lead=lead,
        lines=chosen,
        acts=len(lines),
        groups=_groups(lines),
        people=_people(desk, lines),
        faults=faults,
        head=head,
        time_zone=str(desk.time_zone),
        made_at=datetime.now(desk.time_zone),
    )


class _Wanted:
    """What somebody looks for."""

    def __init__(
        self,
        kinds: frozenset[str],
        who: str | None,
        since: date | None,
        until: date | None,
        words: tuple[str, ...],
    ) -> None:
        self.kinds, self.who, self.words = kinds, who, words
        self.since, self.until = since or date.min, until or date.max

    def holds(self, line: HistoryLine) -> bool:
        """Whether a line is wanted."""
        return (
            (not self.kinds or line.group in self.kinds)
            and (self.who is None or self.who in line.concerned)
            and self.since <= line.recorded_at.date() <= self.until
            and all(word in _searched(line) for word in self.words)
        )


def _searched(line: HistoryLine) -> str:
    parts = (line.entry_no, line.kind, line.what, line.who, line.digest)
    return " ".join(str(part) for part in parts).casefold()


def _every_line(desk: Desk) -> tuple[HistoryLine, ...]:
    parts: dict[int, dict[str, list[Part]]] = defaultdict(lambda: defaultdict(list))
    for row in desk.store.rows("history_parts"):
        parts[row["entry_no"]][row["part"]].append(row)
    concerned: dict[int, set[str]] = defaultdict(set)
    for row in desk.store.rows("history_people"):
        concerned[row["entry_no"]].add(row["person_id"])
    zone = desk.time_zone
    return tuple(
        _line(row, parts.get(row["entry_no"], {}), concerned[row["entry_no"]], zone)
        for row in desk.store.rows("history_acts")
    )


def _line(
    row: Mapping[str, Any],
    parts: Mapping[str, Sequence[Part]],
    concerned: Collection[str],
    zone: ZoneInfo,
) -> HistoryLine:
    people = {*concerned, row["author_id"]} - {""}
    return HistoryLine(
        entry_no=row["entry_no"],
        recorded_at=row["recorded_at"].replace(tzinfo=UTC).astimezone(zone),
        kind=row["kind"],
        group=group_of(parts),
        what=what_happened(row["kind"], row["facts"], parts),
        who=row["author"],
        facts=row["facts"],
        digest=row["digest"],
        concerned=frozenset(people),
    )


def _groups(lines: Sequence[HistoryLine]) -> tuple[Choice, ...]:
    found = {line.group for line in lines}
    return tuple(Choice(key, label) for key, label in GROUP_LABELS.items() if key in found)


def _people(desk: Desk, lines: Sequence[HistoryLine]) -> tuple[Choice, ...]:
    found = {person for line in lines for person in line.concerned}
    names = [Choice(row["person_id"], row["spelling"]) for row in desk.store.rows("panel_people")]
    return tuple(name for name in names if name.key in found)


def _sentences(
    lines: Sequence[HistoryLine],
    chosen: Sequence[HistoryLine],
    faults: Sequence[str],
    head: ChainHead,
) -> tuple[str, str, str]:
    if not lines:
        return "Nothing is on record yet", "", ""
    first, last = lines[-1].recorded_at, lines[0].recorded_at
    since = f" since {plain_day(first.date())}, the last" if len(lines) > 1 else ","
    answer = (
        f"{counted(len(lines), 'act')} of recording{since} on "
        f"{plain_day(last.date())} at {last:%H:%M}"
    )
    asked = "" if len(chosen) == len(lines) else f"{len(chosen)} of them are shown. "
    if faults:
        catch = f"{counted(len(faults), 'thing does', 'things do')} not add up."
        return answer, catch, f"{asked}{joined(faults[:3])} Restore the last good backup."
    return answer, "", f"{asked}{ADDS_UP} The newest is {head.words}."
