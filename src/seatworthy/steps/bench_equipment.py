"""States the pipettes and the kinds of vessels that stand on the bench."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from secrets import token_hex
from types import MappingProxyType
from typing import Any, Final

from seatworthy.intake.words import fold
from seatworthy.sessions.doses.equipment import KINDS
from seatworthy.steps.bench_reading import (
    Asked,
    plain,
    read_figure,
    read_figure_or,
    read_word,
    refuse,
)
from seatworthy.steps.bench_writing import KIND
from seatworthy.steps.desk import Desk
from seatworthy.steps.sentences import sentence_start
from seatworthy.steps.shelf_writing import NOTHING_NEW
from seatworthy.steps.signing import sign
from seatworthy.store.recording import Recording

_NOTHING: Final = Decimal(0)
_LARGEST_UL: Final = Decimal(10_000)  # piston pipettes go up to 10 ml
_LARGEST_ML: Final = Decimal(100_000)
# Query and id of what stands in a table.
_TABLES: Final = MappingProxyType(
    {
        "pipette": ("bench_pipettes", "pipette_id"),
        "container": ("bench_containers", "container_id"),
    }
)


@dataclass(frozen=True)
class TypedPipette:
    """A pipette as somebody typed it; microlitres.

    Attributes:
        label: "blue 100".
        smallest: Lowest setting.
        largest: Highest setting; the same as the lowest for a fixed one.
        step: Between two settings.
        is_fine: Whether its tip reaches the bottom of a narrow vial.
        bias: Greatest systematic error of its own calibration; "" for the limit after ISO 8655-2.
        spread: Random error likewise; stated together with `bias`.
    """

    label: str
    smallest: str
    largest: str
    step: str
    is_fine: bool = False
    bias: str = ""
    spread: str = ""


@dataclass(frozen=True)
class TypedContainer:
    """A kind of vessel as somebody typed it; millilitres.

    Attributes:
        label: "bottle 330 ml".
        kind: One of `sessions.doses.equipment.KINDS`.
        content: Beer in it with the dose.
        fill_off: How far the filling may be off; "" if nobody knows.
        headspace: How much may be added before it overflows; "" for nothing.
        dead: What can't be poured out of it; "" for nothing.
    """

    label: str
    kind: str
    content: str
    fill_off: str = ""
    headspace: str = ""
    dead: str = ""


def add_pipette(desk: Desk, typed: TypedPipette, *, by: str | None = None) -> str:
    """Put a pipette on the bench.

    Raises:
        PanelError: if a figure or its name will not do, or another one bears that name.
    """
    row = _pipette_row(typed)
    _add(desk, "pipette", row, by)
    return f"{sentence_start(row['label'])} stands on the bench: {range_words(row)}."


def change_pipette(
    desk: Desk, pipette_id: str, typed: TypedPipette, *, by: str | None = None
) -> str:
    """State a pipette anew; doses on record keep what they were pipetted with.

    One that is out of use stays so.

    Raises:
        PanelError: as `add_pipette`, or if there is no such pipette.
    """
    row = _pipette_row(typed)
    if not _change(desk, "pipette", pipette_id, row, by):
        return NOTHING_NEW
    return f"{sentence_start(row['label'])}: {range_words(row)}."


def add_container(desk: Desk, typed: TypedContainer, *, by: str | None = None) -> str:
    """Put a kind of vessel on the bench.

    Raises:
        PanelError: if a figure or its name will not do, or another one bears that name.
    """
    row = _container_row(typed)
    _add(desk, "container", row, by)
    return f"{sentence_start(row['label'])}: {plain(row['content_ml'])} ml with the dose."


def change_container(
    desk: Desk, container_id: str, typed: TypedContainer, *, by: str | None = None
) -> str:
    """State a kind of vessel anew; what was dosed in it stays on record as it was.

    One that is out of use stays so.

    Raises:
        PanelError: as `add_container`, or if there is no such vessel.
    """
    row = _container_row(typed)
    if not _change(desk, "container", container_id, row, by):
        return NOTHING_NEW
    return f"{sentence_start(row['label'])}: {plain(row['content_ml'])} ml with the dose."


def put_out_of_use(desk: Desk, table: str, found_id: str, *, by: str | None = None) -> str:
    """Take a pipette or a kind of vessel off the bench; what it was used for stays on record.

    Args:
        desk: The open store.
        table: "pipette" or "container".
        found_id: Its id.
        by: Who states it.

    Raises:
        PanelError: if there is none of that id.
    """
    return _use(desk, table, found_id, is_in_use=False, by=by)


def put_back_in_use(desk: Desk, table: str, found_id: str, *, by: str | None = None) -> str:
    """Put it back; arguments and errors as `put_out_of_use`."""
    return _use(desk, table, found_id, is_in_use=True, by=by)


def range_words(row: Mapping[str, Any]) -> str:
    """What a pipette can be set to: "10 to 100 µl in steps of 0.5 µl", "110 µl, fixed"."""
    smallest, largest, step = (
        plain(row[name]) for name in ("smallest_ul", "largest_ul", "step_ul")
    )
    if smallest == largest:
        return f"{largest} µl, fixed"
    return f"{smallest} to {largest} µl in steps of {step} µl"


def _add(desk: Desk, table: str, stated: Mapping[str, Any], by: str | None) -> None:
    query, key = _TABLES[table]
    with desk.store.recording(KIND) as act:
        _check_free(desk.store.rows(query), stated["label"], key, None)
        _record(act, table, {key: token_hex(8), **stated, "is_in_use": True}, by)


def _change(
    desk: Desk, table: str, found_id: str, stated: Mapping[str, Any], by: str | None
) -> bool:
    """Record what is stated anew; False if it stands so already."""
    query, key = _TABLES[table]
    with desk.store.recording(KIND) as act:
        rows = desk.store.rows(query)
        before = _found(rows, key, found_id)
        _check_free(rows, stated["label"], key, found_id)
        if _is_same(before, stated):
            return False
        _record(act, table, {**before, **stated}, by)
    return True


def _use(desk: Desk, table: str, found_id: str, *, is_in_use: bool, by: str | None) -> str:
    query, key = _TABLES[table]
    with desk.store.recording(KIND) as act:
        rows = desk.store.rows(query)
        row = _found(rows, key, found_id)
        if row["is_in_use"] == is_in_use:
            return NOTHING_NEW
        if is_in_use:
            _check_free(rows, row["label"], key, found_id)
        _record(act, table, {**row, "is_in_use": is_in_use}, by)
    state = "back in use" if is_in_use else "out of use"
    return f"{sentence_start(row['label'])} is {state}."


def _pipette_row(typed: TypedPipette) -> dict[str, Any]:
    def asked(what: str, *, is_above: bool = True) -> Asked:
        return Asked(what, "µl", _NOTHING, _LARGEST_UL, is_above=is_above)

    label = read_word("The pipette's name", typed.label)
    smallest = read_figure(asked("The lowest setting"), typed.smallest)
    largest = read_figure(asked("The highest setting"), typed.largest)
    if largest < smallest:
        message = (
            f"The highest setting, {plain(largest)} µl, lies below the lowest, {plain(smallest)} µl: "
            "look at both."
        )
        raise refuse(message)
    step = largest if smallest == largest else read_figure(asked("The step"), typed.step)
    if step > largest:
        message = f"The step, {plain(step)} µl, is larger than the highest setting: look at both."
        raise refuse(message)
    bias = read_figure_or(asked("The systematic error", is_above=False), typed.bias, None)
    spread = read_figure_or(asked("The random error", is_above=False), typed.spread, None)
    _check_calibration(bias, spread, largest)
    return {"label": label, "smallest_ul": smallest, "largest_ul": largest, "step_ul": step,
            "is_fine": typed.is_fine, "bias_ul": bias, "spread_ul": spread}  # fmt: skip


def _check_calibration(bias: Decimal | None, spread: Decimal | None, largest: Decimal) -> None:
    if (bias is None) != (spread is None):
        message = (
            "A calibration has two figures: write both the systematic and the random error, or "
            "neither; then the limits after ISO 8655-2 are taken."
        )
        raise refuse(message)
    if bias is not None and spread is not None and max(bias, spread) > largest:
        message = (
            "The calibration's error is larger than the pipette: write microlitres, not percent."
        )
        raise refuse(message)


def _container_row(typed: TypedContainer) -> dict[str, Any]:
    if typed.kind not in KINDS:
        message = "Say whether it is a bottle, a pitcher or a keg."
        raise refuse(message)

    def asked(what: str, *, is_above: bool = False) -> Asked:
        return Asked(what, "ml", _NOTHING, _LARGEST_ML, is_above=is_above)

    label = read_word("The vessel's name", typed.label)
    content = read_figure(asked("What is in it with the dose", is_above=True), typed.content)
    fill_off = read_figure_or(asked("How far the filling may be off"), typed.fill_off, _NOTHING)
    headspace = read_figure_or(asked("The room above the beer"), typed.headspace, _NOTHING)
    dead = read_figure_or(asked("What can't be poured out"), typed.dead, _NOTHING)
    for what, found in (("What can't be poured out", dead), ("The filling's error", fill_off)):
        if found is not None and found >= content:
            message = f"{what}, {plain(found)} ml, is not less than the {plain(content)} ml in it: look at both."
            raise refuse(message)
    return {"label": label, "kind": typed.kind, "content_ml": content, "fill_off_ml": fill_off,
            "headspace_ml": headspace, "dead_ml": dead}  # fmt: skip


def _check_free(rows: Sequence[Mapping[str, Any]], label: str, key: str, own: str | None) -> None:
    for row in rows:
        if row["is_in_use"] and row[key] != own and fold(row["label"]) == fold(label):
            message = f"{sentence_start(row['label'])} stands on the bench already."
            raise refuse(message)


def _found(rows: Sequence[Mapping[str, Any]], key: str, found_id: str) -> Mapping[str, Any]:
    for row in rows:
        if row[key] == found_id:
            return row
    message = "There is no such thing on the bench: choose one of the list."
    raise refuse(message)


def _is_same(before: Mapping[str, Any], row: Mapping[str, Any]) -> bool:
    return all(before[name] == value for name, value in row.items())


def _record(act: Recording, table: str, row: Mapping[str, Any], by: str | None) -> None:
    act.add(table, row)
    sign(act, by)
