"""Hostile figures and names typed on the bench, the shelf, the list of people and at the table."""

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from random import Random
from typing import Any, Final

import fuzz_hostile as hostile
from fuzz_brewery import TODAY, Brewery, copied
from fuzz_clear import check_clear, fail

from seatworthy.errors import PanelError
from seatworthy.steps.batches import state_batch
from seatworthy.steps.bench_equipment import (
    TypedContainer,
    TypedPipette,
    add_container,
    add_pipette,
    change_pipette,
)
from seatworthy.steps.bench_facts import pipettes, stocks
from seatworthy.steps.bench_limits import state_limits
from seatworthy.steps.bench_states import found_left, open_stock, set_expiry
from seatworthy.steps.bench_writing import NewStock, add_stock
from seatworthy.steps.dilutions import Made, log_dilution
from seatworthy.steps.panel import add_people
from seatworthy.steps.session_facts import session_facts
from seatworthy.steps.shelf_amounts import TypedAmount, record_thresholds
from seatworthy.steps.shelf_words import give_meaning
from seatworthy.steps.table import state_level

_COMPOUNDS: Final = ("diacetyl", "dms", "t2n", "furfural", "", "no such")
_COUNTED: Final = 8  # one input in so many has the rows of every table counted
_LONGEST: Final = 500


