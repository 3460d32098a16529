"""What stands on the bench, read for its page."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Any, Final

from seatworthy.sessions.doses.amounts import strength_words, ul_words
from seatworthy.sessions.doses.equipment import BOTTLE, PITCHER
from seatworthy.sessions.doses.keeping import keeps_h
from seatworthy.sessions.doses.stock import UNIT, Stock, stock_fault
from seatworthy.steps.bench_equipment import range_words
from seatworthy.steps.bench_facts import Limit, highest_level, limits_on, stock_of
from seatworthy.steps.bench_limits import limit_words
from seatworthy.steps.bench_reading import plain
from seatworthy.steps.bench_sentences import bench_sentences, first_things, stock_state
from seatworthy.steps.bench_states import amount_words
from seatworthy.steps.bench_views import (
    BenchView,
    ContainerLine,
    LimitLine,
    PipetteLine,
    StockLine,
)
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import choice_label, short_label
from seatworthy.steps.sentences import sentence_start

_SERVED_FROM: Final = MappingProxyType({"prediluted": "only from a bought food-grade dilution"})
_STRONG, _WEAK = Decimal(3), Decimal(1)
_NONE_STATED: Final = (None, None)


def bench(desk: Desk) -> BenchView:
    """The whole bench as it stands now."""
    today = desk.today()
    rows = desk.store.rows("bench_stocks")
    stocks = [(stock_of(row), row["full_amount"]) for row in rows]
    pipettes, containers = tuple(_pipettes(desk)), tuple(_containers(desk))
    care = {row["compound"]: row for row in desk.store.rows("compound_care")}
    answer, catch, lead = bench_sentences(stocks, today)
    return BenchView(
        answer=answer,
        catch=catch,
        lead=lead,
        today=today,
        first_things=first_things(
            has_stock=bool(rows),
            has_container=any(line.is_in_use for line in containers),
            has_pipette=any(line.is_in_use for line in pipettes),
        ),
        stocks=tuple(_stock_lines(rows, care, today)),
        pipettes=pipettes,
        containers=containers,
        limits=tuple(sorted(_limits(desk, care, today), key=lambda line: line.label.casefold())),
    )


def _stock_lines(
    rows: list[dict[str, Any]], care: Mapping[str, Mapping[str, Any]], today: date
) -> Iterator[StockLine]:
    """By compound; in each, what may be used comes first."""
    labels = {row["stock_id"]: row["label"] for row in rows}
    lines = [
        _stock_line(row, care[row["compound"]], labels.get(row["made_from"], ""), today)
        for row in rows
    ]
    yield from sorted(
        lines, key=lambda line: (line.compound_label.casefold(), line.is_used_up, bool(line.fault))
    )


def _stock_line(
    row: Mapping[str, Any], care: Mapping[str, Any], parent: str, today: date
) -> StockLine:
    stock = stock_of(dict(row))
    fault = _without_name(stock_fault(stock, today, row["serve"]), stock.label)
    return StockLine(
        stock_id=stock.stock_id,
        compound=stock.compound,
        compound_label=short_label(care["label"]),
        label=stock.label,
        lot=stock.lot,
        kind=stock.kind,
        strength=strength_words(stock),
        opened_on=stock.opened_on,
        expires_on=stock.expires_on,
        left=_left_words(stock, row["full_amount"]),
        left_figure=stock.left,
        is_used_up=stock.is_used_up,
        fault=fault,
        state="" if fault else stock_state(stock, row["full_amount"], today),
        notes="; ".join(_notes(stock, row, parent)),
        care="; ".join(filter(None, [_SERVED_FROM.get(care["serve"], ""), care["safety"]])),
    )


def _without_name(fault: str, label: str) -> str:
    """A fault as it stands in the stock's own row, which names it already."""
    return sentence_start(fault[len(label) :].lstrip()) if fault else ""


