"""What another rulebook would change, before anybody signs it: who would gain or lose a seat."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from seatworthy.rules.seat import SeatVerdict
from seatworthy.rules.verdict import Standing
from seatworthy.steps.desk import Desk, InForce
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import item_label
from seatworthy.steps.sentences import in_sentence, joined, the_beers


@dataclass(frozen=True)
class SeatChange:
    """One seat that another rulebook would judge otherwise.

    Attributes:
        before: Standing by the rulebook in force: "met", "not_met", "too_little".
        after: Standing by the other one.
        sentence: Why, by the other one, with its numbers.
        compounds: Compounds that would be judged otherwise, "papery: met to too little evidence".
    """

    person_id: str
    name: str
    family_label: str
    before: str
    after: str
    sentence: str
    compounds: tuple[str, ...]

    @property
    def is_gain(self) -> bool:
        """Whether the other rulebook would grant a seat."""
        return self.after == Standing.MET and self.before != Standing.MET

    @property
    def is_loss(self) -> bool:
        """Whether the other rulebook would not grant a seat that the one in force grants."""
        return self.before == Standing.MET and self.after != Standing.MET


@dataclass(frozen=True)
class FamilyChange:
    """What would become of the panel of one beer family.

    Attributes:
        before: People who can sit by the rulebook in force.
        after: People who could by the other one.
        weak: Labels of critical compounds that the panel would cover too thinly.
    """

    family_label: str
    before: int
    after: int
    weak: tuple[str, ...]


@dataclass(frozen=True)
class WhatIf:
    """Another rulebook beside the one in force, on today's evidence.

    Attributes:
        sentence: What would change, in one sentence.
        seats: Seats that would be judged otherwise, losses first, then gains, then other changes.
        families: What would become of each panel.
    """

    sentence: str
    seats: tuple[SeatChange, ...]
    families: tuple[FamilyChange, ...]


def what_if(desk: Desk, supposed: InForce) -> WhatIf:
    """Judge today by another rulebook and say what differs; nothing is recorded.

    Args:
        desk: The open store.
        supposed: The other rulebook.
    """
    now, then = judge_day(desk), judge_day(desk, supposed_book=supposed)
    changes = sorted(
        _changes(now, then), key=lambda change: (not change.is_loss, not change.is_gain)
    )
    families = tuple(
        FamilyChange(
            label, _sitting(now, family), _sitting(then, family),
            tuple(item_label(item, then.labels) for item in then.panels[family].weak),
        )
        for family, label in now.families.items()
    )  # fmt: skip
    return WhatIf(_sentence(changes, supposed), tuple(changes), families)


def _changes(now: Judged, then: Judged) -> Iterator[SeatChange]:
    for family, label in now.families.items():
        for person, name in now.people.items():
            before, after = now.seats[person, family], then.seats[person, family]
            compounds = tuple(_compounds(now, then, person, family))
            if before.verdict.standing != after.verdict.standing or compounds:
                yield SeatChange(
                    person, name, label, str(before.verdict.standing), str(after.verdict.standing),
                    _why(after), compounds,
                )  # fmt: skip


def _why(seat: SeatVerdict) -> str:
    return seat.verdict.full


def _compounds(now: Judged, then: Judged, person: str, family: str) -> Iterator[str]:
    for cell in sorted({*now.cells, *then.cells}):
        if (cell[0], cell[2]) != (person, family):
            continue
        before, after = (judged.cells.get(cell) for judged in (now, then))
        words = [WORDS[one.standing] if one else "no glasses" for one in (before, after)]
        if words[0] != words[1]:
            label = item_label((cell[1],), now.labels)
            yield f"{in_sentence(label)}: {words[0]}, then {words[1]}"


WORDS = {
    Standing.MET: "met",
    Standing.NOT_MET: "not met",
    Standing.TOO_LITTLE: "too little evidence",
    Standing.INSENSITIVE: "doesn't smell it",
}


def _sitting(judged: Judged, family: str) -> int:
    return sum(judged.seats[person, family].can_sit for person in judged.people)


def _sentence(changes: list[SeatChange], supposed: InForce) -> str:
    book = supposed.rulebook
    by = f"By “{book.name}”, version {book.version},"
    labels = dict.fromkeys(change.family_label for change in changes)
    parts = [part for label in labels if (part := _of_family(label, changes))]
    if not parts:
        return f"{by} nobody's seat would be judged otherwise on today's glasses."
    return f"{by} {'; '.join(parts)}."


def _of_family(label: str, changes: list[SeatChange]) -> str:
    own = [change for change in changes if change.family_label == label]
    lost, gained = _names(own, lambda c: c.is_loss), _names(own, lambda c: c.is_gain)
    parts = [f"{joined(lost)} would lose what a seat rests on"] if lost else []
    parts += [f"{joined(gained)} would gain it"] if gained else []
    return f"for {the_beers(label)} {' and '.join(parts)}" if parts else ""


def _names(changes: list[SeatChange], is_meant: Callable[[SeatChange], bool]) -> list[str]:
    return [change.name for change in changes if is_meant(change)]