class BenchForms:
    """The field of what is typed on the bench and beside it.

    Args:
        folder: Where a brewery may be kept.
    """

    name, share = "bench and other forms", 1

    def __init__(self, folder: Path) -> None:
        self.brewery: Brewery = copied(folder, "bench")
        self.tried = 0
        facts = session_facts(self.brewery.desk, self.brewery.sessions["early"])
        self.samples = [sample.sample_id for sample in facts.samples.values()]
        self.forms: tuple[Callable[[Random], object], ...] = (
            self.stock, self.stock, self.pipette, self.vessel, self.left, self.days, self.dilution,
            self.limits, self.threshold, self.people, self.batch, self.level, self.meaning,
        )  # fmt: skip

    def close(self) -> None:
        """Let the brewery go."""
        self.brewery.desk.close()

    def attempt(self, draw: Random) -> bool:
        """Fill in one form; whether it was accepted."""
        self.tried += 1
        form, version = draw.choice(self.forms), self.brewery.desk.version
        counts = self.brewery.counts() if self.tried % _COUNTED == 0 else None
        try:
            told = form(draw)
        except PanelError as refused:
            check_clear(refused)
            if self.brewery.desk.version != version:
                fail(f"recorded and refused: {refused}")
            if counts is not None and self.brewery.counts() != counts:
                fail(f"stored and refused: {refused}")
            return False
        if not isinstance(told, str) or not told.strip() or "nan" in told.split():
            fail(f"{form.__name__} told {told!r}")
        if counts is not None:
            self._check_rows(counts)
        return True

    def _check_rows(self, counts: dict[str, int]) -> None:
        """Everything stored is finite, not below 0, and can be seen."""
        cursor = self.brewery.desk.store.cursor()
        for table, number in self.brewery.counts().items():
            if number == counts[table]:
                continue
            rows = cursor.execute(f'select * from "{table}" offset {counts[table]}').fetchall()
            for value in (value for row in rows for value in row):
                if isinstance(value, Decimal) and not (value.is_finite() and value >= 0):
                    fail(f"{table} holds {value}")
                if isinstance(value, float):
                    fail(f"{table} holds the float {value}")
                if isinstance(value, str) and table != "entry" and not _is_decent(value):
                    fail(f"{table} holds {value!r}")

    def stock(self, draw: Random) -> object:
        """A lot."""
        day = _day(draw)
        typed = {
            "compound": draw.choice(_COMPOUNDS[:3]), "kind": draw.choice(("solution", "reference", "unit")),
            "lot": f"L{draw.randint(0, 999)}", "strength": "3", "strength_unit": "mg/l",
            "gives_amount": "1", "gives_unit": draw.choice(("µl", "ml")), "litres": "1",
            "full_amount": "10", "ethanol_percent": "40", "is_food_grade": True, "expires_on": day,
        }  # fmt: skip
        hostile_fields = ("strength", "gives_amount", "litres", "full_amount", "ethanol_percent",
                          "dead_ul", "strength_off_percent", "lot")  # fmt: skip
        for field in _some(draw, hostile_fields):
            typed[field] = _typed(draw)
        if draw.random() < 0.1:
            typed |= {"compound": draw.choice(_COMPOUNDS), "opened_on": _day(draw)}
        if draw.random() < 0.05:
            typed["strength_unit"] = hostile.text(draw)
        return add_stock(self.brewery.desk, NewStock(**typed))

    def pipette(self, draw: Random) -> object:
        """A pipette, new or stated anew."""
        typed = {
            "label": f"blue {draw.randint(0, 999)}",
            "smallest": "10",
            "largest": "100",
            "step": "1",
        }
        for field in _some(draw, ("label", "smallest", "largest", "step", "bias", "spread")):
            typed[field] = _typed(draw)
        if draw.random() < 0.5:
            return add_pipette(self.brewery.desk, TypedPipette(**typed))
        found = draw.choice([p.pipette_id for p in pipettes(self.brewery.desk)] + ["no such"])
        return change_pipette(self.brewery.desk, found, TypedPipette(**typed))

    def vessel(self, draw: Random) -> object:
        """A kind of vessel."""
        typed = {"label": f"jug {draw.randint(0, 999)}", "kind": "pitcher", "content": "1000"}
        for field in _some(draw, ("label", "kind", "content", "fill_off", "headspace", "dead")):
            typed[field] = _typed(draw)
        return add_container(self.brewery.desk, TypedContainer(**typed))

    def left(self, draw: Random) -> object:
        """What is left in a vial."""
        return found_left(
            self.brewery.desk, self._stock(draw), _typed(draw), draw.choice(("µl", "ml"))
        )

    def days(self, draw: Random) -> object:
        """When a stock was opened, and when it ends."""
        state = draw.choice((open_stock, set_expiry))
        return state(self.brewery.desk, self._stock(draw), _day(draw))

    def dilution(self, draw: Random) -> object:
        """A dilution."""
        typed: dict[str, Any] = {
            "taken": "1",
            "taken_unit": "µl",
            "made": "100",
            "solvent_percent": "40",
        }
        for field in _some(draw, ("taken", "made", "solvent_percent", "lot", "dead_ul")):
            typed[field] = _typed(draw)
        return log_dilution(
            self.brewery.desk, Made(self._stock(draw), **typed, expires_on=_day(draw))
        )

    def limits(self, draw: Random) -> object:
        """How long a compound keeps, and how strong it may be."""
        typed = [draw.choice(("", "4", "8", _typed(draw))) for _ in range(3)]
        since = _day(draw) or TODAY
        return state_limits(self.brewery.desk, draw.choice(_COMPOUNDS), *typed, since)

    def threshold(self, draw: Random) -> object:
        """A working threshold."""
        typed = TypedAmount(draw.choice(_COMPOUNDS), _typed(draw), draw.choice(("µg/l", "mg/l")))
        family = draw.choice(("pale_lager", "", "no such"))
        return record_thresholds(self.brewery.desk, [typed], family, _day(draw) or TODAY,
                                 is_sure=draw.random() < 0.7)  # fmt: skip

    def people(self, draw: Random) -> object:
        """Names for the list of people."""
        names = [hostile.text(draw) for _ in range(draw.randint(0, 3))]
        told = add_people(self.brewery.desk, names, since_on=_day(draw))
        return told if isinstance(told, str) else str(told)

    def batch(self, draw: Random) -> object:
        """A batch and its crew."""
        crew = draw.sample(sorted(self.brewery.people.values()), draw.randint(0, 2))
        beer = draw.choice(("house pils", "house pils", "", "no such"))
        return state_batch(self.brewery.desk, hostile.text(draw), beer, crew)

    def level(self, draw: Random) -> object:
        """What was really in a jug."""
        level = draw.choice((None, *map(Decimal, ("0", "3", "-1", "NaN", "Infinity", "1e400", "1e-30",
                                                  "1000", "1001", "0.0000000001"))))  # fmt: skip
        age = draw.choice((None, 0, -1, 30, 10**9))
        return state_level(self.brewery.desk, draw.choice([*self.samples, "no such"]), level, age)

    def meaning(self, draw: Random) -> object:
        """What words mean."""
        return give_meaning(self.brewery.desk, hostile.text(draw), draw.choice((*_COMPOUNDS, "none")),
                            again=draw.random() < 0.3)  # fmt: skip

    def _stock(self, draw: Random) -> str:
        return draw.choice(
            [stock.stock_id for stock in stocks(self.brewery.desk)][:40] + ["no such"]
        )


def _some(draw: Random, fields: tuple[str, ...]) -> list[str]:
    return draw.sample(fields, draw.choice((0, 1, 1, 1, 2)))


def _typed(draw: Random) -> str:
    return draw.choice((hostile.number, hostile.number, hostile.text))(draw)


def _day(draw: Random) -> date | None:
    return draw.choice((None, None, TODAY, TODAY + timedelta(days=30), date.min,
                        date.max, date(1899, 12, 31), date(2200, 1, 2), date(2026, 1, 1)))  # fmt: skip


def _is_decent(text: str) -> bool:
    seen = text.replace("\u200d", "").replace("\u200c", "")
    return len(text) <= _LONGEST and seen.isprintable()
