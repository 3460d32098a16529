"""Which vessels a sample has at a sitting, and how their names stand in a row."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from seatworthy.paper.wording import letters
from seatworthy.steps.paper_views import PaperSample, PaperSitting, PaperView

_MOST_LISTED: Final = 4


def vessels_of(sample: PaperSample) -> tuple[str, ...]:
    """Names of its vessels; its letter where no recipe names them."""
    return sample.recipe.vessels if sample.recipe else (sample.mark,)


def is_shared(sample: PaperSample) -> bool:
    """Whether its vessels serve all sittings."""
    return sample.recipe is not None and sample.recipe.is_shared


def prepared_by_sitting(
    view: PaperView,
) -> Iterator[tuple[PaperSitting, tuple[PaperSample, ...], tuple[PaperSample, ...]]]:
    """Each sitting with the samples prepared for it, and those that an earlier one left ready."""
    ready: set[str] = set()
    for sitting in view.sittings:
        left = tuple(s for s in sitting.samples if is_shared(s) and s.mark in ready)
        yield sitting, tuple(s for s in sitting.samples if s not in left), left
        ready |= {sample.mark for sample in sitting.samples if is_shared(sample)}


def run_of(names: Sequence[str]) -> str:
    """``A1, A2``; more than four that run on are ``A1 to A6``."""
    if len(names) > _MOST_LISTED and _runs_on(names):
        return f"{names[0]} to {names[-1]}"
    return ", ".join(names)


def names_of(samples: Sequence[PaperSample]) -> str:
    """Vessels inside a sentence: ``A1 and A2``; ``A1 to A6 and B1``."""
    parts: list[str] = []
    for sample in samples:
        names = vessels_of(sample)
        is_run = len(names) > _MOST_LISTED and _runs_on(names)
        parts += [run_of(names)] if is_run else names
    return letters(parts)


def _runs_on(names: Sequence[str]) -> bool:
    """Whether the names differ only in a number at the end that goes up by one."""
    found = [re.fullmatch(r"(\D+)(\d+)", name) for name in names]
    pairs = [(match[1], int(match[2])) for match in found if match]
    first, start = pairs[0] if pairs else ("", 0)
    return pairs == [(first, start + away) for away in range(len(names))]
