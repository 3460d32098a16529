"""A ladder of shots from what stands on the bench: meant levels beside the real ones."""

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from seatworthy.phrases import multiple
from seatworthy.sessions.doses.amounts import ul_words
from seatworthy.sessions.doses.equipment import Container, Pipette
from seatworthy.sessions.doses.ladder import Rung, ladder
from seatworthy.sessions.doses.stock import SOLUTION, Stock
from seatworthy.steps.bench_facts import containers, pipettes, stocks
from seatworthy.steps.bench_reading import Asked, read_figure, refuse
from seatworthy.steps.desk import Desk
from seatworthy.steps.views import Choice

_MOST_SHOTS: Final = 24


@dataclass(frozen=True)
class AskedLadder:
    """What is shot into what.

    Attributes:
        stock_id: The stock.
        beer: Key of the base beer; "" for none.
        container_id: The kind of vessel.
        pipette_id: The pipette.
        setting: What it is set to, microlitres, as typed.
        counts: Numbers of shots as typed, "1 2 3 4".
    """

    stock_id: str
    beer: str
    container_id: str
    pipette_id: str
    setting: str
    counts: str


@dataclass(frozen=True)
class RungLine:
    """One number of shots, every figure in words; "" where nothing is known."""

    shots: str
    amount: str
    meant: str
    really: str
    between: str
    counts: str


@dataclass(frozen=True)
class LadderView:
    """The rungs, fewest shots first, and what the trainer should know."""

    rungs: tuple[RungLine, ...]
    notes: tuple[str, ...]


def ladder_beers(desk: Desk) -> list[Choice]:
    """Base beers to choose from."""
    return [Choice(row["beer"], row["label"]) for row in desk.store.rows("beers_with_family")]


def ladder_view(desk: Desk, asked: AskedLadder) -> LadderView:
    """Work out a ladder.

    Raises:
        PanelError: if something is gone from the bench, a figure will not do, the working threshold is
            missing, or the pipette can't be set so.
    """
    stock = next((one for one in stocks(desk) if one.stock_id == asked.stock_id), None)
    pipette = next((one for one in pipettes(desk) if one.pipette_id == asked.pipette_id), None)
    container = next(
        (one for one in containers(desk) if one.container_id == asked.container_id), None
    )
    if stock is None or pipette is None or container is None:
        message = "Choose a stock, a pipette and a vessel that stand on the bench."
        raise refuse(message)
    return _worked_out(desk, asked, stock, pipette, container)


def _worked_out(
    desk: Desk, asked: AskedLadder, stock: Stock, pipette: Pipette, container: Container
) -> LadderView:
    threshold, background = _of_beer(desk, stock, asked.beer)
    setting, counting = _setting(asked.setting, pipette), desk.rulebook.counted
    counted = Decimal(str(counting.lowest_level)), Decimal(str(counting.highest_level))
    found = ladder(
        stock,
        pipette,
        setting,
        _counts(asked.counts),
        container,
        background,
        counted,
        threshold,
    )
    rungs = tuple(_line(rung, setting, counted[0]) for rung in found.rungs)
    return LadderView(rungs, found.notes)


def _of_beer(desk: Desk, stock: Stock, beer: str) -> tuple[Decimal | None, Decimal]:
    """Working threshold for the beer's family, and what the beer holds, in multiples of it."""
    family = {row["beer"]: row["family"] for row in desk.store.rows("beers_with_family")}.get(
        beer, ""
    )
    day = desk.today()
    thresholds = desk.store.rows("thresholds_on", family=family, on_day=day)
    threshold = {row["compound"]: row["threshold_ug_l"] for row in thresholds}.get(stock.compound)
    if threshold is None:
        if stock.kind == SOLUTION:
            message = (
                f"{stock.label[:1].upper()}{stock.label[1:]}: state the compound's working threshold on "
                "the shelf first; levels are multiples of it."
            )
            raise refuse(message)
        return None, Decimal(0)
    held = {
        (row["beer"], row["compound"]): row["background_ug_l"]
        for row in desk.store.rows("shelf_backgrounds", on_day=day)
    }.get((beer, stock.compound))
    return threshold, (held or Decimal(0)) / threshold


def _setting(written: str, pipette: Pipette) -> Decimal:
    asked = Asked("The setting", "µl", pipette.smallest_ul, pipette.largest_ul)
    return read_figure(asked, written)


def _counts(written: str) -> tuple[int, ...]:
    """Numbers of shots, the fewest first, each once."""
    words = re.findall(r"[^\s,;]+", written)
    if not words or not all(word.isdecimal() and 0 < int(word) <= _MOST_SHOTS for word in words):
        message = (
            f"Write numbers of shots from 1 to {_MOST_SHOTS}, parted by spaces: 1 2 3 4. "
            f"Got “{written}”."
        )
        raise refuse(message)
    return tuple(sorted({int(word) for word in words}))


def _line(rung: Rung, setting_ul: Decimal, lowest: Decimal) -> RungLine:
    level = float(rung.level)
    off = rung.level_off
    return RungLine(
        shots=f"{rung.count} {'shot' if rung.count == 1 else 'shots'}",
        amount=ul_words(setting_ul * rung.count),
        meant="" if rung.nominal is None else multiple(float(rung.nominal)),
        really=_exact(level),
        between=f"{max(level - off, 0):.2f} to {_exact(level + off)}",
        counts="yes"
        if rung.counts
        else "no, too weak"
        if rung.level < lowest
        else "no, too strong",
    )


def _exact(level: float) -> str:
    """A level with the figures that tell a real one from a meant one: "2.73×"."""
    return f"{level:.2f}×"
