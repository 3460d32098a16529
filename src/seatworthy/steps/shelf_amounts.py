"""States the brewery's working thresholds and what its base beers hold by themselves."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Final

from seatworthy.errors import PanelError
from seatworthy.steps.concentrations import amount_text, in_unit, read_concentration, shown_unit
from seatworthy.steps.desk import EARLIEST, Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import day_in_sentence, in_sentence, joined, number_word
from seatworthy.steps.shelf_writing import NOTHING_NEW
from seatworthy.steps.signing import sign

KNOWN: Final = ("measured", "assumed", "unknown")
UNLIKELY_TIMES: Final = 10  # beyond the book's range: most likely a slip of the unit
_SESSIONS_NAMED = 6


@dataclass(frozen=True)
class TypedAmount:
    """A number as somebody typed it for a compound, with one of `concentrations.UNITS`."""

    compound: str
    written: str
    unit: str


@dataclass(frozen=True)
class Background:
    """What a base beer is said to hold of a compound.

    Attributes:
        beer: Key of the beer.
        compound: Key of the compound.
        known: One of `KNOWN`.
        written: The number as typed; not read where it is unknown.
        unit: One of `concentrations.UNITS`.
        since: The day from which it counts.
    """

    beer: str
    compound: str
    known: str
    written: str
    unit: str
    since: date


def record_thresholds(
    desk: Desk,
    typed: Sequence[TypedAmount],
    family: str,
    since: date,
    *,
    is_sure: bool = False,
    by: str | None = None,
) -> str:
    """State working thresholds, all of them or none.

    Args:
        desk: The open store.
        typed: One amount a compound.
        family: Key of the beer family they are for, "" for all beers.
        since: The day from which they count, today or before.
        is_sure: Whether amounts far outside the book's range are meant so; see `doubts`.
        by: Who did it.

    Raises:
        PanelError: if a number, the day, a compound or the family will not do, or in doubt.
    """
    shelf = _Shelf(desk)
    _check_day(desk, since)
    shelf.check_family(family)
    amounts = shelf.amounts(typed)
    if not is_sure and (found := shelf.doubts(amounts, both_ways=True)):
        raise PanelError("\n".join([*found, "Nothing was recorded."]))
    then = shelf.thresholds(since, family)
    new = {compound: ug_l for compound, ug_l in amounts.items() if then.get(compound) != ug_l}
    if not new:
        return NOTHING_NEW
    with desk.store.recording("shelf") as act:
        act.add_all(("working_threshold", {"compound": compound, "family": family,
                     "threshold_ug_l": ug_l, "valid_from_on": since})
                    for compound, ug_l in new.items())  # fmt: skip
        sign(act, by)
    return " ".join(
        filter(None, [shelf.recorded(new, family, since), shelf.later(new, family, since)])
    )


def doubts(desk: Desk, typed: Sequence[TypedAmount], *, both_ways: bool = True) -> tuple[str, ...]:
    """A sentence for each amount more than ten times outside the book's range.

    Args:
        desk: The open store.
        typed: Amounts; those that are no numbers are passed over.
        both_ways: Whether an amount may be too small too; a background may be nothing at all.
    """
    shelf = _Shelf(desk)
    return shelf.doubts(shelf.amounts(typed, passes_faults=True), both_ways=both_ways)


def past_levels(
    desk: Desk, compounds: Sequence[str], since: date, *, family: str = "", beer: str | None = None
) -> str:
    """What a day in the past changes: a sentence with the sessions whose levels move; "" for today.

    Args:
        desk: The open store.
        compounds: Keys of the compounds.
        since: The day from which something is to count.
        family: Only samples of beers of this family; "" for all.
        beer: Only samples in this base beer; None for all.
    """
    if since >= desk.today() or not compounds:
        return ""
    rows = desk.store.rows(
        "shelf_dosed", compounds=list(compounds), family=family, beer=beer, since_on=since
    )
    if not rows:
        return "It counts from a day in the past; no dose on record since then changes its level."
    named = [f"{row['label'] or 'the session'} of {day_in_sentence(row['session_on'], desk.today())}"
             for row in rows[:_SESSIONS_NAMED]]  # fmt: skip
    more = len(rows) - _SESSIONS_NAMED
    named += [f"{number_word(more)} more"] if more > 0 else []
    return f"It counts from a day in the past: levels change in {joined(named)}."


def set_background(
    desk: Desk, stated: Background, *, is_sure: bool = False, by: str | None = None
) -> str:
    """State what a base beer holds of a compound before anything is added.

    Raises:
        PanelError: if the beer, the compound, the number or the day will not do, or in doubt.
    """
    shelf = _Shelf(desk)
    _check_day(desk, stated.since)
    beer = shelf.beer_label(stated.beer)
    if stated.known not in KNOWN:
        message = "Say whether it was measured, is assumed or is unknown. Nothing was recorded."
        raise PanelError(message)
    ug_l = shelf.background(stated, is_sure=is_sure)
    if shelf.background_then(stated) == (stated.known, ug_l):
        return NOTHING_NEW
    with desk.store.recording("shelf") as act:
        act.add("background", {"beer": stated.beer, "compound": stated.compound,
                "known": stated.known, "background_ug_l": ug_l,
                "valid_from_on": stated.since})  # fmt: skip
        sign(act, by)
    label = shelf.label(stated.compound)
    amount = "unknown" if ug_l is None else f"{shelf.amount(stated.compound, ug_l)}, {stated.known}"
    since = day_in_sentence(stated.since, desk.today())
    changed = past_levels(desk, [stated.compound], stated.since, beer=stated.beer)
    return f"{label} in {beer}: {amount}, from {since}. {changed}".strip()


def _check_day(desk: Desk, since: date) -> None:
    today = desk.today()
    if not EARLIEST <= since <= today:
        message = (
            f"It may count from {EARLIEST} at the earliest and from today, {today}, at the latest. "
            "Nothing was recorded."
        )
        raise PanelError(message)


class _Shelf:
    """What the checks of amounts must know of the shelf."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._compounds = {row["compound"]: row for row in desk.store.rows("shelf_compounds")}

    def label(self, compound: str) -> str:
        return short_label(self._row(compound)["label"])

    def amount(self, compound: str, ug_l: Decimal) -> str:
        return amount_text(ug_l, shown_unit(self._row(compound)["reference_unit"]))

    def beer_label(self, beer: str) -> str:
        for row in self._desk.store.rows("shelf_beers"):
            if row["beer"] == beer:
                return str(row["label"])
        message = (
            "There is no such base beer on the shelf: choose one of the list. Nothing was recorded."
        )
        raise PanelError(message)

    def check_family(self, family: str) -> None:
        if family and family not in self._families():
            message = "There is no such beer family on the shelf: choose one of the list. Nothing was recorded."
            raise PanelError(message)

    def amounts(
        self, typed: Iterable[TypedAmount], *, passes_faults: bool = False
    ) -> dict[str, Decimal]:
        """Amounts above zero in micrograms per litre, by compound; all faults at once."""
        found, faults = {}, []
        for one in typed:
            try:
                found[one.compound] = self._above_zero(one)
            except PanelError as fault:
                faults.append(str(fault).removesuffix(" Nothing was recorded."))
        if faults and not passes_faults:
            raise PanelError("\n".join([*faults, "Nothing was recorded."]))
        if not found and not passes_faults:
            message = "No number was written. Nothing was recorded."
            raise PanelError(message)
        return found

    def doubts(self, amounts: Mapping[str, Decimal], *, both_ways: bool) -> tuple[str, ...]:
        found = ((compound, self._range(compound), ug_l) for compound, ug_l in amounts.items())
        return tuple(
            self._doubt(compound, book, ug_l)
            for compound, book, ug_l in found
            if book
            and (ug_l > book[1] * UNLIKELY_TIMES or (both_ways and ug_l < book[0] / UNLIKELY_TIMES))
        )

    def thresholds(self, on_day: date, family: str) -> dict[str, Decimal]:
        """What is in force for just this family on a day."""
        return {compound: row["threshold_ug_l"] for compound, row in self._stated(on_day, family)}

    def later(self, new: Iterable[str], family: str, since: date) -> str:
        """A sentence where another statement takes over from a backdated one."""
        newer = [
            f"{in_sentence(self.label(compound))} only until {self._day(row['valid_from_on'])}"
            for compound, row in self._stated(self._desk.today(), family)
            if compound in set(new) and row["valid_from_on"] > since
        ]
        if not newer:
            return ""
        return f"It counts for {joined(newer)}, when what was stated from then on takes over."

    def recorded(self, new: Mapping[str, Decimal], family: str, since: date) -> str:
        beers = in_sentence(self._families()[family]) if family else "all beers"
        amounts = [
            f"{in_sentence(self.label(c))} {self.amount(c, ug_l)}" for c, ug_l in new.items()
        ]
        count = "One threshold" if len(new) == 1 else f"{len(new)} thresholds"
        changed = past_levels(self._desk, list(new), since, family=family)
        return f"{count} for {beers} from {self._day(since)}: {joined(amounts)}. {changed}".strip()

    def background(self, stated: Background, *, is_sure: bool) -> Decimal | None:
        label = self.label(stated.compound)
        if stated.known == "unknown":
            return None
        ug_l = read_concentration(f"The background of {label}", stated.written, stated.unit)
        if not is_sure and (found := self.doubts({stated.compound: ug_l}, both_ways=False)):
            raise PanelError("\n".join([*found, "Nothing was recorded."]))
        return ug_l

    def background_then(self, stated: Background) -> tuple[str, Decimal | None] | None:
        for row in self._desk.store.rows("shelf_backgrounds", on_day=stated.since):
            if (row["beer"], row["compound"]) == (stated.beer, stated.compound):
                return row["known"], row["background_ug_l"]
        return None

    def _above_zero(self, one: TypedAmount) -> Decimal:
        what = f"The threshold of {in_sentence(self.label(one.compound))}"
        ug_l = read_concentration(what, one.written, one.unit)
        if not ug_l:
            message = f"{what} must be above 0."
            raise PanelError(message)
        return ug_l

    def _row(self, compound: str) -> Mapping[str, Any]:
        if compound not in self._compounds:
            message = f"“{compound}” is not a compound on the shelf: choose one that is. Nothing was recorded."
            raise PanelError(message)
        return self._compounds[compound]

    def _range(self, compound: str) -> tuple[Decimal, Decimal] | None:
        """The book's range in micrograms per litre; where one end is unknown, the other twice."""
        row = self._row(compound)
        ends = [end for end in (row["reference_low"], row["reference_high"]) if end is not None]
        times = in_unit(Decimal(1), "µg/l") / in_unit(Decimal(1), shown_unit(row["reference_unit"]))
        return (min(ends) * times, max(ends) * times) if ends else None

    def _doubt(self, compound: str, book: tuple[Decimal, Decimal], ug_l: Decimal) -> str:
        low, high = (self.amount(compound, end) for end in book)
        known = low if low == high else f"{low} to {high}"
        return (
            f"{self.label(compound)}: {self.amount(compound, ug_l)} is more than ten times outside "
            f"what books say ({known}). Is the unit right?"
        )

    def _families(self) -> dict[str, str]:
        return {row["family"]: row["label"] for row in self._desk.store.rows("shelf_families")}

    def _stated(self, on_day: date, family: str) -> Iterable[tuple[str, Mapping[str, Any]]]:
        rows = self._desk.store.rows("shelf_thresholds", on_day=on_day)
        return [(row["compound"], row) for row in rows if row["family"] == family]

    def _day(self, day: date) -> str:
        return day_in_sentence(day, self._desk.today())
