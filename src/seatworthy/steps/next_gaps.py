"""The gaps of a panel or a person in words, each told apart by its kind, with its counts."""

from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.gaps import Kind
from seatworthy.steps.chances import chance_to_name
from seatworthy.steps.labels import first_names, short_label
from seatworthy.steps.next_ahead import GlassesAhead
from seatworthy.steps.next_ground import Panel
from seatworthy.steps.next_session_views import CompoundGaps, GapLine
from seatworthy.steps.sentences import joined, number_word

KIND_WORDS: Final = MappingProxyType(
    {
        Kind.MET: "met, due soon",
        Kind.TOO_LITTLE: "too little evidence",
        Kind.MISNAMES: "smells it, misnames it",
        Kind.GUESSES: "guesses",
        Kind.WEAK: "notices it too seldom",
        Kind.INSENSITIVE: "doesn't smell it",
        Kind.UNTESTED: "no glass that counts yet",
        Kind.NOT_SERVED: "is not served it",
    }
)
NOT_CLEAR: Final = "not met, unclear why"  # the rule has spoken, and no kind is sure enough
_IN_ORDER: Final = (
    Kind.INSENSITIVE,
    Kind.WEAK,
    Kind.MISNAMES,
    Kind.GUESSES,
    Kind.TOO_LITTLE,
    Kind.UNTESTED,
    Kind.NOT_SERVED,
)
_NO_NOSE: Final = "no nose"
MOST_SINGLE: Final = 10
LEAST_COST: Final = 0.05  # a gap that costs less is not worth a line


def is_all_new(panel: Panel) -> bool:
    """Whether nobody had a glass that counts, so that no gap stands out."""
    return bool(np.isin(panel.gaps.kind, (Kind.UNTESTED, Kind.NOT_SERVED)).all())


def dearest(
    panel: Panel, people: NDArray[np.intp], ahead: GlassesAhead | None, *, only_dearest: bool
) -> tuple[GapLine, ...]:
    """Single gaps of some people, the dearest first; the first ten, or every one."""
    found = [(int(p), int(k)) for p, k in panel.gaps.ranked if p in people]
    if only_dearest:
        found = [at for at in found if panel.gaps.cost[at] >= LEAST_COST][:MOST_SINGLE]
    critical = {int(k) for k in panel.far_at}
    return tuple(
        GapLine(
            person_id=panel.people[p].person_id,
            name=panel.people[p].name,
            compound=panel.compounds[k],
            label=_label(panel, k),
            is_critical=k in critical,
            standing=_standing(panel, p, k),
            kind=_kind_words(panel, p, k),
            count=count_words(panel, p, k, " of "),
            chance=_chance(panel, p, k),
            ahead=_ahead(panel, p, k, ahead),
        )
        for p, k in found
    )


def _kind_words(panel: Panel, p: int, k: int) -> str:
    kind = Kind(int(panel.gaps.kind[p, k]))
    if kind is Kind.TOO_LITTLE and _standing(panel, p, k) == "not_met":
        return NOT_CLEAR
    return KIND_WORDS[kind]


def _standing(panel: Panel, p: int, k: int) -> str:
    verdict = panel.judged.cells.get((panel.people[p].person_id, panel.compounds[k], panel.family))
    return "no_glasses" if verdict is None else str(verdict.standing)


def _ahead(panel: Panel, p: int, k: int, ahead: GlassesAhead | None) -> str:
    """What is foretold of a gap; where the rule has spoken, what mends it."""
    if ahead and (words := ahead.words(p, k)):
        return words
    if panel.gaps.kind[p, k] == Kind.INSENSITIVE:
        return "No fault, and no training mends it: find another nose."
    return "Not met: train first." if _standing(panel, p, k) == "not_met" else ""


def gaps_by_compound(panel: Panel) -> tuple[CompoundGaps, ...]:
    """Who lacks what, compound by compound: critical ones in their order, then by what it costs."""
    critical = [k for item in panel.ground.items for k in item]
    cost = panel.gaps.cost.sum(axis=0)
    others = [k for k in np.argsort(-cost).tolist() if k not in critical]
    few = {k: n for n, item in enumerate(panel.ground.items) for k in item}
    rows = []
    for k in [*critical, *others]:
        by_kind = tuple(_by_kind(panel, k))
        if not by_kind:
            continue
        missing = int(panel.ground.missing_noses[few[k]]) if k in few else 0
        noses = _noses(panel, k) if k in few else ""
        if missing > 0:
            noses = "no nose yet" if noses == _NO_NOSE else f"{noses} only"
        rows.append(CompoundGaps(_label(panel, k), k in few, noses, missing > 0, by_kind))
    return tuple(rows)


def _by_kind(panel: Panel, k: int) -> list[tuple[str, str]]:
    names = first_names({person.person_id: person.name for person in panel.people})
    found = []
    for kind in _IN_ORDER:
        said: dict[str, list[str]] = {}
        for p in np.flatnonzero(panel.gaps.kind[:, k] == kind).tolist():
            who = f"{names[panel.people[p].person_id]} {count_words(panel, p, k, '/')}".strip()
            said.setdefault(_kind_words(panel, p, k), []).append(who)
        found += [(words, joined(whose)) for words, whose in said.items()]
    return found


def _noses(panel: Panel, k: int) -> str:
    """How many who sit meet the compound itself."""
    number = int(panel.ground.is_met[panel.ground.is_nose, k].sum())
    return _NO_NOSE if not number else "one nose" if number == 1 else f"{number_word(number)} noses"


def _label(panel: Panel, k: int) -> str:
    compound = panel.compounds[k]
    return short_label(panel.judged.labels.get(compound, compound))


def count_words(panel: Panel, p: int, k: int, between: str) -> str:
    """Right of counted glasses of one cell; "" without one."""
    day = panel.judged.days.get((panel.people[p].person_id, panel.compounds[k], panel.family))
    return f"{day.hits}{between}{day.glasses}" if day and day.glasses else ""


def _chance(panel: Panel, p: int, k: int) -> str:
    """The chance to name it, with the range that the rule uses."""
    cell = (panel.people[p].person_id, panel.compounds[k], panel.family)
    if cell not in panel.judged.cells:
        return ""
    found = chance_to_name(panel.judged, cell)
    return f"{100 * found.mean:.0f}% ({100 * found.low:.0f} to {100 * found.high:.0f})"
