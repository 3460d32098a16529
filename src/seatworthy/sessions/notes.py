"""What a leader should know of a plan and may overrule: cautions that refuse nothing."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import combinations
from types import MappingProxyType
from typing import Final

from seatworthy.sessions.asking import Asking
from seatworthy.sessions.day import clock_notes
from seatworthy.sessions.orders import williams
from seatworthy.sessions.questions import question_notes
from seatworthy.sessions.release import known_beer_notes, release_notes
from seatworthy.sessions.seating import preparing_comers
from seatworthy.sessions.servings import group_sizes
from seatworthy.sessions.wish import INTENSITY, NAMING, SETS, YES_NO
from seatworthy.sessions.wording import at_start, listed, people_words, plain, times

# A glass this strong can blind the nose for those after it; common practice, no source.
STRONG_LEVEL: Final = Decimal(10)
# What is poured by each method, for sentences on what counts.
_KINDS: Final = MappingProxyType(
    {
        NAMING: "glasses to be named",
        "3afc": "3-AFC sets",
        "triangle": "triangle sets",
        "duo_trio": "duo-trio sets",
        "2afc": "2-AFC sets",
        YES_NO: "glasses asked by yes or no",
        INTENSITY: "rated glasses",
    }
)


def notes(asking: Asking) -> tuple[str, ...]:
    """All cautions of a plan that has no fault, a finished sentence each."""
    return tuple(dict.fromkeys(_all(asking)))


def _all(asking: Asking) -> Iterator[str]:
    yield from clock_notes(asking)
    if asking.wish.is_release:
        yield from release_notes(asking)
    elif any(sample.knows is None for sample in asking.samples):
        yield from _make_up_notes(asking)
    yield from known_beer_notes(asking)
    yield from question_notes(asking)
    yield from _level_notes(asking)
    yield from _people_notes(asking)


def _make_up_notes(asking: Asking) -> Iterator[str]:
    if sum(map(len, asking.spiked.values())) < 2:
        yield "Fewer than two samples have something added, so the session shows little."
    single = [sample for sample in asking.samples if sample.method not in SETS]
    if all(sample.compound is None for sample in single) and asking.has_sets:
        return  # in sets alone there is no false call, and every set is answered
    named = [sample for sample in single if sample.method == NAMING]
    if named and all(sample.compound is not None or sample.glasses == 0 for sample in named):
        yield (
            "No blank is poured, so nothing is learnt about false calls. Common practice, no "
            "source: a fifth to a third of the glasses have nothing added."
        )
    if all(sample.glasses < 2 for sample in single):
        yield (
            "No sample is poured twice, so nothing is learnt about who repeats an answer. Common "
            "practice, no source: one hidden duplicate a session."
        )


def _level_notes(asking: Asking) -> Iterator[str]:
    for compound, samples in asking.spiked.items():
        for level in (sample.level for sample in samples if sample.level is not None):
            if level > STRONG_LEVEL:
                late = asking.wish.strong_late
                regard = (
                    "also where strong ones come late"
                    if late
                    else "and orders are drawn without regard to strength"
                )
                yield (
                    f"{asking.label(compound)} at {times(level)} can blind the nose for the "
                    f"glasses after it, {regard}: lower it, or taste it when the session is over."
                )
        facts = asking.shelf.compounds[compound]
        if facts.serve == "prediluted":
            yield f"{facts.label}: only from a bought food-grade dilution."
    yield from _uncounted_notes(asking)


def _uncounted_notes(asking: Asking) -> Iterator[str]:
    methods = asking.shelf.counted_methods
    if not methods:
        return
    spiked = [sample for sample in asking.samples if sample.compound]
    what = listed([_KINDS[method] for method in _KINDS if method in methods])
    at, outside = "", []
    if asking.shelf.counted_levels is not None:
        low, high = asking.shelf.counted_levels
        at = f" at {plain(low)} to {times(high)}"
        outside = [
            f"{asking.inside(sample.compound or '')} at {times(sample.level)}"
            for sample in spiked
            if sample.method in methods and sample.level and not low <= sample.level <= high
        ]
    if outside:
        yield (
            f"{at_start(listed(outside))} {'is' if len(outside) == 1 else 'are'} kept and not "
            f"counted for a seat; {what} count{at}."
        )
    others = {sample.method for sample in spiked} - set(methods)
    if others:
        kinds = listed([_KINDS[method] for method in _KINDS if method in others])
        yield f"{at_start(kinds)} are kept and count for no compound; {what} count{at}."


def _people_notes(asking: Asking) -> Iterator[str]:
    preparing = preparing_comers(asking)
    if preparing:
        names = listed([asking.name(person) for person in preparing])
        yield (
            f"{names} would prepare and taste: such answers are kept, and count only if somebody "
            "else puts the codes on."
        )
    people = len(asking.comers)
    if people == 1 and not asking.wish.is_release:
        yield "One person comes; if everything is missed, nobody can tell the nose from the bottle."
    rows = max((len(williams(size)) for size in group_sizes(asking)), default=1)
    if asking.flight is not None or people >= rows:
        return
    if asking.past.places:
        yield (
            f"{people_words(people)} for {rows} balanced orders: what stands first or after what "
            "evens out over several sessions, and these orders make up for earlier ones."
        )
    else:
        yield (
            f"{people_words(people)} for {rows} balanced orders: what stands first or after "
            "what evens out over several sessions, not within this one."
        )


def flight_notes(asking: Asking, orders: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """How evenly a session is shared out; nothing if everybody tastes everything.

    Args:
        asking: A wish that has no fault.
        orders: Letters of each person.
    """
    spiked = [sample.mark for sample in asking.samples if sample.compound is not None]
    if asking.flight is None or not spiked:
        return ()
    held = [frozenset(order) for order in orders.values()]
    each = [sum(mark in marks for marks in held) for mark in spiked]
    meeting = [sum({*pair} <= marks for marks in held) for pair in combinations(spiked, 2)]
    meet = f", and each two of them stand together in {_range(meeting)} orders" if meeting else ""
    shared = (
        f"In flights of {asking.flight} of {asking.places} glasses or sets each spiked sample comes "
        f"to {_range(each)} of {people_words(len(held))}{meet}."
    )
    return (shared,)


def _range(counts: Sequence[int]) -> str:
    low, high = min(counts), max(counts)
    if low == high:
        return str(low)
    return f"{low} or {high}" if high == low + 1 else f"{low} to {high}"
