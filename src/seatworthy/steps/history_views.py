"""What is shown and exported of the history."""

from dataclasses import dataclass
from datetime import datetime

from seatworthy.steps.chain_head import ChainHead
from seatworthy.steps.views import Choice


@dataclass(frozen=True)
class HistoryLine:
    """One act of recording.

    Attributes:
        recorded_at: Its moment in the brewery's time zone, aware.
        kind: What was done, as it was sealed ("results", "shelf", ...).
        group: Key of the kind of act to choose by ("files", "shelf", ... "other").
        what: What happened, in one or two sentences; holds names and words that users wrote.
        who: Who signed or stated it, "" where nobody said so.
        facts: Rows recorded.
        digest: 64 hexadecimal digits.
        concerned: Ids of the people it is about, its author included.
    """

    entry_no: int
    recorded_at: datetime
    kind: str
    group: str
    what: str
    who: str
    facts: int
    digest: str
    concerned: frozenset[str]


@dataclass(frozen=True)
class HistoryView:
    """The history, or what was asked of it.

    Attributes:
        answer, catch, lead: The sentence on top and what follows from it.
        lines: Newest first.
        acts: Entries on record, those not asked for included.
        groups: Kinds of acts that occur, to choose by.
        people: Everybody who is concerned by any act.
        faults: Sentences for entries that do not add up.
        head: The newest entry of the whole record.
        time_zone: Of all moments, as its name stands in the time zone database.
        made_at: Moment of this view, aware.
    """

    answer: str
    catch: str
    lead: str
    lines: tuple[HistoryLine, ...]
    acts: int
    groups: tuple[Choice, ...]
    people: tuple[Choice, ...]
    faults: tuple[str, ...]
    head: ChainHead
    time_zone: str
    made_at: datetime
