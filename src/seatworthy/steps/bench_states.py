"""States what became of a stock: opened, its last day, what is left, used up; and passes it on."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from seatworthy.sessions.doses.amounts import ul_words
from seatworthy.sessions.doses.stock import UNIT
from seatworthy.steps.bench_facts import stock_of
from seatworthy.steps.bench_reading import (
    HIGHEST_UL,
    MICROLITRES,
    Asked,
    check_expiry,
    check_past_day,
    plain,
    read_figure,
    read_whole,
    refuse,
)
from seatworthy.steps.bench_writing import KIND
from seatworthy.steps.desk import Desk
from seatworthy.steps.sentences import (
    day_in_sentence,
    joined,
    number_word,
    sentence_start,
)
from seatworthy.steps.shelf_writing import NOTHING_NEW
from seatworthy.steps.signing import sign
from seatworthy.store.recording import Recording

Row = Mapping[str, Any]


def open_stock(desk: Desk, stock_id: str, on: date | None, *, by: str | None = None) -> str:
    """State the day on which a stock was opened; None: it is closed after all.

    Raises:
        PanelError: if there is no such stock, or the day is still to come.
    """
    if on is not None:
        check_past_day("The day on which it was opened", on, desk.today())
    with desk.store.recording(KIND) as act:
        row = _stock(desk, stock_id)
        if on == row["opened_on"]:
            return NOTHING_NEW
        _record(act, [_state(row, opened_on=on)], by)
    if on is None:
        return f"{_name(row)} counts as closed."
    return f"{_name(row)} counts as opened on {day_in_sentence(on, desk.today())}."


def set_expiry(desk: Desk, stock_id: str, on: date | None, *, by: str | None = None) -> str:
    """State the last day on which a stock may be used, and of what was made from it.

    A dilution that had its parent's last day goes along with it; another one only where it would
    outlive its parent. Answers given to what was dosed later stay on record and are marked.

    Args:
        desk: The open store.
        stock_id: The stock.
        on: The last day; None if nobody knows.
        by: Who states it.

    Raises:
        PanelError: if there is no such stock, nobody can mean that day, or it changes which answers
            count and nobody signs.
    """
    check_expiry(on)
    with desk.store.recording(KIND) as act:
        row = _stock(desk, stock_id)
        if on == row["expires_on"]:
            return NOTHING_NEW
        changed = [(row, on), *_passed_on(desk.store.rows("bench_stocks"), row, on)]
        moved = _moved(desk, changed)
        if any(moved) and by is None:
            message = (
                "Say who states it: that day changes which answers count, of sessions that were dosed "
                "from it."
            )
            raise refuse(message)
        _record(act, [_state(one, expires_on=day) for one, day in changed], by)
    return " ".join(filter(None, [_expiry_words(desk, changed), *_moved_words(desk, moved)]))


def found_left(
    desk: Desk, stock_id: str, amount: str | Decimal, unit: str = "ml", *, by: str | None = None
) -> str:
    """State how much somebody found to be left in a vial; later doses are taken off that.

    Args:
        desk: The open store.
        stock_id: The stock.
        amount: A number; of whole units, which have no unit.
        unit: "µl" or "ml".
        by: Who found it.

    Raises:
        PanelError: if there is no such stock, or the amount is no number or more than it held.
    """
    with desk.store.recording(KIND) as act:
        row = _stock(desk, stock_id)
        left = _left(row, amount, unit)
        _record(act, [_state(row, left_amount=left)], by)
    return f"{amount_words(row['kind'], left)} left of {row['label']}."


def use_up(desk: Desk, stock_id: str, *, by: str | None = None) -> str:
    """State that nothing is left of a stock, whatever was counted.

    Raises:
        PanelError: if there is no such stock.
    """
    with desk.store.recording(KIND) as act:
        row = _stock(desk, stock_id)
        if row["is_used_up"]:
            return NOTHING_NEW
        _record(act, [_state(row, is_used_up=True)], by)
    return f"{_name(row)} is used up."


def take_back_used_up(desk: Desk, stock_id: str, *, by: str | None = None) -> str:
    """State that a stock isn't used up after all; what was counted as left holds again.

    Raises:
        PanelError: if there is no such stock.
    """
    with desk.store.recording(KIND) as act:
        row = _stock(desk, stock_id)
        if not row["is_used_up"]:
            return NOTHING_NEW
        _record(act, [_state(row, is_used_up=False)], by)
    left = stock_of(dict(row)).left
    of_it = "" if left is None else f": {amount_words(row['kind'], left)} left"
    return f"{_name(row)} is not used up{of_it}."


def amount_words(kind: str, amount: Decimal) -> str:
    """What is left, "0.7 ml" or "30 units"; nothing at all is "0 µl"."""
    if kind == UNIT:
        return f"{plain(amount)} {'unit' if amount == 1 else 'units'}"
    return ul_words(amount) if amount else "0 µl"


def _left(row: Row, amount: str | Decimal, unit: str) -> Decimal:
    left, full = _amount(row, amount, unit), row["full_amount"]
    if full is not None and left > full:
        message = (
            f"{_name(row)} held {amount_words(row['kind'], full)} when it was full, got "
            f"{amount_words(row['kind'], left)}. Look at the unit."
        )
        raise refuse(message)
    return left


def _amount(row: Row, amount: str | Decimal, unit: str) -> Decimal:
    if row["kind"] == UNIT:
        return read_whole("The number of units that are left", amount, lowest=0)
    if unit not in MICROLITRES:
        message = f"{unit!r} is none of {', '.join(MICROLITRES)}."
        raise ValueError(message)
    most = HIGHEST_UL / MICROLITRES[unit]
    asked = Asked("What is left", unit, Decimal(0), most, places=6)
    return read_figure(asked, amount) * MICROLITRES[unit]


def _passed_on(
    rows: Sequence[Row], parent: Row, on: date | None
) -> Iterator[tuple[Row, date | None]]:
    """Dilutions, and dilutions of them, whose last day moves with their parent's."""
    for row in rows:
        if row["made_from"] != parent["stock_id"]:
            continue
        own = row["expires_on"]
        goes_along = own == parent["expires_on"] or (on is not None and (own is None or own > on))
        if goes_along and own != on:
            yield row, on
            yield from _passed_on(rows, row, on)


