"""What was stated about the shelf, when and by whom, newest first."""

from collections.abc import Iterator, Mapping
from datetime import UTC, date
from itertools import groupby
from typing import Any

from seatworthy.steps.concentrations import amount_text, shown_unit
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import item_label
from seatworthy.steps.sentences import day_in_sentence, in_sentence, joined
from seatworthy.steps.shelf import ALL_BEERS, family_labels
from seatworthy.steps.shelf_views import HistoryLine

_Row = Mapping[str, Any]


def shelf_history(desk: Desk) -> tuple[HistoryLine, ...]:
    """Everything stated since the shipped vocabulary; wordings of one compound in one line."""
    teller = _Teller(desk)
    rows = desk.store.rows("shelf_history")
    return tuple(
        teller.line(list(alike)) for _, alike in groupby(rows, lambda row: _kept_together(row))
    )


def _kept_together(row: _Row) -> tuple[object, ...]:
    """Equal for the wordings of one compound in one act; else different for every statement."""
    own = "" if row["kind"] == "words" else row["words"]
    return (row["entry_no"], row["kind"], row["compound"], row["beer"], row["family"],
            row["valid_from_on"], own)  # fmt: skip


class _Teller:
    """Puts statements into words; knows the labels of today."""

    def __init__(self, desk: Desk) -> None:
        self._zone, self._today = desk.time_zone, desk.today()
        compounds = desk.store.rows("shelf_compounds")
        self._labels = {row["compound"]: row["label"] for row in compounds}
        self._units = {row["compound"]: shown_unit(row["reference_unit"]) for row in compounds}
        families = family_labels(desk.store.rows("shelf_families"))
        self._families = {"": ALL_BEERS} | families
        self._beers = {row["beer"]: row["label"] for row in desk.store.rows("shelf_beers")}

    def line(self, rows: list[_Row]) -> HistoryLine:
        """One line for one statement, or for several wordings of one compound."""
        row = rows[0]
        moment = row["recorded_at"].replace(tzinfo=UTC).astimezone(self._zone)
        what, value = getattr(self, f"_{row['kind']}")(rows)
        return HistoryLine(
            day=moment.date(),
            time=f"{moment:%H:%M}",
            who=row["who"],
            what=what,
            value=value,
            compound=row["compound"] or "",
            beer=row["beer"] or "",
        )

    def _brewery(self, rows: list[_Row]) -> tuple[str, str]:
        return "Brewery", f"{rows[0]['words']}, {rows[0]['more']}"

    def _compound(self, rows: list[_Row]) -> tuple[str, str]:
        return "Compound of the brewery's own", rows[0]["words"]

    def _words(self, rows: list[_Row]) -> tuple[str, str]:
        words = joined([f"“{row['words']}”" for row in rows])
        compound = rows[0]["compound"]
        if compound is None:
            return "Words that name no compound", words
        return f"Words for {self._named(compound)}", words

    def _accepted(self, rows: list[_Row]) -> tuple[str, str]:
        row = rows[0]
        start, end = ("Words", "") if row["more"] == "yes" else ("Words not", " any more")
        return f"{start} accepted for {self._named(row['compound'])}{end}", f"“{row['words']}”"

    def _family(self, rows: list[_Row]) -> tuple[str, str]:
        row = rows[0]
        lists = [f"{name}: {', '.join(self._items(row[key]))}"
                 for name, key in (("critical", "more"), ("expected", "also")) if row[key]]  # fmt: skip
        return f"Beer family {row['words']}", "; ".join(lists) or "no list of its own"

    def _items(self, listed: str) -> Iterator[str]:
        for group in listed.split("|"):
            yield in_sentence(item_label(group.split("+"), self._labels))

    def _beer(self, rows: list[_Row]) -> tuple[str, str]:
        row = rows[0]
        abv = "" if row["amount"] is None else f", {float(row['amount']):g}% ABV"
        return f"Base beer {row['words']}", f"{self._families.get(row['family'], '')}{abv}"

    def _threshold(self, rows: list[_Row]) -> tuple[str, str]:
        row = rows[0]
        amount = amount_text(row["amount"], self._units[row["compound"]])
        family = in_sentence(self._families.get(row["family"], row["family"]))
        what = f"Working threshold of {self._named(row['compound'])}"
        return what, f"{amount} for {family}, {self._from(row['valid_from_on'])}"

    def _background(self, rows: list[_Row]) -> tuple[str, str]:
        row = rows[0]
        amount = (
            ""
            if row["amount"] is None
            else f"{amount_text(row['amount'], self._units[row['compound']])}, "
        )
        beer = self._beers.get(row["beer"], row["beer"])
        what = f"Background of {self._named(row['compound'])} in {beer}"
        return what, f"{amount}{row['more']}, {self._from(row['valid_from_on'])}"

    def _keeping(self, rows: list[_Row]) -> tuple[str, str]:
        row = rows[0]
        amount = row["amount"]
        lost = "nothing" if amount is None else f"half is gone after {float(amount):g} hours"
        what = f"Loss of {self._named(row['compound'])} once dosed"
        return what, f"{lost}, {self._from(row['valid_from_on'])}"

    def _named(self, compound: str) -> str:
        return in_sentence(item_label([compound], self._labels))

    def _from(self, day: date) -> str:
        return f"from {day_in_sentence(day, self._today)}"
