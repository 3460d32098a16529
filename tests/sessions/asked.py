"""A sensible wish with its facts, everything invented, for tests to change one thing in."""

from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from hypothesis import settings

from seatworthy.errors import PlanRefused
from seatworthy.sessions.layout import lay_out
from seatworthy.sessions.plan import CompoundFacts, PersonFacts, ShelfFacts
from seatworthy.sessions.wish import Limits, WantedSample, WantedSitting, Wish

# A property is about plans, not about how busy the machine is.
unhurried = settings(deadline=None, max_examples=60)

TODAY = date(2026, 11, 9)
THURSDAY = date(2026, 11, 12)
DUBLIN = ZoneInfo("Europe/Dublin")
COMPOUNDS = {
    "diacetyl": CompoundFacts("Diacetyl", "yes", True, "40 to 200 µg/l"),
    "dms": CompoundFacts("DMS", "yes", True, "30 to 35 µg/l"),
    "acetaldehyde": CompoundFacts("Acetaldehyde", "prediluted", True, "1.1 to 20 mg/l"),
    "geosmin": CompoundFacts("Geosmin", "yes", False, "10 to 20 ng/l"),
    "sotolone": CompoundFacts("Sotolone", "yes", False),
    "furfural": CompoundFacts("Furfural", "no", True, caution="vocabulary only"),
}
SHELF = ShelfFacts(
    "Quillmere Pils", "pale_lager", "Pale lagers", COMPOUNDS, (Decimal(2), Decimal(4)), ("naming",)
)
NAMES = ("Ada Quill", "Bo Marsh", "Carmen Vole", "Dov Rusk", "Esi Tarn", "Finn Holt")
PEOPLE = {name.split()[0].lower(): PersonFacts(name) for name in NAMES}


def spiked(compound, level="3", glasses=1):
    return WantedSample(compound, None if level is None else Decimal(level), "", glasses)


def in_sets(compound, level="3", method="3afc", glasses=1):
    return replace(spiked(compound, level, glasses), method=method)


def blank(glasses=1, level=None):
    return WantedSample(None, level, "", glasses)


def sitting(label="Early shift", people=("ada", "bo", "carmen"), hour=14, day=THURSDAY):
    return WantedSitting(label, datetime(day.year, day.month, day.day, hour), tuple(people))


WISH = Wish(
    session_on=THURSDAY,
    label="Thursday panel",
    purpose="qualification",
    beer="pils",
    abv_percent=Decimal("4.8"),
    volume_ml=Decimal(30),
    samples=(spiked("diacetyl", glasses=2), spiked("dms"), blank(2)),
    sittings=(sitting(), sitting("Late shift", ("dov", "esi", "finn"), 16)),
    seed=7,
)


def wish(**changes):
    return replace(WISH, **changes)


def with_limits(**changes):
    return wish(limits=replace(WISH.limits, **changes))


def people_with(**refusals):
    """Everybody, with what some are not to be served: ada={"diacetyl"}."""
    found = dict(PEOPLE)
    for person, compounds in refusals.items():
        found[person] = replace(found[person], refused_compounds=frozenset(compounds))
    return found


def roomy(**changes):
    """A wish with limits that leave room for sets and long flights."""
    return wish(limits=Limits(most_glasses=24, alcohol_g=Decimal(50)), **changes)


def shelf_with(**changes):
    """The shelf, with what is different of some compounds: dms={"lingers": True}."""
    changed = {key: replace(COMPOUNDS[key], **facts) for key, facts in changes.items()}
    return replace(SHELF, compounds=COMPOUNDS | changed)


def laid_out(asked=WISH, people=None, taken=(), zone=DUBLIN, shelf=SHELF, **more):
    return lay_out(asked, shelf, people or PEOPLE, taken, TODAY, zone, **more)


def orders_of(plan):
    """Every order of a plan, people's first, then the spares."""
    seats = [seat.glasses for sitting in plan.sittings for seat in sitting.seats]
    return seats + [order for sitting in plan.sittings for order in sitting.spares]


def seats_of(plan):
    """What everybody who comes is served, by person."""
    return {seat.person_id: seat.glasses for sitting in plan.sittings for seat in sitting.seats}


def marks_of(plan):
    """The letters everybody who comes is served, by person."""
    return {who: [glass.mark for glass in glasses] for who, glasses in seats_of(plan).items()}


def codes_of(plan):
    """Every code of a plan, those in sets included."""
    glasses = [glass for order in orders_of(plan) for glass in order]
    return [one.code for glass in glasses for one in (glass.glasses or (glass,))]


def faults_of(asked, **facts):
    """Every fault of a wish; none if it can be laid out."""
    try:
        laid_out(asked, **facts)
    except PlanRefused as refused:
        return refused.faults
    return ()


def only_fault_of(asked, **facts):
    """The fault of a wish that has one and no other."""
    (fault,) = faults_of(asked, **facts)
    return fault