def _state(row: Row, **changed: object) -> dict[str, object]:
    """The whole next state of a stock; what isn't said anew stays."""
    kept = {name: row[name] for name in ("stock_id", "opened_on", "expires_on", "is_used_up")}
    return {"left_amount": None, **kept, **changed}


def _expiry_words(desk: Desk, changed: Sequence[tuple[Row, date | None]]) -> str:
    (row, on), *others = changed
    rest = ""
    if others:
        verb = "goes" if len(others) == 1 else "go"
        rest = f"; {number_word(len(others))} made from it {verb} along"
    if on is None:
        return f"Nobody knows the last day of {row['label']}{rest}."
    return f"{_name(row)} may be used until {day_in_sentence(on, desk.today())}{rest}."


def _moved(
    desk: Desk, changed: Sequence[tuple[Row, date | None]]
) -> tuple[frozenset[date], frozenset[date]]:
    """Days of sessions dosed from it whose answers stop counting, and whose answers count again."""
    last = {row["stock_id"]: (row["expires_on"], day) for row, day in changed}
    stop, again = set(), set()
    for used in desk.store.rows("bench_sessions"):
        before, after = last.get(used["stock_id"], (None, None))
        was_past = before is not None and used["session_on"] > before
        is_past = after is not None and used["session_on"] > after
        if is_past and not was_past:
            stop.add(used["session_on"])
        if was_past and not is_past:
            again.add(used["session_on"])
    return frozenset(stop), frozenset(again)


def _moved_words(desk: Desk, moved: tuple[frozenset[date], frozenset[date]]) -> Iterator[str]:
    stop, again = (
        joined([day_in_sentence(day, desk.today()) for day in sorted(days)]) for days in moved
    )
    if stop:
        yield (
            f"It was dosed after that on {stop}: those answers stay on record, are marked, and don't "
            "count for a seat."
        )
    if again:
        yield f"What was dosed from it on {again} counts again."


def _record(act: Recording, states: Sequence[Mapping[str, object]], by: str | None) -> None:
    act.add_all(("stock_state", state) for state in states)
    sign(act, by)


def _stock(desk: Desk, stock_id: str) -> Row:
    for row in desk.store.rows("bench_stocks"):
        if row["stock_id"] == stock_id:
            return row
    message = "There is no such stock on the bench: choose one of the list."
    raise refuse(message)


def _name(row: Row) -> str:
    return sentence_start(row["label"])
