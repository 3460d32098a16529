"""Judges a panel: enough people, and every critical compound covered."""

from collections.abc import Mapping, Sequence
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
    critical: Sequence[Item], seats: Sequence[SeatVerdict], rule: PanelRule
) -> PanelVerdict:
    """Say whether the people who can sit make a panel.

    Whether enough of them did not make the batch cannot be said without a batch; that is asked when
    a panel is seated for one.
    """
    sitting = [seat for seat in seats if seat.can_sit]
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
