"""What is poured: the samples of a session, their levels and how many glasses they make."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from seatworthy.sessions.asking import Asking
from seatworthy.sessions.plan import PlannedSample
from seatworthy.sessions.questions import question_faults
from seatworthy.sessions.release import release_faults
from seatworthy.sessions.series import HIGHEST_LEVEL, LOWEST_LEVEL
from seatworthy.sessions.shares import fullest_share
from seatworthy.sessions.wish import METHODS, NAMING, SETS
from seatworthy.sessions.wording import counted, in_sentence, listed, plain, times

# A nose that has had more than this in one session says little of the rest; ours, no source.
HIGHEST_CAP: Final = 24


def pouring_faults(asking: Asking) -> Iterator[str]:
    """What is wrong with the samples."""
    limits = asking.wish.limits
    if not 1 <= limits.most_glasses <= HIGHEST_CAP:
        yield (
            f"A limit of {counted(limits.most_glasses, 'glass')} for one person was set: choose 1 "
            f"to {HIGHEST_CAP}."
        )
    if not asking.samples:
        yield "There is nothing to pour: add a sample with a compound, or a blank."
    if asking.glasses > limits.most_glasses:
        yield (
            f"{counted(asking.glasses, 'glass')} for one person are more than the limit of "
            f"{limits.most_glasses}: take samples or steps out, pour fewer of them twice, raise the limit, "
            "let each taste only some, or plan two sessions."
        )
    if asking.has_sets and asking.first_blank is None:
        yield (
            "Sets are asked for and there is no blank: add a blank; the other glasses of each set "
            "come from it."
        )
    yield from _flight_faults(asking)
    for sample in asking.samples:
        yield from _count_faults(asking, sample)
        yield from _sample_faults(asking, sample)
        yield from question_faults(asking, sample)
    yield from release_faults(asking)
    yield from _same_twice(asking)
    for compound in asking.spiked:
        yield from _compound_faults(asking, compound)


def _flight_faults(asking: Asking) -> Iterator[str]:
    flight, everything = asking.wish.flight, max(2, asking.places)
    if flight is None:
        return
    least = fullest_share(asking) + any(s.glasses > 0 for s in asking.blanks)
    if not 2 <= flight <= everything:
        yield (
            f"A flight of {counted(flight, 'glass')} was asked for: choose 2 to {everything}, or let "
            "everybody taste everything."
        )
    elif flight < min(least, everything):
        yield (
            f"A flight of {counted(flight, 'glass')} is too short for what stays together, a pair or "
            f"a series, and a blank: choose at least {least}, or let everybody taste everything."
        )


def _count_faults(asking: Asking, sample: PlannedSample) -> Iterator[str]:
    if sample.method not in METHODS:
        yield (
            f"Sample {sample.mark} is asked as “{sample.method}”: choose "
            f"{', '.join(METHODS[:-1])} or {METHODS[-1]}."
        )
    if sample.compound is None and sample.method in SETS:
        yield (
            f"Sample {sample.mark} has nothing added and is asked in sets, where nothing would "
            "differ: name the compound, or ask for a name."
        )
    fills_sets = asking.has_sets and sample == asking.first_blank and sample.method == NAMING
    if sample.glasses not in (1, 2) and not (fills_sets and sample.glasses == 0):
        yield (
            f"Sample {sample.mark} is poured {sample.glasses} times for each person: pour it once, "
            "or twice as a hidden duplicate."
        )


def _sample_faults(asking: Asking, sample: PlannedSample) -> Iterator[str]:
    if sample.compound is None:
        if sample.level is not None and sample.batch is None:
            yield (
                f"Sample {sample.mark} has nothing added and yet a level of {times(sample.level)}: "
                "take the level out, or name the compound."
            )
        return
    label = asking.label(sample.compound)
    if sample.level is None:
        yield f"{label} has no level: say how many times its working threshold."
    elif not (sample.level.is_finite() and LOWEST_LEVEL <= sample.level <= HIGHEST_LEVEL):
        yield (
            f"{label} has a level of {times(sample.level)}: choose {plain(LOWEST_LEVEL)} to "
            f"{plain(HIGHEST_LEVEL)} times the working threshold."
        )
    else:
        yield from _ceiling_faults(asking, sample.compound, sample.level)


def _ceiling_faults(asking: Asking, compound: str, level: Decimal) -> Iterator[str]:
    facts = asking.shelf.compounds.get(compound)
    if facts is not None and facts.ceiling is not None and level > facts.ceiling:
        yield (
            f"{facts.label} at {times(level)} is above its ceiling of {times(facts.ceiling)}: lower "
            "it, or raise the ceiling on the bench."
        )


def _same_twice(asking: Asking) -> Iterator[str]:
    levels = Counter(
        (sample.compound, sample.level, sample.method, sample.asks)
        for sample in asking.samples
        if sample.compound is not None and sample.level is not None and sample.level.is_finite()
    )
    for asked, count in levels.items():
        if count > 1:
            compound, level, *_ = asked
            marks = [
                s.mark
                for s in asking.samples
                if s.level is not None
                and s.level.is_finite()  # a signalling NaN can't even be compared
                and (s.compound, s.level, s.method, s.asks) == asked
            ]
            yield (
                f"{asking.label(compound)} at {times(level)} stands in samples {listed(marks)}: "
                "keep one of them, and pour it twice for a hidden duplicate."
            )


def _compound_faults(asking: Asking, compound: str) -> Iterator[str]:
    facts = asking.shelf.compounds.get(compound)
    if facts is None:
        yield f"“{compound}” is not a compound on record: choose one from the list."
    elif facts.serve == "no":
        caution = f" ({facts.caution})" if facts.caution else ""
        yield f"{facts.label} is not for serving{caution}: take it out."
    elif not facts.has_threshold:
        level = next((s.level for s in asking.spiked[compound] if s.level is not None), None)
        multiple = times(level) if level is not None else "a multiple of it"
        books = f" Books say {facts.reference};" if facts.reference else " Books say nothing sure;"
        yield (
            f"{facts.label} has no working threshold for {in_sentence(asking.shelf.family_label)}, "
            f"so {multiple} means nothing yet.{books} choose yours on the shelf."
        )
