"""Glasses that ask about one compound by name: how strong it is, or whether it is there."""

from collections.abc import Iterator

from seatworthy.sessions.asking import Asking
from seatworthy.sessions.plan import PlannedSample
from seatworthy.sessions.wish import ASKED, INTENSITY, NAMING, SETS, YES_NO
from seatworthy.sessions.wording import listed


def question_faults(asking: Asking, sample: PlannedSample) -> Iterator[str]:
    """What is wrong with the question that a sample asks."""
    if sample.method not in ASKED:
        if sample.asks is not None:
            how = "in sets" if sample.method in SETS else "by name"
            yield (
                f"Sample {sample.mark} is asked {how} and yet about {asking.inside(sample.asks)}: "
                "take the question out, or ask how strong it is or whether it is there."
            )
        return
    if sample.knows is not None:
        return
    if sample.asks is None:
        verb = "rated" if sample.method == INTENSITY else "asked about by yes or no"
        yield (
            f"Sample {sample.mark} is {verb}, and no compound is named to ask about: choose one, "
            "or ask for a name."
        )
    elif sample.asks not in asking.shelf.compounds:
        yield (
            f"Sample {sample.mark} asks about “{sample.asks}”, which is not a compound on record: "
            "choose one from the list."
        )
    elif sample.method == YES_NO and sample.compound not in (None, sample.asks):
        yield (
            f"Sample {sample.mark} holds {asking.inside(sample.compound)} and asks whether "
            f"{asking.inside(sample.asks)} is there: ask about what it holds, or let it be rated "
            f"for {asking.inside(sample.asks)}."
        )


def question_notes(asking: Asking) -> Iterator[str]:
    """What a leader should know of the questions of a plan that has no fault."""
    named = {sample.compound for sample in asking.samples if sample.method == NAMING}
    asked = dict.fromkeys(sample.asks for sample in asking.samples if sample.asks is not None)
    told = [asking.inside(compound) for compound in asked if compound in named]
    if told:
        one = len(told) == 1
        yield (
            f"The ballots ask about {listed(told)}, which {'is' if one else 'are'} also to be named: "
            "whoever reads the question knows what to look for. Ask in a session of its own, or "
            f"trust those names less. If {'it stays' if one else 'they stay'}, say beforehand that a "
            "question doesn't mean that anything is there."
        )
    yield from _always_there(asking)
    for sample in asking.samples:
        if sample.method == INTENSITY and sample.compound not in (None, sample.asks):
            yield (
                f"Sample {sample.mark} holds {asking.inside(sample.compound)} and is rated for "
                f"{asking.inside(sample.asks or '')}: such ratings are kept and shown, and enter no "
                "figure."
            )


def _always_there(asking: Asking) -> Iterator[str]:
    """Compounds that are asked about by yes or no, and are in every such glass."""
    there: dict[str, set[bool]] = {}
    for sample in asking.samples:
        if sample.method == YES_NO and sample.asks is not None:
            there.setdefault(sample.asks, set()).add(sample.compound is not None)
    always = [asking.inside(compound) for compound, found in there.items() if found == {True}]
    if always:
        yield (
            f"Every glass that asks whether {listed(always)} {'is' if len(always) == 1 else 'are'} "
            "there has it, so a yes says little: pour a blank with the same question."
        )
