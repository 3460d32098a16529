"""Judges every panellist on every compound they were served, by the rulebook's rule for compounds."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from seatworthy.evidence import Evidence
from seatworthy.rules.by_counting import judge_by_counting
from seatworthy.rules.compound import (
    After,
    CellDay,
    CompoundVerdict,
    is_met_afresh,
    judge_compound,
    judge_insensitive,
)
from seatworthy.rules.compound_rules import ChanceRule, ThresholdRule
from seatworthy.rules.facts import Glass, OwnEstimate
from seatworthy.rules.rulebook import Rulebook
from seatworthy.stats.ability.followed import Followed
from seatworthy.steps.cell_days import Cell, DailyChances, days_ahead, days_by_cell
from seatworthy.steps.glass_facts import estimates_by_cell, glasses_by_cell
from seatworthy.steps.seen import Seen


@dataclass(frozen=True)
class JudgedCells:
    """Cells that have glasses.

    Attributes:
        days: Today's counts and chance.
        verdicts: What the rule for compounds says.
        glasses: Single answers of a cell, where the rulebook counts them itself; else empty.
        estimates: Own threshold estimates, likewise.
        by_other_chance: Verdicts of the further rules of chance, by their name.
    """

    days: Mapping[Cell, CellDay]
    verdicts: Mapping[Cell, CompoundVerdict]
    glasses: Mapping[Cell, tuple[Glass, ...]]
    estimates: Mapping[Cell, tuple[OwnEstimate, ...]]
    by_other_chance: Mapping[str, Mapping[Cell, CompoundVerdict]]

    def own_glasses(self, person: str, family: str) -> dict[str, tuple[Glass, ...]]:
        """Single answers of one panellist in one beer family, by compound."""
        return _own(self.glasses, person, family)

    def own_estimates(self, person: str, family: str) -> dict[str, tuple[OwnEstimate, ...]]:
        """Threshold estimates of one panellist in one beer family, by compound."""
        return _own(self.estimates, person, family)

    def own_verdicts(self, rule: str, person: str, family: str) -> dict[str, CompoundVerdict]:
        """Verdicts of a further rule of chance, by compound; {} for a rule of another kind."""
        return _own(self.by_other_chance.get(rule, {}), person, family)


def _own(by_cell: Mapping[Cell, Any], person: str, family: str) -> dict[str, Any]:
    return {k: found for (p, k, f), found in by_cell.items() if (p, f) == (person, family)}


def judge_cells(seen: Seen, evidence: Evidence, followed: Followed) -> JudgedCells:
    """Judge every cell that has glasses, on the day asked.

    Args:
        seen: The record.
        evidence: Every answer up to the day.
        followed: The estimates from it.
    """
    book = seen.book
    chances = DailyChances(evidence, followed, seen.as_of)
    days = days_by_cell(seen.counted_today(), chances)
    glasses = glasses_by_cell(seen) if needs_glasses(book) else {}
    estimates = estimates_by_cell(seen) if needs_estimates(book) else {}
    others = {
        one.name: verdicts_by_chance(seen, one.rule, days, chances, followed)
        for one in book.also
        if isinstance(one.rule, ChanceRule)
    }
    if isinstance(book.compound, ChanceRule):
        verdicts = verdicts_by_chance(seen, book.compound, days, chances, followed)
        today = {cell: own[-1] for cell, own in days.items()}
        return JudgedCells(today, verdicts, glasses, estimates, others)
    today = _days_of_glasses(seen, days, glasses, chances)
    verdicts = {
        cell: _by_counting(seen, today[cell], glasses.get(cell, ()), estimates.get(cell, ()))
        for cell in today
    }
    counted = {
        cell: _counted_by_rule(today[cell], verdicts[cell], glasses.get(cell, ())) for cell in today
    }
    return JudgedCells(counted, verdicts, glasses, estimates, others)


def needs_glasses(book: Rulebook) -> bool:
    """Whether some rule of the book looks at single answers."""
    return any(not isinstance(rule, ChanceRule) for rule in _compound_rules(book))


def needs_estimates(book: Rulebook) -> bool:
    """Whether some rule of the book looks at own threshold estimates."""
    return any(isinstance(rule, ThresholdRule) for rule in _compound_rules(book))


def _compound_rules(book: Rulebook) -> list[object]:
    return [book.compound, *(one.rule for one in book.also)]


def verdicts_by_chance(
    seen: Seen,
    rule: ChanceRule,
    days: Mapping[Cell, Sequence[CellDay]],
    chances: DailyChances,
    followed: Followed,
) -> dict[Cell, CompoundVerdict]:
    """The verdict of a chance rule on every cell; the days ahead are read only for the met ones.

    Where colleagues' answers inform the chance, only today's is known: nothing stands from before.
    """
    if rule.answers == "pooled":
        days = _pooled_today(days, chances, followed)
    met = [cell for cell, own in days.items() if any(is_met_afresh(day, rule) for day in own)]
    ahead = days_ahead(seen.counted_ahead(met), chances, seen.as_of) if met else {}
    all_right, one_missed = followed.chance_met_after, followed.chance_met_after_a_miss
    verdicts = {}
    for cell, own in days.items():
        place = chances.axes.place(cell)
        verdicts[cell] = judge_compound(
            own[:-1],
            own[-1],
            ahead.get(cell, ()),
            After(all_right[place], one_missed[place]),
            seen.book,
            rule,
        )
    return verdicts


def _pooled_today(
    days: Mapping[Cell, Sequence[CellDay]], chances: DailyChances, followed: Followed
) -> dict[Cell, list[CellDay]]:
    pooled = followed.today.chance_met_pooled
    return {
        cell: [replace(own[-1], chance=float(pooled[chances.axes.place(cell)]))]
        for cell, own in days.items()
    }


def _by_counting(
    seen: Seen, today: CellDay, glasses: Sequence[Glass], estimates: Sequence[OwnEstimate]
) -> CompoundVerdict:
    if blind := judge_insensitive(today, seen.book.insensitive):
        return CompoundVerdict(blind)
    book = seen.book
    return judge_by_counting(glasses, estimates, seen.as_of, book.compound, book.counted)


def _days_of_glasses(
    seen: Seen,
    days: Mapping[Cell, Sequence[CellDay]],
    glasses: Mapping[Cell, Sequence[Glass]],
    chances: DailyChances,
) -> dict[Cell, CellDay]:
    """The day asked for every cell with glasses of any method; without naming glasses no counts."""
    today = {cell: own[-1] for cell, own in days.items()}
    for cell in glasses:
        if cell not in today:
            met, insensitive = chances.today(chances.axes.place(cell))
            today[cell] = CellDay(seen.as_of, met, 0, 0, 0, insensitive)
    return today


def _counted_by_rule(today: CellDay, verdict: CompoundVerdict, glasses: Sequence[Glass]) -> CellDay:
    """The day with the counts of the glasses that the rule itself looked at."""
    behind = set(verdict.behind)
    looked_at = [glass for glass in glasses if glass.serving in behind]
    return replace(
        today,
        glasses=len(looked_at),
        hits=sum(glass.is_right for glass in looked_at),
        days=len({glass.day for glass in looked_at}),
    )
