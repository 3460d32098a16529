"""A small brewery with a bench for tests of pages: made once, copied for each test."""

import shutil
from dataclasses import replace
from datetime import datetime, time, timedelta
from decimal import Decimal

from seatworthy.sessions.wish import WantedSample, WantedSitting
from seatworthy.steps.bench_equipment import (
    TypedContainer,
    TypedPipette,
    add_container,
    add_pipette,
)
from seatworthy.steps.bench_facts import containers, stocks
from seatworthy.steps.bench_writing import NewStock, add_stock
from seatworthy.steps.desk import open_desk
from seatworthy.steps.panel import add_people
from seatworthy.steps.planning import first_wish, record_plan
from seatworthy.steps.preparation import preparation
from seatworthy.steps.shelf_amounts import TypedAmount, record_thresholds
from seatworthy.steps.shelf_writing import add_beer, set_brewery

PEOPLE = ("Ada Moran", "Bo **Larsen**", "Carmen Ruiz", "Dilek Aksoy")
THRESHOLDS = {"diacetyl": "60", "dms": "32", "acetaldehyde": "8000", "h2s": "5"}


def made(folder, stocked):
    """A closed store with a beer, thresholds, four people, two stocks, a pipette and three kinds of vessel."""
    path = folder / "bench.duckdb"
    shutil.copyfile(stocked, path)
    desk = open_desk(path)
    set_brewery(desk, "Millrace Brewery", "Europe/Dublin")
    add_beer(desk, "House Pils", "Pale lagers", "4,8")
    typed = [TypedAmount(compound, value, "µg/l") for compound, value in THRESHOLDS.items()]
    record_thresholds(desk, typed, "", desk.today() - timedelta(days=30))
    add_people(desk, PEOPLE, since_on=None)
    for compound in ("diacetyl", "dms"):
        add_stock(desk, stock(desk, compound))
    add_pipette(desk, TypedPipette("blue 200", "20", "200", "1"))
    add_container(
        desk, TypedContainer("bottle 330 ml", "bottle", "330", fill_off="3", headspace="15")
    )
    add_container(desk, TypedContainer("pitcher 1 l", "pitcher", "1000", headspace="200"))
    desk.close()
    return path


def stock(desk, compound, lot="R1"):
    """A liquid of which one millilitre in one litre gives three times threshold."""
    return NewStock(
        compound, "reference", lot, "3", gives_amount="1", gives_unit="ml", litres="1",
        full_amount="50", ethanol_percent="0", is_food_grade=True, is_bought_dilution=True,
        expires_on=desk.today() + timedelta(days=60),
    )  # fmt: skip


def opened(path):
    """A desk at the store itself."""
    return open_desk(path)


def copied(path, folder):
    """A desk of one's own at a copy of the store."""
    own = folder / "bench.duckdb"
    shutil.copyfile(path, own)
    return open_desk(own)


def vessel_id(desk, kind="bottle"):
    """Id of the kind of vessel on the bench."""
    return next(c.container_id for c in containers(desk) if c.kind == kind)


def stock_id(desk, compound):
    """Id of the only stock of a compound."""
    return next(s.stock_id for s in stocks(desk) if s.compound == compound)


def wish(desk, **changed):
    """Today, all four at one sitting: diacetyl twice and weaker once, DMS, two blanks."""
    first = first_wish(desk)
    people = tuple(first.sittings[0].people)
    start = datetime.combine(desk.today(), time(14))
    asked = replace(
        first,
        session_on=desk.today(),
        label="Bench day",
        samples=(
            WantedSample("diacetyl", Decimal(3), glasses=2),
            WantedSample("diacetyl", Decimal(1)),
            WantedSample("dms", Decimal(3)),
            WantedSample(None, None, glasses=2),
        ),
        sittings=(WantedSitting("Afternoon", start, people),),
        container=vessel_id(desk),
        spares=0,
        seed=7,
    )
    return replace(asked, **changed)


def planned(desk, **changed):
    """Record a plan that is dosed from the bench; the session's id."""
    return record_plan(desk, wish(desk, **changed))


def vessel(desk, session_id, name):
    """One vessel as it stands on record."""
    letters = preparation(desk, session_id).letters
    return next(one for letter in letters for one in letter.vessels if one.key == name)
