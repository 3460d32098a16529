"""What a weighed call is about, and when no honest chance can be given."""

from dataclasses import dataclass
from typing import Final

from seatworthy.decide.weighing import Weighing
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence, joined
from seatworthy.steps.tasted import NAMED
from seatworthy.steps.tasted import NOTHING as SAID_NOTHING
from seatworthy.steps.weigh_panel import WeighPanel
from seatworthy.steps.weigh_views import Question

_RIVAL_AT: Final = 0.1  # chance from which another compound that was named stands beside


@dataclass(frozen=True)
class About:
    """What a call is about.

    Attributes:
        compound: The compound in question; for a beer without a name, the likeliest.
        label: Its short name.
        places: What the chance is of, among nothing, the compounds and something unlisted.
        is_anything: Whether no compound was named, so that it is about any fault.
        rivals: Places of other compounds that were named and are likely too.
        rival_labels: Their short names.
        callers: How many said that something is wrong.
    """

    compound: str
    label: str
    places: list[int]
    is_anything: bool
    rivals: tuple[int, ...]
    rival_labels: tuple[str, ...]
    callers: int


def about_of(panel: WeighPanel, found: Weighing) -> About:
    """The likeliest of the compounds that were named and can be weighed; else any fault."""
    compounds, labels = panel.noses.compounds, panel.judged.labels
    named = [k for k in _named(panel) if _can_be_weighed(panel, compounds[k])]
    callers = sum(1 for word in panel.said if word != -1)
    if not named:
        last = len(found.chances) - 1
        likeliest = int(found.chances[1:last].argmax())
        label = short_label(labels.get(compounds[likeliest], compounds[likeliest]))
        places = list(range(1, last + 1))
        return About(compounds[likeliest], label, places, True, (), (), callers)
    named.sort(key=lambda k: -found.chances[k + 1])
    leading, *others = named
    rivals = tuple(k + 1 for k in others if found.chances[k + 1] >= _RIVAL_AT)
    return About(
        compound=compounds[leading],
        label=short_label(labels.get(compounds[leading], compounds[leading])),
        places=[leading + 1],
        is_anything=False,
        rivals=rivals,
        rival_labels=tuple(
            short_label(labels.get(compounds[p - 1], compounds[p - 1])) for p in rivals
        ),
        callers=callers,
    )


def refusal_of(panel: WeighPanel, question: Question, judged: Judged) -> str:
    """Why no chance can be given, as a sentence; "" where one can."""
    who = range(len(panel.tasters))
    able = [
        compound
        for compound in panel.noses.compounds
        if any(panel.counts_for(panel.tasters[t], compound) for t in who)
    ]
    if not able:
        tested = panel.of_tasters.is_tested.any()
        reason = (
            "doesn't smell what they were tested on" if tested else "was ever tested on anything"
        )
        start = "Everybody who tasted it" if tested else "Nobody who tasted it"
        return f"{start} {reason}, so no chance is given for {_beer(question)}; ask a laboratory"
    named = {word.compound for word in question.words if word.kind == NAMED and word.compound}
    hopeless = sorted(c for c in named if not _can_be_weighed(panel, c))
    if not named or len(hopeless) < len(named):
        return ""
    labels = joined([in_sentence(short_label(judged.labels.get(c, c))) for c in hopeless])
    if all(_is_tested_at_all(panel, c) for c in hopeless):
        why = f"everybody who tasted it and has glasses of {labels} doesn't smell it"
    else:
        why = f"nobody who tasted it was ever tested on {labels}"
    callers = sum(1 for word in question.words if word.kind != SAID_NOTHING)
    number = "One" if callers == 1 else str(callers)
    return (
        f"{number} of {len(question.words)} called {_beer(question)} not as it should be, and {why}, "
        "so no chance is given; hold it and ask a laboratory"
    )


def unweighable(panel: WeighPanel, question: Question) -> tuple[str, ...]:
    """Compounds that were named and that nobody who tasted can be counted on for."""
    named = {word.compound for word in question.words if word.kind == NAMED and word.compound}
    return tuple(sorted(c for c in named if not _can_be_weighed(panel, c)))


def _named(panel: WeighPanel) -> list[int]:
    return sorted({int(word) for word in panel.said if word >= 0})


def _can_be_weighed(panel: WeighPanel, compound: str) -> bool:
    if compound not in panel.noses.compounds:
        return False
    return any(panel.counts_for(place, compound) for place in panel.tasters)


def _is_tested_at_all(panel: WeighPanel, compound: str) -> bool:
    if compound not in panel.noses.compounds:
        return False
    return any(panel.is_tested(place, compound) for place in panel.tasters)


def _beer(question: Question) -> str:
    return in_sentence(question.label) if question.label else "it"
