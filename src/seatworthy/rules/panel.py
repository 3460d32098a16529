"""Judges a panel: enough people, and every critical compound covered."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from seatworthy.rules.rulebook import Item, PanelRule
from seatworthy.rules.seat import SeatVerdict
from seatworthy.rules.verdict import Standing, Verdict, counted

RULE = "panel"


@dataclass(frozen=True)
class PanelVerdict:
    """Whether those who can sit make a panel.

    Attributes:
        verdict: Standing and sentence; met needs the quorum and every critical compound covered.
        cover: People who can sit and meet it, by critical item.
        weak: Items covered by fewer people than asked for, weakest first.
    """

    verdict: Verdict
    cover: Mapping[Item, int]
    weak: tuple[Item, ...]


def judge_panel(
    critical: Sequence[Item], sitting: Sequence[SeatVerdict], rule: PanelRule
) -> PanelVerdict:
    """Say whether the people who sit make a panel.

    Args:
        critical: Critical compounds of the family, a group in one tuple.
        sitting: Seat verdicts of those who sit.
        rule: The panel rule in force.

    Whether enough of them did not make the batch cannot be said without a batch; that is asked when
    a panel is seated for one.
    """
    cover = {
        item: sum(seat.items.get(item) is Standing.MET for seat in sitting) for item in critical
    }
    weak = tuple(
        sorted((i for i in critical if cover[i] < rule.people_per_compound), key=cover.get)
    )
    sentence = (
        f"{counted(len(sitting), 'person').replace('persons', 'people')} can sit, "
        f"{rule.quorum} are asked for; {len(critical) - len(weak)} of {len(critical)} critical "
        f"compounds are covered by {rule.people_per_compound} or more."
    )
    enough = len(sitting) >= rule.quorum and not weak
    standing = Standing.MET if enough else Standing.NOT_MET
    return PanelVerdict(Verdict(RULE, standing, sentence), cover, weak)


@dataclass(frozen=True)
class Sitter:
    """Somebody who would sit for one batch.

    Attributes:
        seat: Their seat verdict.
        on_probation: Whether their seat is on probation.
        made_batch: Whether they belong to the crew that made it.
        trade: Their trade or department; "" where nobody said, which counts as one of its own kind.
    """

    seat: SeatVerdict
    on_probation: bool
    made_batch: bool
    trade: str


def judge_sitting(
    critical: Sequence[Item], sitters: Sequence[Sitter], rule: PanelRule
) -> PanelVerdict:
    """Say whether some people may sit for one batch: quorum, independence, composition, cover.

    Args:
        critical: Critical compounds of the family, a group in one tuple.
        sitters: Who would sit; people on probation are left out where the rulebook does so.
        rule: The panel rule in force.
    """
    counting = [one for one in sitters if rule.probation_counts or not one.on_probation]
    found = judge_panel(critical, [one.seat for one in counting], rule)
    wrong = list(_wrong_with(counting, rule))
    sentence = " ".join([found.verdict.sentence, *wrong])
    is_met = found.verdict.standing is Standing.MET and not wrong
    standing = Standing.MET if is_met else Standing.NOT_MET
    return PanelVerdict(Verdict(RULE, standing, sentence), found.cover, found.weak)


def _wrong_with(sitters: Sequence[Sitter], rule: PanelRule) -> Iterator[str]:
    """What their independence and composition lack, a sentence each."""
    others = sum(not one.made_batch for one in sitters)
    if others < rule.from_other_crews:
        yield (
            f"{others or 'None'} of them did not make the batch; {rule.from_other_crews} are asked for."
        )
    trades = len({one.trade for one in sitters})
    if trades < rule.trades:
        yield f"They come from {counted(trades, 'trade')}; {rule.trades} are asked for."
