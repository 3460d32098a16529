"""Was something in a glass that should have held plain beer? If many call, suspect the jug."""

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import logsumexp
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.call_nodes import CallNodes
from seatworthy.stats.ability.glasses import (
    NAMING,
    NOTHING,
    UNNAMED,
    Blanks,
    Glasses,
    Outcome,
    check_shapes,
)
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.history import History, Places
from seatworthy.stats.ability.sample_check import (
    NOT_DOSED,
    Limits,
    expected_of_all,
    log_evidence,
)
from seatworthy.stats.ability.settings import DEFAULT, Settings

PARTS: Final = (1.0, 0.5, 0.25)  # of the reference level, alike likely: dosed, or carried over
NOTICED_BY: Final = 0.5  # share of people who notice a taint that is on no list; assumed

BLANK_ABOVE: Final[Limits] = ((8, 1.0), (3, 2.0))
"""`log_something` above which a blank is suspect, by the least number of tasters.

From simulated panels (tests/bench/bench_sample_check.py with 30 worlds, 1,200 samples a row,
standard errors up to .014) with 3 / 4 / 6 / 8 / 12 tasters: clean ones suspected .008 .014 .007
.008 .007; found of those with a compound at 3 times the threshold .89 .93 .99 .99 1, at 1 time
.47 .60 .71 .79 .89, with something that half of the people notice .50 .52 .71 .85 .92.
"""


@dataclass(frozen=True)
class PouredBlanks:
    """Answers to glasses in which nothing should have been, in any order; every array (Z,).

    Attributes:
        day: Days since 1970-01-01.
        person: Place on the person axis.
        family: Place on the beer-family axis.
        sample: Which preparation the glass came from; those below 0 are not looked at. A sample
            is one beer poured on one day.
        said: Place of the compound named; `NOTHING`, or `UNNAMED` for something without the name
            of one of the compounds.

    Raises:
        ValueError: if shapes differ or `said` lies below `UNNAMED`.
    """

    day: NDArray[np.int64]
    person: NDArray[np.int64]
    family: NDArray[np.int64]
    sample: NDArray[np.int64]
    said: NDArray[np.int64]

    def __post_init__(self) -> None:
        check_shapes(**vars(self))
        if np.any(self.said < UNNAMED):
            msg = f"What was said is a place, {NOTHING} or {UNNAMED}, got {self.said.min()}."
            raise ValueError(msg)

    def where(self, chosen: NDArray[np.bool_]) -> "PouredBlanks":
        """Only some of the glasses."""
        return PouredBlanks(*(getattr(self, field.name)[chosen] for field in fields(self)))


@dataclass(frozen=True)
class BlankCheck:
    """How the answers to each of S blank samples speak about what was in it; every array (S,).

    Log factors are natural logarithms of Bayes factors against "nothing in it".

    Attributes:
        sample: The numbers that were given for the samples, ascending.
        tasters: Different people who answered.
        calls: Glasses in which something was called.
        log_spiked: One of the compounds named was in it, at the reference level or a part of it
            (`PARTS`); every compound of the panel was as likely before as any other. -inf where
            none was named.
        log_tainted: Something that is on no list was in it, which half of the people notice, by
            whatever name.
        log_something: Either of the two, as likely before as each other.
        compound: Place of the compound that explains the answers best; -1 where none was named.
    """

    sample: NDArray[np.int64]
    tasters: NDArray[np.int64]
    calls: NDArray[np.int64]
    log_spiked: Floats
    log_tainted: Floats
    log_something: Floats
    compound: NDArray[np.int64]


