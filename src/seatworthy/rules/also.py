"""Judges a further rule over several compounds: each by itself, or all as if they were one."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import partial

from seatworthy.rules.by_counting import judge_by_counting
from seatworthy.rules.compound import CompoundVerdict
from seatworthy.rules.compound_rules import AlsoRule, ChanceRule, Counted
from seatworthy.rules.facts import Glass, OwnEstimate
from seatworthy.rules.rulebook import Item
from seatworthy.rules.seat import standing_of_item
from seatworthy.rules.verdict import Standing, Verdict


@dataclass(frozen=True)
class Answered:
    """What one panellist answered, by compound; a compound never served may be absent.

    Attributes:
        glasses: Scored glasses and forced-choice sets.
        estimates: Own threshold estimates.
        by_chance: Verdicts of the estimate under the further rule, where that rule is one of
            chance; they come ready, since they need the model.
    """

    glasses: Mapping[str, Sequence[Glass]] = field(default_factory=dict)
    estimates: Mapping[str, Sequence[OwnEstimate]] = field(default_factory=dict)
    by_chance: Mapping[str, CompoundVerdict] = field(default_factory=dict)


def items_of(rule: AlsoRule, critical: Sequence[Item]) -> tuple[Item, ...]:
    """The compounds meant: the rule's own, else the critical items of the beer family."""
    return tuple((compound,) for compound in rule.compounds) or tuple(critical)


def judge_also(
    rule: AlsoRule, items: Sequence[Item], seen: Answered, today: date, counting: Counted
) -> Verdict:
    """Say whether one panellist meets a further rule.

    Over "each": met where enough items are met (all of them, or ``met_in``; never more than
    there are), not met where even all open items met would be too few, else too little evidence.
    "Together": the glasses of all compounds are counted as if they were of one.

    Args:
        rule: The further rule.
        items: From `items_of`; of a group one compound counts.
        seen: What was answered.
        today: The day asked.
        counting: Which glasses count where the rule says nothing.

    Raises:
        ValueError: if a rule of chance is asked over all compounds together.
    """
    if not items:
        sentence = f"{rule.name}: no compounds are named for this beer family."
        return Verdict(rule.name, Standing.TOO_LITTLE, sentence)
    if rule.over == "together":
        return _together(rule, items, seen, today, counting)
    cells = cells_of(rule, items, seen, today, counting)
    standings = {item: standing_of_item(item, cells) for item in items}
    needed = min(rule.met_in or len(items), len(items))
    missing = needed - _number(standings, Standing.MET)
    sentence = _sentence(rule, standings, needed)
    if missing <= 0:
        return Verdict(rule.name, Standing.MET, sentence)
    open_items = [item for item in items if standings[item] is Standing.TOO_LITTLE]
    is_lost = missing > len(open_items)
    standing = Standing.NOT_MET if is_lost else Standing.TOO_LITTLE
    unmet = [item for item in items if standings[item] is not Standing.MET]
    way = partial(_change, unmet if is_lost else open_items, missing, cells)
    return Verdict(rule.name, standing, sentence, way)


def cells_of(
    rule: AlsoRule, items: Sequence[Item], seen: Answered, today: date, counting: Counted
) -> dict[str, CompoundVerdict]:
    """Each compound by itself under the further rule."""
    compounds = [compound for item in items for compound in item]
    if isinstance(rule.rule, ChanceRule):
        return {c: seen.by_chance[c] for c in compounds if c in seen.by_chance}
    return {
        compound: judge_by_counting(
            seen.glasses.get(compound, ()),
            seen.estimates.get(compound, ()),
            today,
            rule.rule,
            counting,
        )
        for compound in compounds
    }


def _together(
    rule: AlsoRule, items: Sequence[Item], seen: Answered, today: date, counting: Counted
) -> Verdict:
    compounds = list(dict.fromkeys(compound for item in items for compound in item))
    found = judge_by_counting(
        [glass for compound in compounds for glass in seen.glasses.get(compound, ())],
        [estimate for compound in compounds for estimate in seen.estimates.get(compound, ())],
        today,
        rule.rule,
        counting,
    ).verdict
    sentence = f"{rule.name}, {_names(compounds)} together: {found.sentence}"
    return Verdict(rule.name, found.standing, sentence, found.way)


def _nearest(items: Sequence[Item], cells: Mapping[str, CompoundVerdict]) -> list[str]:
    """Of each item the compound nearest to met; those that need the fewest glasses first."""

    def glasses_needed(compound: str) -> float:
        more = cells[compound].more_right if compound in cells else None
        return float("inf") if more is None else more

    return sorted((min(item, key=glasses_needed) for item in items), key=glasses_needed)


def _sentence(rule: AlsoRule, standings: Mapping[Item, Standing], needed: int) -> str:
    met = _number(standings, Standing.MET)
    asked = "all" if needed == len(standings) else str(needed)
    parts = [f"{rule.name}: met in {met} of {len(standings)} compounds, {asked} asked for"]
    said = {
        Standing.NOT_MET: "not met in",
        Standing.TOO_LITTLE: "too little evidence in",
        Standing.INSENSITIVE: "not smelled, which is no fault:",
    }
    for standing, words in said.items():
        items = [item for item, found in standings.items() if found is standing]
        if items:
            parts.append(f"{words} {_names([' or '.join(item) for item in items])}")
    return "; ".join(parts) + "."


def _change(items: Sequence[Item], missing: int, cells: Mapping[str, CompoundVerdict]) -> str:
    """What would change each of the nearest compounds, as many as are missing."""
    compounds = _nearest(items, cells)[:missing]
    said = [
        f"{compound}: {cells[compound].verdict.change}"
        for compound in compounds
        if compound in cells and cells[compound].verdict.change
    ]
    return " ".join(said)


def _number(standings: Mapping[Item, Standing], standing: Standing) -> int:
    return list(standings.values()).count(standing)


def _names(names: Sequence[str]) -> str:
    *others, last = names
    return f"{', '.join(others)} and {last}" if others else last
