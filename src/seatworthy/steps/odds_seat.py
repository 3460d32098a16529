"""Odds of a seat and of a panel, from those of the single rules."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from seatworthy.rules.rulebook import Item, Rulebook, SeatRule
from seatworthy.rules.seat import judge_critical
from seatworthy.rules.verdict import Standing
from seatworthy.stats.looks import Odds
from seatworthy.stats.seats import PanelChance, chance_of_panel, items_met_and_not
from seatworthy.steps.odds_views import PanelOdds, SeatRow
from seatworthy.steps.odds_words import of_ten
from seatworthy.steps.odds_year import Floats, Kind
from seatworthy.steps.sentences import number_word


@dataclass(frozen=True)
class Person:
    """What the single rules leave one kind of person at when the year ends.

    Attributes:
        kind: The kind of person.
        met: Chance of met in one compound.
        not_met: Chance of not met in it.
        others: Chance that whatever else a seat asks for is met.
    """

    kind: Kind
    met: float
    not_met: float
    others: float


def item_chances(critical: Sequence[Item], met: float, not_met: float) -> tuple[Floats, Floats]:
    """Chance of met and of not met for each critical item; of a group one compound counts.

    A group is met where one of it is, and not met only where all of it are.
    """
    size = np.array([len(item) for item in critical], dtype=np.float64)
    return 1 - (1 - met) ** size, not_met**size


def seat_row(person: Person, book: Rulebook, critical: Sequence[Item]) -> SeatRow:
    """What becomes of somebody in all critical compounds together."""
    table = items_met_and_not(*item_chances(critical, person.met, person.not_met))
    met = float(table[_said(book.seat, critical, Standing.MET)].sum())
    bad = float(table[_said(book.seat, critical, Standing.NOT_MET)].sum())
    early = None
    if book.start_up is not None:
        fewer = min(book.start_up.critical_met, book.seat.critical_met)
        first = _said(replace(book.seat, critical_met=fewer), critical, Standing.MET)
        early = float(table[first].sum()) * person.others
    who, truth = person.kind.who, person.kind.truth
    return SeatRow(who, truth, met, bad, met * person.others, early, person.others)


def panel_odds(person: Person, book: Rulebook, critical: Sequence[Item], people: int) -> PanelOdds:
    """What becomes of a panel of such people."""
    met, not_met = item_chances(critical, person.met, person.not_met)
    has_seat = _said(book.seat, critical, Standing.MET)
    rule = book.panel
    chance = chance_of_panel(
        met, not_met, has_seat, person.others, people, rule.quorum, rule.people_per_compound
    )
    seats = people * person.others * float(items_met_and_not(met, not_met)[has_seat].sum())
    how = "exact" if chance.is_exact else "simulated, 20,000 panels"
    how += ", from the chances of the single rules"
    return PanelOdds(
        people, seats, chance.chance, _panel_sentence(chance, person.kind.who, people, seats), how
    )


def also_chance(odds: Odds, place: int, items: Sequence[Item], met_in: int) -> float:
    """Chance that a further rule is met in enough items when the year ends; 0 of them is all."""
    met, not_met = item_chances(items, odds.met_at_end[place], odds.not_met_at_end[place])
    needed = min(met_in or len(items), len(items))
    return float(items_met_and_not(met, not_met)[needed:].sum())


def _said(rule: SeatRule, critical: Sequence[Item], standing: Standing) -> np.ndarray:
    """Where the seat rule says so, by number of items met (rows) and not met (columns)."""
    size = len(critical)
    found = np.zeros((size + 1, size + 1), dtype=np.bool_)
    for met in range(size + 1):
        for bad in range(size + 1 - met):
            fates = [Standing.MET] * met + [Standing.NOT_MET] * bad
            fates += [Standing.TOO_LITTLE] * (size - met - bad)
            items = dict(zip(critical, fates, strict=True))
            found[met, bad] = judge_critical(items, rule).standing is standing
    return found


def _panel_sentence(panel: PanelChance, who: str, people: int, seats: float) -> str:
    if not people:
        return "Nobody is on the panel."
    crowd = "the only person" if people == 1 else f"all {number_word(people)} people"
    held = f"{seats:.1f}" if seats >= 0.05 else "hardly anybody"
    unable = of_ten(1 - panel.chance)
    return (
        f"Were {crowd} to {who} in every critical compound, {held} would have a seat when the "
        f"year ends; of ten such panels, {unable} would be unable to sit."
    )
