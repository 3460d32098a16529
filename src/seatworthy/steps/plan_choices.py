"""What a plan may choose from, and what hinders planning at all."""

from collections.abc import Iterator

from seatworthy.steps.bench_facts import containers
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import choice_label, short_label
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.sentences import in_sentence, joined
from seatworthy.steps.session_views import BeerChoice, CompoundChoice, PersonChoice, PlanChoices
from seatworthy.steps.views import Choice


def plan_choices(desk: Desk) -> PlanChoices:
    """Everything that a plan may choose from, and what hinders planning at all."""
    beers = tuple(
        BeerChoice(
            row["beer"], row["label"], row["family"], row["family_label"], row["abv_percent"]
        )
        for row in desk.store.rows("beers_with_family")
        if row["beer"]
    )
    people = tuple(_person_choice(desk))
    thresholds = _families_with_threshold(desk)
    compounds = tuple(
        CompoundChoice(
            row["compound"],
            choice_label(row["label"]),
            thresholds.get(row["compound"], ()),
            row["serve"],
            row["safety"],
        )
        for row in desk.store.rows("compound_care")
    )
    has_zone = bool(desk.store.rows("brewery"))
    hindrance = _hindrance(has_zone, bool(beers), bool(people), bool(thresholds))
    vessels = tuple(Choice(c.container_id, c.label) for c in containers(desk))
    return PlanChoices(desk.today(), beers, compounds, people, hindrance, vessels)


def _hindrance(has_zone: bool, beers: bool, people: bool, thresholds: bool) -> str:
    missing = [
        what
        for what, is_there in (
            ("the brewery's name and time zone", has_zone),
            ("a base beer", beers),
            ("a working threshold for a compound", thresholds),
            ("somebody on the list of people", people),
        )
        if not is_there
    ]
    return f"A plan needs {joined(missing)} first." if missing else ""


def _person_choice(desk: Desk) -> Iterator[PersonChoice]:
    labels = {row["compound"]: row["label"] for row in desk.store.rows("compound_care")}
    beers = {row["beer"]: row["label"] for row in desk.store.rows("beers")}
    for person in people_of_panel(desk):
        if person.is_panellist:
            refused = [in_sentence(short_label(labels[c])) for c in person.refused_compounds]
            refused += [beers.get(beer, beer) for beer in person.refused_beers]
            yield PersonChoice(person.person_id, person.name, joined(sorted(refused)))


def _families_with_threshold(desk: Desk) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for row in desk.store.rows("compounds_with_threshold"):
        found[row["compound"]] = (*found.get(row["compound"], ()), row["family"])
    return found
