"""The default rulebook in a brewery: verdicts every week, and a leader who signs what it proposes.

P people, K compounds. What is left out: attendance, which no one here falls short of, and how much
the chance of a met will have sunk by the end of a seat, which is signed for its six months.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import numpy as np
from two_breweries_kept import Counts, Reading
from two_breweries_truth import COMPOUNDS, CRITICAL, PEOPLE, Flags

from seatworthy.rules.calendar_months import months_after
from seatworthy.rules.compound import After, CellDay, CompoundVerdict, judge_compound
from seatworthy.rules.compound_rules import ChanceRule
from seatworthy.rules.false_calls import BlankCounts, judge_false_calls
from seatworthy.rules.person_rules import FalseCallRule
from seatworthy.rules.proposing import ServedProbation, Standings, propose
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.rules.rechecking import Recheck, latest_glasses
from seatworthy.rules.rulebook import Rulebook
from seatworthy.rules.seat import SeatVerdict, judge_seat
from seatworthy.rules.seat_states import SeatState, Signed, State, seat_on
from seatworthy.rules.verdict import Standing, Verdict
from seatworthy.stats.false_calls import chance_false_calls_within

NAMES: Final = tuple(f"compound {k}" for k in range(COMPOUNDS))
ITEMS: Final = tuple((name,) for name in NAMES[:CRITICAL])
_START: Final = date(1970, 1, 1)
_OUTLOOK: Final = timedelta(weeks=27)  # beyond a met that nothing renews


@dataclass(frozen=True)
class Judged:
    """What the rulebook says of everybody in one week.

    Attributes:
        cells: Everybody's verdict on every compound, by its name.
        seats: On everybody's seat.
        false_calls: On everybody's calls in blanks.
    """

    cells: list[dict[str, CompoundVerdict]]
    seats: list[SeatVerdict]
    false_calls: list[Verdict]

    def stands(self, standing: Standing) -> Flags:
        """Which cells stand so; shape (P, K)."""
        return np.array([[own[name].standing is standing for name in NAMES] for own in self.cells])

    def days_left(self, today: date) -> np.ndarray:
        """Days for which a met still stands, inf where none does; shape (P, K)."""
        return np.array(
            [
                [(own[n].until - today).days if own[n].until else np.inf for n in NAMES]
                for own in self.cells
            ],
            dtype=float,
        )


class Office:
    """Where verdicts are given and decisions signed.

    Args:
        counts: The brewery's counts, which grow while it is asked.
        has_start_up: Whether fewer critical compounds are enough while seats are few, as the
            rulebook has it.
    """

    def __init__(self, counts: Counts, *, has_start_up: bool = True) -> None:
        book = rulebook_on_menu("default")
        self.book: Rulebook = book if has_start_up else replace(book, start_up=None)
        self._counts = counts
        self._past: list[list[list[CellDay]]] = [[[] for _ in NAMES] for _ in range(PEOPLE)]
        self._signed: list[list[Signed]] = [[] for _ in range(PEOPLE)]
        self._entries = 0

    def judge(self, week: int, day: int, reading: Reading) -> Judged:
        """Verdicts of a week, on the evidence of its session and all before it."""
        today = day_of(day)
        cells = self._judge_cells(week, today, reading)
        false_calls = self._judge_calls(week)
        longest, rule = months_after(today, self.book.seat.valid_months), self.book.seat
        start_up = self.book.start_up
        seats = [
            judge_seat(ITEMS, own, [calls], rule, longest, start_up)
            for own, calls in zip(cells, false_calls, strict=True)
        ]
        return Judged(cells, seats, false_calls)

    def sign(self, week: int, day: int, judged: Judged) -> Flags:
        """Sign whatever is proposed; who holds a seat then, shape (P,)."""
        today = day_of(day)
        for person in range(PEOPLE):
            seats = int(self._holds(today).sum())
            found = self._standings(person, week, today, judged, seats)
            proposal = propose(found, self.book, today)
            if proposal is not None:
                self._entries += 1
                self._signed[person].append(
                    Signed("", proposal.state, today, proposal.until_on, self._entries)
                )
        return self._holds(today)

    def _holds(self, today: date) -> Flags:
        return np.array([self._state(person, today).holds_seat for person in range(PEOPLE)])

    def _state(self, person: int, today: date) -> SeatState:
        return seat_on(self._signed[person], today, self.book.seat, has_answers=True)

    def _standings(
        self, person: int, week: int, today: date, judged: Judged, seats: int
    ) -> Standings:
        state, verdict, at_start = self._state(person, today), judged.seats[person], None
        rule = self.book.start_up
        is_start = rule is not None and seats < rule.until_seats
        if not verdict.can_sit and is_start and verdict.start_up and verdict.start_up.can_sit:
            verdict, at_start = verdict.start_up, seats
        return Standings(
            state=state,
            seat=verdict,
            attendance=None,
            others=(judged.false_calls[person],),
            probation=self._probation(person, week, today),
            recheck=self._recheck(person, week, today, state),
            seats_at_start=at_start,
        )

    def _probation(self, person: int, week: int, today: date) -> ServedProbation | None:
        last = self._signed[person][-1:]
        if not last or last[0].state is not State.PROBATION:
            return None
        weeks = (today - last[0].from_on).days // 7
        came = self._counts.came[week - weeks + 1 : week + 1, person].sum() if weeks else 0
        return ServedProbation(int(came), weeks)

    def _recheck(self, person: int, week: int, today: date, state: SeatState) -> Recheck | None:
        if state.state is not State.SUSPENDED or state.since is None:
            return None
        glasses = self._counts.glasses[: week + 1, person].sum(axis=1)
        hits = self._counts.hits[: week + 1, person].sum(axis=1)
        days = {
            today - timedelta(weeks=week - w): (int(glasses[w]), int(hits[w]))
            for w in range(week + 1)
            if glasses[w]
        }
        return latest_glasses(days, state.since, self.book)

    def _judge_calls(self, week: int) -> list[Verdict]:
        rule = self.book.false_calls
        if not isinstance(rule, FalseCallRule):
            msg = "The default rulebook judges calls in blanks by chance."
            raise TypeError(msg)
        blanks = self._counts.in_year(self._counts.blanks, week)
        calls = self._counts.in_year(self._counts.calls, week)
        within = chance_false_calls_within(calls, blanks, rule.ceiling)
        return [
            judge_false_calls(BlankCounts(int(b), int(c), 0, float(w)), rule)
            for b, c, w in zip(blanks, calls, within, strict=True)
        ]

    def _judge_cells(
        self, week: int, today: date, reading: Reading
    ) -> list[dict[str, CompoundVerdict]]:
        counts, rule = self._counts, self.book.compound
        glasses, hits = counts.in_year(counts.glasses, week), counts.in_year(counts.hits, week)
        strong, days = counts.in_year(counts.strong, week), counts.days(week)
        verdicts: list[dict[str, CompoundVerdict]] = []
        for p in range(PEOPLE):
            verdicts.append({})
            for k, name in enumerate(NAMES):
                seen = CellDay(
                    today,
                    float(reading.met[p, k]),
                    int(glasses[p, k]),
                    int(hits[p, k]),
                    int(days[p, k]),
                    float(reading.insensitive[p, k]),
                    int(strong[p, k]),
                )
                if counts.glasses[week, p, k]:
                    self._past[p][k].append(seen)
                verdicts[p][name] = self._judge(self._past[p][k], seen, rule)
        return verdicts

    def _judge(self, past: Sequence[CellDay], seen: CellDay, rule: ChanceRule) -> CompoundVerdict:
        later = replace(seen, day=seen.day + _OUTLOOK)
        return judge_compound(past, seen, [later], After(()), self.book, rule)


def day_of(number: int) -> date:
    """The date of a day number."""
    return _START + timedelta(days=int(number))
