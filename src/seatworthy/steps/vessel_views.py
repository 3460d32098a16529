"""What the page of preparing is given to show: finished answers, as in `steps.views`."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from seatworthy.steps.views import Choice


@dataclass(frozen=True)
class VesselLine:
    """One vessel.

    Attributes:
        key: Its letter and number, by which acts name it.
        where: Labels of the sittings that it serves.
        dosed: What went in, with lot, time and by whom; "" if it was not dosed yet.
        level: What it really holds, total, multiples; None for a blank, or before it is dosed.
        steps: Which of "capped", "tight", "chilled" are done.
        is_put_away: Whether it is not poured.
        remarks: What was written down of it.
    """

    key: str
    where: str
    dosed: str
    level: float | None
    steps: tuple[str, ...]
    is_put_away: bool
    remarks: tuple[str, ...]

    @property
    def next_step(self) -> str:
        """What is to be done with it next: "dosed", "capped", "tight", "chilled", or "" for nothing."""
        if self.is_put_away:
            return ""
        if not self.dosed:
            return "dosed"
        return next((step for step in STEPS if step not in self.steps), "")


@dataclass(frozen=True)
class LetterToPrepare:
    """The vessels of one letter.

    Attributes:
        what: Compound, or "nothing added".
        level: What was planned, multiples; None for a blank.
        real: What the level will be by the recipe, in words ("2.7× (2.5 to 2.9)"), "" for a blank.
        take: What is pipetted, "3 shots of 110 µl with the blue pipette".
        stock: What from, with its lot.
        into: "330 ml each; take out as much beer first".
        when: Earliest and latest time, in words.
        caution: Its handling note with the pointer to its safety data sheet; "" for a blank.
        stocks: Other lots that the dose may be taken from.
        is_new_tip: Whether the tip is changed before it.
    """

    mark: str
    what: str
    level: Decimal | None
    real: str
    take: str
    stock: str
    into: str
    when: str
    caution: str
    stocks: tuple[Choice, ...]
    is_new_tip: bool
    vessels: tuple[VesselLine, ...]


@dataclass(frozen=True)
class PreparingView:
    """The preparation of one session, in the order of work.

    Attributes:
        by_hand: Sentences on letters whose dose is written by hand.
        notes: What is worth knowing before one starts.
        is_open: Whether anything may still be recorded.
        people: Who may have prepared.
        pipettes: What may have been used.
    """

    session_id: str
    session_on: date
    label: str
    beer: str
    starts: tuple[datetime, ...]
    answer: str
    catch: str
    lead: str
    letters: tuple[LetterToPrepare, ...]
    by_hand: tuple[str, ...]
    notes: tuple[str, ...]
    is_open: bool
    people: tuple[Choice, ...]
    pipettes: tuple[Choice, ...]


STEPS = ("capped", "tight", "chilled")