def check_blanks(
    glasses: Glasses,
    blanks: Blanks,
    poured: PouredBlanks,
    shape: tuple[int, int, int],
    settings: Settings = DEFAULT,
) -> BlankCheck:
    """Look at every blank sample with what was known about its tasters before that day.

    A person's false calls are those of the blanks before that day, so that no call explains
    itself away.

    Args:
        glasses: Answered spiked glasses.
        blanks: All answered blanks.
        poured: The same blanks as far as it is known which sample they came from and what was
            said; shape (Z,).
        shape: Numbers of people, compounds and beer families.
        settings: Numbers of the model.

    Raises:
        ValueError: if a name lies outside the compounds.
    """
    if np.any(poured.said >= shape[1]):
        msg = f"A name lies outside 0 to {shape[1] - 1}."
        raise ValueError(msg)
    found: dict[int, tuple[float, ...]] = {}
    nodes, samples = CallNodes(blanks, settings), poured.where(poured.sample >= 0)
    with threadpool_limits(limits=1):
        for history, day, number in _read_in_order(glasses, blanks, samples, shape, settings):
            one = samples.where(samples.sample == number)
            found[number] = _look_at(history, day, one, nodes.on(one.person, one.day - 1))
    columns = np.array([found[number] for number in sorted(found)]).reshape(-1, 6).T
    return BlankCheck(
        np.array(sorted(found), dtype=np.int64),
        *columns[:2].astype(np.int64),
        *columns[2:5],
        columns[5].astype(np.int64),
    )


def _read_in_order(
    glasses: Glasses,
    blanks: Blanks,
    samples: PouredBlanks,
    shape: tuple[int, int, int],
    settings: Settings,
) -> Iterator[tuple[History, int, int]]:
    """Every sample's number with a history of the days before and the day to read it on.

    A history can be read on days with spiked glasses and on its last; a sample poured on another
    day is read on the day with glasses before it.
    """
    last = int(max(glasses.day.max(initial=0), samples.day.max(initial=0)))
    room = (max(shape[0], 1), max(shape[1], 1), max(shape[2], 1))
    history = History(glasses, blanks, room, last, settings, reads_all=True)
    numbers, first = np.unique(samples.sample, return_index=True)
    poured_on, before = samples.day[first], None
    for day in [*history.days.tolist(), None]:
        until = last + 1 if day is None else day
        at = poured_on <= until
        for number, on in zip(numbers[at].tolist(), poured_on[at].tolist(), strict=True):
            is_covered = on in (day, last) or before is None
            yield history, (min(until, last) if is_covered else before), number
        numbers, poured_on, before = numbers[~at], poured_on[~at], day
        if day is not None:
            history.absorb(day)


def _look_at(history: History, day: int, one: PouredBlanks, node: Places) -> tuple[float, ...]:
    """The columns of a `BlankCheck` for one sample."""
    called = one.said != NOTHING
    tainted = _log_tainted(called, node, history.settings)
    named = np.unique(one.said[one.said >= 0])
    factors = np.array([_log_spiked(history, day, one, node, j) for j in named.tolist()])
    spiked = float(logsumexp(np.append(factors, -np.inf)) - np.log(history.shape[1]))
    something = float(np.logaddexp(spiked, tainted) - np.log(2))
    best = int(named[factors.argmax()]) if named.size else -1
    return np.unique(one.person).size, called.sum(), spiked, tainted, something, best


def _log_spiked(
    history: History, day: int, one: PouredBlanks, node: Places, compound: int
) -> float:
    """Log factor of one compound, averaged over the parts, against nothing."""
    settings = history.settings
    outcome = np.select(
        [one.said == compound, one.said == NOTHING, one.said == UNNAMED],
        [Outcome.RIGHT, Outcome.NONE, Outcome.OPEN],
        Outcome.WRONG,
    )
    level = np.full(one.day.shape, settings.reference_level)
    method, same = np.full(one.day.shape, NAMING), np.full(one.day.shape, compound)
    glasses = Glasses(one.day, one.person, same, one.family, method, level, 0 * level, outcome)
    joint, _ = expected_of_all(history, compound, int(one.family[0]), day)
    joint = joint[one.person]
    nothing, *something = (
        log_evidence(joint, node, glasses, part, settings) for part in (NOT_DOSED, *PARTS)
    )
    return float(logsumexp(something) - np.log(len(PARTS)) - nothing)


def _log_tainted(called: NDArray[np.bool_], node: Places, settings: Settings) -> float:
    """Log factor of something that some people notice, whatever they call it."""
    alarm = build_grid(settings).calls[node]
    noticed = (NOTICED_BY + (1 - NOTICED_BY) * alarm) / alarm
    return float(np.log(np.where(called, noticed, 1 - NOTICED_BY)).sum())
