"""What each person tastes in a flight: some of what is spiked, and blanks beside it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from seatworthy.sessions.asking import Asking
from seatworthy.sessions.blocks import Item, Taster, share_out
from seatworthy.sessions.draw import Draw
from seatworthy.sessions.shares import Share, fullest_share, shares


@dataclass(frozen=True)
class Flight:
    """What one person tastes, before it has an order.

    Attributes:
        taster: Whose it is.
        marks: Letters of the single glasses, a letter once for each glass of it.
        series: The series of sets.
    """

    taster: Taster
    marks: tuple[str, ...]
    series: tuple[Share, ...]


def flights(
    asking: Asking, tasters: Sequence[Taster], draw: Draw, *, with_series: bool = True
) -> list[Flight]:
    """Share a session out.

    Every flight holds a blank if the wish pours any; blanks also fill places that nothing else can.

    Args:
        asking: A wish with a flight, and without fault.
        tasters: Who tastes.
        draw: The source of chance.
        with_series: Whether sets are shared out too.
    """
    if asking.flight is None:
        message = "nothing is shared out if everybody tastes everything"
        raise ValueError(message)
    parts = shares(asking, with_series=with_series)
    items = [Item(part.compound, len(part.marks)) for part in parts]
    spiked = asking.flight - _blank_places(asking, parts)
    blocks = share_out(items, tasters, spiked, asking.past, draw)
    return [
        _flight(asking, taster, [parts[item] for item in block], number)
        for number, (taster, block) in enumerate(zip(tasters, blocks, strict=True))
    ]


def _flight(asking: Asking, taster: Taster, parts: Sequence[Share], number: int) -> Flight:
    left = (asking.flight or 0) - sum(len(part.marks) for part in parts)
    named = [mark for part in parts if not part.is_series for mark in part.marks]
    return Flight(
        taster,
        (*named, *_blanks(asking, left, number)),
        tuple(part for part in parts if part.is_series),
    )


def _blank_places(asking: Asking, parts: Sequence[Share]) -> int:
    """Blanks in a flight: their share of the whole session, at least one, so that the rest fits."""
    blanks, flight = sum(sample.glasses for sample in asking.blanks), asking.flight or 0
    if blanks == 0:
        return 0
    share = round(blanks * flight / asking.places)
    most = min(blanks, flight - fullest_share(asking))
    fitting = [n for n in range(1, most + 1) if flight - n in _sums(parts)]
    return min(fitting or range(1, most + 1), key=lambda n: abs(n - share))


def _sums(parts: Sequence[Share]) -> set[int]:
    """How many places some of the parts can fill."""
    sums = {0}
    for part in parts:
        sums |= {filled + len(part.marks) for filled in sums}
    return sums


def _blanks(asking: Asking, wanted: int, number: int) -> Iterator[str]:
    """Letters of so many blanks, whole pairs first; which sample begins moves on by person."""
    poured = [sample for sample in asking.blanks if sample.glasses > 0]
    turn = number % len(poured) if poured else 0
    left = wanted
    single = []
    for sample in poured[turn:] + poured[:turn]:
        if sample.glasses <= left:
            yield from (sample.mark,) * sample.glasses
            left -= sample.glasses
        else:
            single.append(sample)
    for sample in single:
        count = min(left, sample.glasses)
        yield from (sample.mark,) * count
        left -= count