def _left_words(stock: Stock, full: Decimal | None) -> str:
    """What is left of how much, "0.7 of 1 ml"; "" if nobody knows."""
    if stock.is_used_up or stock.left is None:
        return ""
    if full is None:
        return amount_words(stock.kind, stock.left)
    if stock.kind == UNIT:
        return f"{plain(stock.left)} of {amount_words(UNIT, full)}"
    number, unit = ul_words(full).split(" ")
    one = Decimal(1000) if unit == "ml" else Decimal(1)
    return f"{plain(round(stock.left / one, 3))} of {number} {unit}"


def _notes(stock: Stock, row: Mapping[str, Any], parent: str) -> Iterator[str]:
    if parent:
        yield f"{ul_words(row['taken_ul'])} of {parent} made up to {ul_words(row['made_ul'])}"
    if stock.ethanol_percent:
        yield f"{plain(stock.ethanol_percent)}% ethanol"
    if stock.is_bought_dilution and not parent:
        yield "bought as a dilution"
    if stock.is_narrow:
        yield "narrow vial, fine tip only"
    if stock.dead_ul:
        yield f"{ul_words(stock.dead_ul)} stay in the vial"
    if stock.strength_off_percent:
        yield f"strength sure within {plain(stock.strength_off_percent)}%"


def _pipettes(desk: Desk) -> Iterator[PipetteLine]:
    for row in desk.store.rows("bench_pipettes"):
        yield PipetteLine(
            pipette_id=row["pipette_id"],
            label=row["label"],
            settings=range_words(row),
            tip="fine, reaches into a narrow vial" if row["is_fine"] else "usual",
            accuracy=_accuracy(row),
            is_in_use=row["is_in_use"],
            smallest=plain(row["smallest_ul"]),
            largest=plain(row["largest_ul"]),
            step=plain(row["step_ul"]),
            is_fine=row["is_fine"],
            bias=_figure(row["bias_ul"]),
            spread=_figure(row["spread_ul"]),
        )


def _accuracy(row: Mapping[str, Any]) -> str:
    if row["bias_ul"] is None:
        return "limits after ISO 8655-2"
    return f"own calibration: systematic {plain(row['bias_ul'])} µl, random {plain(row['spread_ul'])} µl"


def _containers(desk: Desk) -> Iterator[ContainerLine]:
    for row in desk.store.rows("bench_containers"):
        yield ContainerLine(
            container_id=row["container_id"],
            label=row["label"],
            kind=row["kind"],
            content=plain(row["content_ml"]),
            fill_off=_figure(row["fill_off_ml"]),
            headspace=_figure(row["headspace_ml"]),
            dead=_figure(row["dead_ml"]),
            is_in_use=row["is_in_use"],
        )


def _figure(number: Decimal | None) -> str:
    """A figure as it stands in a form; "" for none and for nothing."""
    return plain(number) if number else ""


def _limits(desk: Desk, care: Mapping[str, Mapping[str, Any]], today: date) -> Iterator[LimitLine]:
    stated = limits_on(desk, today)
    for compound, row in care.items():
        if row["serve"] == "no":
            continue
        own = stated.get(compound)
        is_stated = own is not None and own != Limit(since=own.since)
        yield LimitLine(
            compound=compound,
            label=choice_label(row["label"]),
            usual=_usual(row["keeping"]),
            own=own if is_stated else None,
            own_words=_hours_words(own) if own is not None and is_stated else "",
            ceiling=highest_level(own),
        )


def _hours_words(own: Limit) -> str:
    """The brewery's own hours; its strongest level stands in a column of its own."""
    hours = replace(own, highest_level=None, since=None)
    return "" if hours == Limit() else limit_words(hours)


def _usual(keeping: str) -> str:
    """Hours that are usual, in a capped bottle and in an open pitcher."""
    bottle, weak, pitcher = (
        plain(keeps_h(keeping, level, kind, _NONE_STATED))
        for level, kind in ((_STRONG, BOTTLE), (_WEAK, BOTTLE), (_STRONG, PITCHER))
    )
    capped = f"{bottle} hours" if weak == bottle else f"{bottle} hours, weak {weak}"
    return f"capped {capped}; open pitcher {pitcher}"
