"""Judges a seat: one panellist, one beer family."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from seatworthy.rules.compound import CompoundVerdict
from seatworthy.rules.rulebook import Item, SeatRule, StartUpRule
from seatworthy.rules.verdict import Standing, Verdict

RULE = "seat"


@dataclass(frozen=True)
class SeatVerdict:
    """Whether a panellist may sit for a beer family.

    Attributes:
        verdict: Standing, sentence, what would change it.
        critical: The verdict on the critical compounds alone.
        items: Standing of each critical item, a group counting once.
        met_items: How many are met.
        until: Last day on which enough critical compounds still stand if nothing more is poured,
            at most the whole term from today; None if not met.
        start_up: The seat verdict while the family has few seats; None without such a rule.
    """

    verdict: Verdict
    critical: Verdict
    items: Mapping[Item, Standing]
    met_items: int
    until: date | None
    start_up: "SeatVerdict | None" = None

    @property
    def can_sit(self) -> bool:
        """Whether the rule is met."""
        return self.verdict.standing is Standing.MET


def standing_of_item(item: Item, cells: Mapping[str, CompoundVerdict]) -> Standing:
    """Standing on a critical compound, or on a group of which one counts."""
    standings = [cells[c].standing if c in cells else Standing.TOO_LITTLE for c in item]
    if Standing.MET in standings:
        return Standing.MET
    if Standing.TOO_LITTLE in standings:
        return Standing.TOO_LITTLE
    return Standing.NOT_MET if Standing.NOT_MET in standings else Standing.INSENSITIVE


def judge_seat(
    critical: Sequence[Item],
    cells: Mapping[str, CompoundVerdict],
    others: Sequence[Verdict],
    rule: SeatRule,
    longest: date,
    start_up: StartUpRule | None = None,
) -> SeatVerdict:
    """Say whether the seat rule is met.

    Args:
        critical: Critical compounds of the family, a group in one tuple.
        cells: The panellist's compound verdicts; a compound never served may be absent.
        others: Verdicts that a seat asks for besides (false calls, attendance).
        rule: The seat rule in force.
        longest: Last day on which a decision signed today would be valid.
        start_up: What is asked while the family has few seats.
    """
    items = {item: standing_of_item(item, cells) for item in critical}
    on_critical = judge_critical(items, rule)
    parts = [on_critical, *others]
    standings = {part.standing for part in parts}
    met_items = list(items.values()).count(Standing.MET)
    early = None
    if start_up is not None:
        asked = replace(rule, critical_met=min(start_up.critical_met, rule.critical_met))
        early = judge_seat(critical, cells, others, asked, longest)
    if standings == {Standing.MET}:
        until = min(longest, _end_of_seat(critical, cells, rule, longest))
        verdict = Verdict(RULE, Standing.MET, on_critical.sentence)
        return SeatVerdict(verdict, on_critical, items, met_items, until, start_up=early)
    worst = Standing.NOT_MET if Standing.NOT_MET in standings else Standing.TOO_LITTLE
    missing = [part for part in parts if part.standing is not Standing.MET]
    sentence = " ".join(part.sentence for part in missing)
    verdict = Verdict(RULE, worst, sentence, partial(_changes, missing))
    return SeatVerdict(verdict, on_critical, items, met_items, None, early)


def _changes(missing: Sequence[Verdict]) -> str:
    """What would change each of the parts that are missing."""
    return " ".join(part.change for part in missing if part.change)


def nearest_items(
    items: Mapping[Item, Standing], cells: Mapping[str, CompoundVerdict], rule: SeatRule
) -> tuple[tuple[Item, int], ...]:
    """The open critical items that would be enough, with the fewest right answers for each.

    Returns:
        As many as are missing, the nearest first; () where nothing is missing, or where some would
        take more right answers than can be told.
    """
    missing = min(rule.critical_met, len(items)) - list(items.values()).count(Standing.MET)
    ways = sorted(
        (min(more), item)
        for item, standing in items.items()
        if standing is Standing.TOO_LITTLE
        and (more := [c.more_right for k in item if (c := cells.get(k)) and c.more_right])
    )
    return tuple((item, more) for more, item in ways[:missing]) if len(ways) >= missing > 0 else ()


def judge_critical(items: Mapping[Item, Standing], rule: SeatRule) -> Verdict:
    """Enough critical compounds met, and not more not met than allowed."""
    standings = list(items.values())
    met, bad = standings.count(Standing.MET), standings.count(Standing.NOT_MET)
    open_items = standings.count(Standing.TOO_LITTLE)
    needed = min(rule.critical_met, len(items))
    but = f", {bad} not met" if bad else ""
    sentence = f"{met} of {len(items)} critical compounds met{but}; "
    sentence += f"{needed} met and at most {rule.critical_not_met} not met are asked for."
    missing = needed - met
    if bad > rule.critical_not_met:
        change = f"{bad - rule.critical_not_met} of those not met must be trained and met again."
        return Verdict("critical compounds", Standing.NOT_MET, sentence, change)
    if missing <= 0:
        return Verdict("critical compounds", Standing.MET, sentence)
    if missing > open_items:
        change = "Even all the open ones met would not be enough; train those not met."
        return Verdict("critical compounds", Standing.NOT_MET, sentence, change)
    change = f"{missing} more of the {open_items} open ones would do."
    return Verdict("critical compounds", Standing.TOO_LITTLE, sentence, change)


def _end_of_seat(
    critical: Sequence[Item],
    cells: Mapping[str, CompoundVerdict],
    rule: SeatRule,
    longest: date,
) -> date:
    """Day on which too few critical compounds would still stand, nothing more being poured."""
    ends = sorted(
        (max(e for c in item if c in cells and (e := cells[c].until) is not None)
         for item in critical
         if any(c in cells and cells[c].until is not None for c in item)),
        reverse=True,
    )  # fmt: skip
    needed = min(rule.critical_met, len(critical))
    return ends[needed - 1] if needed else longest
