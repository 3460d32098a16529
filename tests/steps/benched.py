"""A bench for tests: stocks of the compounds that a Thursday pours, two pipettes, bottles and a pitcher."""

from datetime import timedelta
from decimal import Decimal

import thursday

from seatworthy.sessions.wish import WantedSample
from seatworthy.steps.bench_equipment import (
    TypedContainer,
    TypedPipette,
    add_container,
    add_pipette,
)
from seatworthy.steps.bench_facts import containers, stocks
from seatworthy.steps.bench_writing import NewStock, add_stock

DAYS = timedelta(days=60)


def set_up(desk):
    """Fill the bench; stock id by compound."""
    for compound, times in (("diacetyl", "3"), ("dms", "3"), ("acetaldehyde", "3")):
        add_stock(desk, reference(compound, times, expires_on=thursday.TODAY + DAYS))
    add_stock(
        desk,
        NewStock(
            "t2n", "solution", "P4", "2", "mg/l", full_amount="10", ethanol_percent="50",
            is_food_grade=True, expires_on=thursday.TODAY + DAYS,
        ),
    )  # fmt: skip
    add_pipette(desk, TypedPipette("blue 200", "20", "200", "1"))
    add_pipette(desk, TypedPipette("fine 100", "10", "100", "0.5", is_fine=True))
    add_container(
        desk, TypedContainer("bottle 330 ml", "bottle", "330", fill_off="3", headspace="15")
    )
    add_container(desk, TypedContainer("pitcher 1 l", "pitcher", "1000", headspace="200"))
    add_container(desk, TypedContainer("keg 10 l", "keg", "10000", headspace="500", dead="200"))
    return {stock.compound: stock.stock_id for stock in stocks(desk)}


def reference(compound, times, lot="R1", amount="5", **more):
    """A liquid of which one millilitre in one litre gives so many times threshold."""
    return NewStock(
        compound, "reference", lot, times, gives_amount="1", gives_unit="ml", litres="1",
        full_amount=amount, ethanol_percent="0", is_food_grade=True, is_bought_dilution=True,
        **more,
    )  # fmt: skip


def container(desk, kind="bottle"):
    """Id of the vessel of a kind."""
    return next(c.container_id for c in containers(desk) if c.kind == kind)


def wish(desk, people, kind="bottle", **changed):
    """The Thursday's wish with everything dosed from the bench."""
    samples = (
        WantedSample("diacetyl", Decimal(3), glasses=2),
        WantedSample("diacetyl", Decimal(1)),
        WantedSample("dms", Decimal(3)),
        WantedSample("t2n", Decimal(3)),
        WantedSample(None, None, glasses=2),
    )
    changed = {"samples": samples, "container": container(desk, kind), "spares": 0, **changed}
    return thursday.wish(people, **changed)
