"""What of a session stays together when it is shared out: pairs and whole series."""

from collections import Counter
from dataclasses import dataclass

from seatworthy.sessions.asking import Asking
from seatworthy.sessions.series import series_marks
from seatworthy.sessions.wish import SETS


@dataclass(frozen=True)
class Share:
    """Something spiked that one person tastes as a whole, or not at all.

    Attributes:
        compound: Compound key.
        marks: A letter for each place it takes; of a series, in the order of serving.
        is_series: Whether it is a series of sets.
    """

    compound: str
    marks: tuple[str, ...]
    is_series: bool = False


def shares(asking: Asking, *, with_series: bool = True) -> tuple[Share, ...]:
    """Everything spiked, in the order of the wish, the series last.

    Args:
        asking: A wish that has no fault.
        with_series: Whether series are shared out too.
    """
    named = tuple(
        Share(sample.compound, (sample.mark,) * sample.glasses)
        for sample in asking.samples
        if sample.compound is not None and sample.method not in SETS
    )
    if not with_series:
        return named
    series = series_marks(asking.samples).items()
    return named + tuple(Share(compound, marks, is_series=True) for compound, marks in series)


def fullest_share(asking: Asking) -> int:
    """Places of the largest share; 0 if nothing is spiked."""
    counts: Counter[str] = Counter()
    for sample in asking.samples:
        if sample.compound is not None:
            key = f"series {sample.compound}" if sample.method in SETS else sample.mark
            counts[key] += sample.glasses
    return max(counts.values(), default=0)
