"""The panel over time, for the monthly meeting: better or worse, what slips, who came, what is covered."""

from datetime import date, datetime, timedelta
from typing import Final

import numpy as np

from seatworthy.evidence import day_number
from seatworthy.rules.calendar_months import months_after, months_before
from seatworthy.stats.proportions import wilson_interval
from seatworthy.steps.audit_words import brewery_name
from seatworthy.steps.boards import nothing_yet
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged, family_named, judge_day
from seatworthy.steps.labels import short_label
from seatworthy.steps.month_views import CompoundMonth, CompoundMonths, MonthRow, MonthsView, Range
from seatworthy.steps.months_people import attendance_rows, cover_rows
from seatworthy.steps.months_slips import ONE, ONE_DAY, TOGETHER, Foretold, Slips, foretold
from seatworthy.steps.months_words import Lately, months_sentences
from seatworthy.steps.seen import Seen

MONTHS: Final = 12
WINDOW: Final = 3  # months that are "lately"
_ORDER: Final = (TOGETHER, ONE_DAY, ONE, "")


def months_view(
    desk: Desk,
    family: str | None = None,
    as_of: date | None = None,
    known_at: datetime | None = None,
) -> MonthsView:
    """The last twelve months up to one day.

    Args:
        desk: The open store.
        family: Beer family whose cover is shown, key or label; None for the most tasted.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.

    Raises:
        PanelError: if there is no such family, or the day is still to come.
    """
    judged = judge_day(desk, as_of, known_at)
    return _Months(desk, judged, family_named(judged, family)).view()


class _Months:
    """One view in the making."""

    def __init__(self, desk: Desk, judged: Judged, family: str | None) -> None:
        self._desk, self._judged = desk, judged
        self._family = family or next(iter(judged.families), "")
        self._seen = Seen(desk, judged.as_of, judged.known_at, judged.rulebook)
        this_month = judged.as_of.replace(day=1)
        self._months = [months_before(this_month, back) for back in range(MONTHS - 1, -1, -1)]
        self._before = self._months[0] - timedelta(days=1)
        self._lately = months_before(judged.as_of, WINDOW) + timedelta(days=1)

    def view(self) -> MonthsView:
        judged = self._judged
        is_empty = not judged.attended or not judged.families
        glasses = foretold(judged, self._months[0])
        slips = Slips(self._seen, judged, glasses, self._lately)
        months = () if is_empty else self._month_rows(glasses)
        compounds = () if is_empty else self._compounds(glasses, slips)
        attendance = attendance_rows(self._seen, judged, self._months, self._before)
        after = self._lately - timedelta(days=1)
        shifts, cover = (
            ((), ()) if is_empty else cover_rows(self._seen, judged, self._family, after)
        )
        lately = Lately(slips.panel(), compounds, months, WINDOW, attendance)
        answer, catch, lead = months_sentences(lately)
        return MonthsView(
            answer=answer,
            catch=catch,
            lead=lead,
            start_here=nothing_yet(self._desk) if is_empty else "",
            as_of=judged.as_of,
            known_at=judged.known_at,
            brewery=brewery_name(self._desk, judged),
            family=self._family,
            family_label=judged.families.get(self._family, ""),
            families=tuple(judged.families.items()),
            months=months,
            compounds=compounds,
            attendance=attendance,
            shifts=shifts,
            cover=cover,
            people_asked=judged.rulebook.panel.people_per_compound,
            window=WINDOW,
        )

    def _month_rows(self, glasses: Foretold) -> tuple[MonthRow, ...]:
        rows = self._seen.rows("month_blanks", after_on=self._before, until_on=self._judged.as_of)
        blanks = {row["month_on"]: (row["false_calls"], row["blanks"]) for row in rows}
        return tuple(
            self._month(month, glasses, blanks.get(month, (0, 0))) for month in self._months
        )

    def _month(self, month: date, glasses: Foretold, blanks: tuple[int, int]) -> MonthRow:
        at = _within(glasses, month)
        right, number = glasses.counts(at)
        last = months_after(month, 1) - timedelta(days=1)
        return MonthRow(
            month_on=month,
            is_whole=last <= self._judged.as_of,
            sessions=int(np.unique(glasses.evidence.day[at & glasses.is_counted]).size),
            right=right,
            glasses=number,
            reach=_reach(right, number),
            usual=glasses.usual(at),
            rate=_mean_rate(self._judged, min(last, self._judged.as_of)),
            false_calls=blanks[0],
            blanks=blanks[1],
            false_reach=_reach(*blanks),
        )

    def _compounds(self, glasses: Foretold, slips: Slips) -> tuple[CompoundMonths, ...]:
        judged = self._judged
        critical = {c for items in judged.critical.values() for item in items for c in item}
        found = []
        for place, key in enumerate(glasses.evidence.compounds):
            months = self._compound_months(glasses, place)
            if not months:
                continue
            lately = slips.of(place)
            finding, sentence = slips.words(place, lately)
            found.append(
                CompoundMonths(
                    label=short_label(judged.labels.get(key, key)),
                    is_critical=key in critical,
                    months=months,
                    right=lately.right,
                    glasses=lately.glasses,
                    foretold=lately.foretold,
                    tasters=lately.tasters,
                    finding=finding,
                    sentence=sentence,
                    poured=slips.poured(place),
                )
            )
        return tuple(
            sorted(
                found,
                key=lambda c: (_ORDER.index(c.finding), not c.is_critical, c.label.casefold()),
            )
        )

    def _compound_months(self, glasses: Foretold, place: int) -> tuple[CompoundMonth, ...]:
        own = glasses.evidence.compound == place
        found = []
        for month in self._months:
            at = own & _within(glasses, month)
            right, number = glasses.counts(at)
            if number:
                found.append(CompoundMonth(month, right, number, glasses.usual(at)))
        return tuple(found)


def _within(glasses: Foretold, month: date) -> np.ndarray:
    """Which glasses were poured in a calendar month; shape (A,)."""
    day = glasses.evidence.day
    return (day >= day_number(month)) & (day < day_number(months_after(month, 1)))


def _reach(hits: int, trials: int) -> Range | None:
    if not trials:
        return None
    found = wilson_interval(hits, trials)
    return float(found.low), float(found.high)


def _mean_rate(judged: Judged, last: date) -> float | None:
    """Mean rate of right names over the cells touched up to a day, each as it stood last."""
    followed = judged.followed
    until = np.searchsorted(followed.days, day_number(last), side="right")
    cells = np.stack([followed.cell_person, followed.cell_compound, followed.cell_family], axis=1)[
        :until
    ]
    if not until:
        return None
    _, latest = np.unique(cells[::-1], axis=0, return_index=True)
    return float(followed.rate_mean[:until][::-1][latest].mean())
