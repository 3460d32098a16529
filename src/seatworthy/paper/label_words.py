"""What stands on each label: of a cap, of a bottle on the preparation side, of a glass."""

from collections.abc import Iterator
from dataclasses import dataclass

from seatworthy.paper.vessel_names import is_shared, prepared_by_sitting, vessels_of
from seatworthy.paper.wording import clock
from seatworthy.phrases import multiple
from seatworthy.steps.paper_views import PaperGlass, PaperSample, PaperSitting, PaperView


@dataclass(frozen=True)
class GlassLabel:
    """A glass: its code and place; nothing tells whose it is or what is in it.

    Attributes:
        place: "3"; "3.2" for the second glass of the set at place 3.
    """

    code: str
    place: str


@dataclass(frozen=True)
class VesselLabel:
    """A vessel.

    Attributes:
        name: "A2".
        when: The session's day, with the sitting where each has vessels of its own.
        what: Compound, or "nothing added".
        level: "3×"; "" for a blank.
        stock: What it is dosed from, with its lot; or the addition written by hand; or "".
        beer: Label of the base beer.
        use_within: "use within 24 h"; "" where nobody knows or it keeps.
    """

    name: str
    when: str
    what: str
    level: str
    stock: str
    beer: str
    use_within: str


def glass_labels(view: PaperView) -> Iterator[GlassLabel]:
    """Every glass, person by person, spare orders last at each sitting."""
    for sitting in view.sittings:
        for order in sitting.orders:
            for glass in order.glasses:
                yield from _of_glass(glass)


def _of_glass(glass: PaperGlass) -> Iterator[GlassLabel]:
    if not glass.glasses:
        yield GlassLabel(glass.code, str(glass.position))
    for one in glass.glasses:
        yield GlassLabel(one.code, f"{glass.position}.{one.place}")


def vessel_labels(view: PaperView) -> Iterator[VesselLabel]:
    """Every vessel in the order of work; one that serves all sittings comes once."""
    for sitting, new, _ in prepared_by_sitting(view):
        for sample in new:
            for name in vessels_of(sample):
                yield VesselLabel(
                    name,
                    _when(view, sitting, sample),
                    sample.label,
                    _level(sample),
                    sample.recipe.stock if sample.recipe else sample.addition,
                    view.beer,
                    _use_within(sample),
                )


def _when(view: PaperView, sitting: PaperSitting, sample: PaperSample) -> str:
    """``26 Nov 2026``; ``26 Nov 2026, 10:30`` where another sitting has vessels of its own."""
    day = f"{view.session_on.day} {view.session_on:%b %Y}"
    if is_shared(sample) or len(view.sittings) == 1:
        return day
    return f"{day}, {clock(sitting.starts_at) or sitting.label}"


def _level(sample: PaperSample) -> str:
    level = sample.recipe.level if sample.recipe else sample.level
    return "" if level is None else multiple(float(level))


def _use_within(sample: PaperSample) -> str:
    hours = sample.recipe.keeps_h if sample.recipe else None
    return "" if hours is None else f"use within {float(hours):g} h"
