"""What the page and the paper on the panel over time show. Nothing here ranks anybody."""

from dataclasses import dataclass
from datetime import date, datetime

Range = tuple[float, float]


@dataclass(frozen=True)
class MonthRow:
    """The whole panel in one calendar month; shares are fractions.

    Attributes:
        month_on: First day of the month.
        is_whole: Whether the month had ended on the day asked.
        sessions: Days with a counted glass.
        right: Counted glasses named right.
        glasses: Counted glasses.
        reach: Wilson's 95 % limits of the share right; None without a glass.
        usual: Share that was foretold from the days before each glass; None where none was.
        rate: Mean chance to name a compound at the reference level, over everybody's tasted
            compounds, as it stood when the month ended; None where nothing was tasted yet.
        false_calls: Calls in blanks.
        blanks: Blanks.
        false_reach: Wilson's 95 % limits of the rate of calls; None without a blank.
    """

    month_on: date
    is_whole: bool
    sessions: int
    right: int
    glasses: int
    reach: Range | None
    usual: float | None
    rate: float | None
    false_calls: int
    blanks: int
    false_reach: Range | None


@dataclass(frozen=True)
class CompoundMonth:
    """One compound in one month.

    Attributes:
        month_on: First day of the month.
        right: Counted glasses named right.
        glasses: Counted glasses.
        usual: Share that was foretold of them; None where nothing was.
    """

    month_on: date
    right: int
    glasses: int
    usual: float | None


@dataclass(frozen=True)
class CompoundMonths:
    """One compound over the months.

    Attributes:
        label: The compound.
        is_critical: Whether it is critical for a beer family.
        months: Those with a counted glass, oldest first.
        right: Right in the last three months.
        glasses: Of so many glasses.
        foretold: Right names that were foretold of them.
        tasters: People who answered them.
        finding: "together" where everybody fell short at once, "one_day" where that was on one day
            alone, "one" where it rests on one taster, else "".
        sentence: What is found; "" for nothing.
        poured: Counted glasses of the last three months, also where too little was poured before to
            say what would be usual and `glasses` is 0.
    """

    label: str
    is_critical: bool
    months: tuple[CompoundMonth, ...]
    right: int
    glasses: int
    foretold: float
    tasters: int
    finding: str
    sentence: str
    poured: int = 0


@dataclass(frozen=True)
class AttendanceRow:
    """One person's sessions, by name and never by number.

    Attributes:
        months: Attended and held for each month of the view; None before their first session, or
            where none was held.
    """

    person_id: str
    name: str
    months: tuple[tuple[int, int] | None, ...]
    attended: int
    held: int


@dataclass(frozen=True)
class CoverRow:
    """How many people who meet one critical compound come to each shift.

    Attributes:
        noses: By shift, in the order of the view.
        all_shifts: All who meet it, wherever they sit, and those who did not come lately too.
    """

    label: str
    noses: tuple[int, ...]
    all_shifts: int


@dataclass(frozen=True)
class MonthsView:
    """The panel over time.

    Attributes:
        answer, catch, lead: The sentence on top and what stands under it.
        start_here: Said in place of all else while there is no glass; else "".
        as_of: The day asked.
        known_at: Moment up to which the record was read (UTC); None for all of it.
        brewery: Its name.
        family: Key of the beer family whose cover is shown.
        family_label: That family.
        families: Key and label of every beer family.
        months: The calendar months, oldest first.
        compounds: What slips first, then critical ones, then by name.
        attendance: By name.
        shifts: Names of the shifts.
        cover: By critical compound, in the order of the list.
        people_asked: People whom the rulebook asks for on each compound.
        window: How far back "lately" reaches, in months.
    """

    answer: str
    catch: str
    lead: str
    start_here: str
    as_of: date
    known_at: datetime | None
    brewery: str
    family: str
    family_label: str
    families: tuple[tuple[str, str], ...]
    months: tuple[MonthRow, ...]
    compounds: tuple[CompoundMonths, ...]
    attendance: tuple[AttendanceRow, ...]
    shifts: tuple[str, ...]
    cover: tuple[CoverRow, ...]
    people_asked: int
    window: int
