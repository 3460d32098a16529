"""A Thursday for tests: a shelf, nine people, a plan, and answers typed from paper."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from pathlib import Path
from zoneinfo import ZoneInfo

from seatworthy.intake.words import fold
from seatworthy.sessions.wish import WantedSample, WantedSitting, Wish
from seatworthy.steps.bring_in import bring_in_shelf
from seatworthy.steps.closing import close_session
from seatworthy.steps.desk import Desk
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.planning import record_plan, wish_again
from seatworthy.steps.session_facts import SessionFacts, session_facts
from seatworthy.steps.sheets import sheet_key
from seatworthy.steps.signing import salted
from seatworthy.steps.table import sitting_over

# The day on which the tests run, by the brewery's clock: the store dates what it records by the real one.
TODAY = datetime.now(ZoneInfo("Europe/Dublin")).date()
NAMES = ("Ada Moran", "Bo Larsen", "Carmen Ruiz", "Dilek Aksoy", "Emil Novak", "Fenna de Wit",
         "Goran Petrić", "Hana Sato", "Łukasz Wrona")  # fmt: skip
SHELF = """
[brewery]
name = "Millrace Brewery"
time_zone = "Europe/Dublin"

[beer_families.pale_lager]
label = "Pale lagers"

[[base_beers]]
label = "House Pils"
family = "pale_lager"
abv = 4.8
"""
THRESHOLDS = {"diacetyl": 60, "dms": 32, "acetaldehyde": 8000, "t2n": 0.1, "h2s": 5}


def set_up(desk: Desk, folder: Path, today: date = TODAY) -> dict[str, str]:
    """Stock the shelf and put nine people on the list; person id by first name."""
    desk.today = lambda: today  # type: ignore[method-assign]
    items = "".join(
        f'\n[[working_thresholds]]\ncompound = "{c}"\nvalue = {v}\nunit = "ug/L"\nfrom = 2025-01-01\n'
        for c, v in THRESHOLDS.items()
    )
    path = folder / "shelf.toml"
    path.write_text(SHELF + items, encoding="utf-8")
    bring_in_shelf(desk, path)
    add_people(desk, NAMES, since_on=None)
    return {person.name.split()[0]: person.person_id for person in people_of_panel(desk)}


def wish(people: Mapping[str, str], **changed: object) -> Wish:
    """Eight glasses: three compounds, one of them twice, diacetyl weak, and three blanks."""
    asked = Wish(
        session_on=TODAY,
        label="Thursday panel",
        purpose="qualification",
        beer="house pils",
        abv_percent=Decimal("4.8"),
        volume_ml=Decimal(30),
        samples=(
            WantedSample("diacetyl", Decimal(3), "50 µl of stock D in 1 l", 2),
            WantedSample("dms", Decimal(3), "60 µl of stock S in 1 l"),
            WantedSample("acetaldehyde", Decimal("2.5"), "2 ml of stock A in 1 l"),
            WantedSample("t2n", Decimal(4), "one capsule in 1 l"),
            WantedSample(None, None, glasses=2),
            WantedSample(None, None),
        ),
        sittings=(
            WantedSitting(
                "Early", datetime.combine(TODAY, time(10)), tuple(list(people.values())[:5])
            ),
            WantedSitting(
                "Late", datetime.combine(TODAY, time(14)), tuple(list(people.values())[5:])
            ),
        ),
        seed=7,
    )
    return replace(asked, **changed)


def planned(desk: Desk, people: Mapping[str, str], **changed: object) -> str:
    """Record a plan; the session's id."""
    return record_plan(desk, wish(people, **changed))


def facts_of(desk: Desk, session_id: str) -> SessionFacts:
    """The session whole."""
    found = session_facts(desk, session_id)
    assert found is not None
    return found


def answer_all(
    desk: Desk,
    session_id: str,
    said: Mapping[str | None, str] | None = None,
    by_sample: Mapping[str, str] | None = None,
) -> None:
    """Put every waiting answer on record: the right one, or what ``said`` holds for a compound."""
    facts = facts_of(desk, session_id)
    with desk.store.recording("answer") as act:
        for glass in facts.glasses:
            if facts.is_waiting(glass):
                compound = facts.samples[glass.sample_id].compound
                own = (by_sample or {}).get(glass.sample_id)
                words = own or (said or {}).get(compound) or compound or "nothing"
                act.add("answer", _answer_row(glass.serving_id, words))


def _answer_row(serving_id: str, words: str) -> dict[str, object]:
    """What `enter_answer` would store, written at once for speed."""
    is_words = words != "nothing"
    return {
        "serving_id": serving_id,
        "kind": "words" if is_words else "nothing",
        **salted("words", words if is_words else None),
        "words_key": fold(words) if is_words else None,
        "rating": None,
    }


def close(desk: Desk, session_id: str) -> None:
    """Say that every sitting is over, and close."""
    for sitting in facts_of(desk, session_id).sittings:
        sitting_over(desk, sitting.sitting_id)
    close_session(desk, session_id)


def code_of(desk: Desk, session_id: str, person: str, compound: str | None) -> tuple[str, str]:
    """Sheet key and code of somebody's first glass of a compound."""
    facts = facts_of(desk, session_id)
    glass = next(
        g
        for g in facts.glasses
        if g.person_id == person and facts.samples[g.sample_id].compound == compound
    )
    return sheet_key(glass.sitting_id, person), glass.blind_code or ""


def a_session(desk, people, said=None, **changed):
    """A session answered and closed."""
    session_id = planned(desk, people, **changed)
    answer_all(desk, session_id, said)
    close(desk, session_id)
    return session_id


def a_month_later(desk, session_id, said=None):
    """The same plan four weeks on, answered and closed."""
    day = desk.today() + timedelta(weeks=4)
    desk.today = lambda: day
    again = record_plan(desk, wish_again(desk, session_id))
    answer_all(desk, again, said)
    close(desk, again)
    return again
