"""A release sitting, and glasses that ask whether they are a certain beer: what a plan refuses of them."""

from collections import Counter
from collections.abc import Iterator
from typing import Final

from seatworthy.sessions.asking import STRONG_ABOVE, Asking
from seatworthy.sessions.plan import PlannedSample
from seatworthy.sessions.wish import NAMING, OWN, SISTER, VARIANTS, YES_NO
from seatworthy.sessions.wording import listed, plain, times

# A check glass above this stands out from the beers beside it; ours, no source.
STRONGEST_CHECK: Final = STRONG_ABOVE
# More batches than this tire the nose; common practice, no source.
MANY_BATCHES: Final = 4


def release_faults(asking: Asking) -> Iterator[str]:
    """What is wrong with batches, check glasses and questions about a beer."""
    batches = [sample for sample in asking.samples if sample.batch is not None]
    if asking.wish.is_release and not batches:
        yield (
            "There is no batch to judge: choose one of the list, or put a new one on record first."
        )
    for sample in asking.samples:
        yield from _batch_faults(asking, sample)
        yield from _known_beer_faults(asking, sample)
        if asking.wish.is_release:
            yield from _check_faults(asking, sample)
    yield from _twice(asking)
    yield from _other_families(asking)


def _batch_faults(asking: Asking, sample: PlannedSample) -> Iterator[str]:
    if sample.batch is None:
        return
    what = _batch_label(asking, sample.batch)
    if sample.batch not in asking.shelf.batches:
        yield (
            f"Sample {sample.mark} is a batch that is not on record: choose one of the list, or put "
            "it on record first."
        )
    if not asking.wish.is_release:
        yield (
            f"{what} is poured to be judged, which a release sitting alone does: plan one, or take "
            f"{what} out."
        )
    if sample.compound is not None or sample.level is not None or sample.addition:
        yield (
            f"{what} is judged as it is, and sample {sample.mark} says that something is added to "
            "it: take that out, or pour it as a check glass of its own."
        )


def _check_faults(asking: Asking, sample: PlannedSample) -> Iterator[str]:
    if sample.method != NAMING or sample.asks is not None or sample.knows is not None:
        yield (
            f"Sample {sample.mark} asks something of its own: in a release sitting every glass asks "
            "whether the beer is as it should be, so that none tells what it is. Take its question out."
        )
    level = sample.level
    if level is not None and level.is_finite() and level > STRONGEST_CHECK:
        yield (
            f"The check glass has {asking.inside(sample.compound or '')} at {times(level)}: choose "
            f"{plain(STRONGEST_CHECK)}× or less, or it gives itself away."
        )


def _known_beer_faults(asking: Asking, sample: PlannedSample) -> Iterator[str]:
    if sample.knows is None:
        return
    beer, variant = sample.knows
    if beer not in asking.shelf.beers:
        yield (
            f"Sample {sample.mark} asks about the beer “{beer}”, which is not on the shelf: choose "
            "one that is."
        )
    if variant not in VARIANTS:
        yield (
            f"Sample {sample.mark} is “{variant}”: choose the beer itself, aged, another batch, or a "
            "sister brand."
        )
    if sample.method != YES_NO or sample.asks is not None or sample.compound is not None:
        yield (
            f"Sample {sample.mark} asks whether it is {asking.beer_label(beer)}: that takes a yes or "
            "no, and nothing is added to it. Ask it so."
        )
    poured = sample.beer or asking.wish.beer
    if (variant == SISTER) == (poured == beer):
        what = "another beer" if variant == SISTER else "that beer"
        yield (
            f"Sample {sample.mark} asks whether it is {asking.beer_label(beer)} and pours "
            f"{asking.beer_label(poured)}: pour {what}, or say otherwise what it is."
        )


def _twice(asking: Asking) -> Iterator[str]:
    counts = Counter(sample.batch for sample in asking.samples if sample.batch is not None)
    for batch, count in counts.items():
        if count > 1:
            yield (
                f"{_batch_label(asking, batch)} stands in {count} samples: keep one of them, and "
                "pour it twice for a hidden duplicate."
            )


def _other_families(asking: Asking) -> Iterator[str]:
    """One sitting judges beers of one family: the list of what is critical is that family's."""
    if not asking.wish.is_release:
        return
    for beer in asking.beers:
        facts = asking.shelf.beers.get(beer)
        if facts is not None and facts.family != asking.shelf.family:
            labels = [
                _batch_label(asking, sample.batch)
                for sample in asking.samples
                if sample.beer == beer and sample.batch is not None
            ]
            yield (
                f"{listed(labels) or facts.label} is of another family ({facts.family_label}) than "
                f"the rest ({asking.shelf.family_label}): judge it in a sitting of its own."
            )


def release_notes(asking: Asking) -> Iterator[str]:
    """What a leader should know of a release sitting that has no fault."""
    missing = ["no spiked"] if not asking.spiked else []
    missing += ["no plain"] if not asking.blanks else []
    if missing:
        yield (
            f"There is {listed(missing)} check glass, so less is learnt of who tasted: a hidden one "
            "of each is the cheapest evidence there is."
        )
    batches = [sample for sample in asking.samples if sample.batch is not None]
    if len(batches) > MANY_BATCHES:
        yield (
            f"{len(batches)} batches in one sitting tire the nose. Common practice, no source: "
            f"{MANY_BATCHES} at most."
        )
    if len(asking.comers) == 1:
        yield "One person comes, so there is nobody to talk to: what they say is weighed alone."
    for sample in batches:
        yield from _crew_notes(asking, sample.batch or "")


def _crew_notes(asking: Asking, batch: str) -> Iterator[str]:
    facts = asking.shelf.batches[batch]
    crew = [asking.name(person) for person in asking.comers if person in facts.crew]
    if crew:
        yield (
            f"{listed(crew)} made {facts.label}: what they say of it is kept, and they are not "
            "independent of it."
        )


def known_beer_notes(asking: Asking) -> Iterator[str]:
    """What a leader should know where glasses ask whether they are a certain beer."""
    poured: dict[str, set[str]] = {}
    for sample in asking.samples:
        if sample.knows is not None:
            poured.setdefault(sample.knows[0], set()).add(sample.knows[1])
    for beer, variants in poured.items():
        if variants == {OWN}:
            yield (
                f"Every glass that asks whether it is {asking.beer_label(beer)} is that beer, so a "
                "yes says little: pour an aged one, another batch or a sister brand with it."
            )
        elif OWN not in variants:
            yield (
                f"No glass that asks whether it is {asking.beer_label(beer)} is that beer, so a no "
                "says little: pour the beer itself with it."
            )


def _batch_label(asking: Asking, batch: str) -> str:
    facts = asking.shelf.batches.get(batch)
    return facts.label if facts else "A batch"
