"""Who knows which of the own beers: counted from the glasses that asked for one, judged if asked."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.known_beers import BeerGlasses, judge_known_beers
from seatworthy.steps.judging_people import RuleAnswer
from seatworthy.steps.seen import Seen

TITLE: Final = "Beers known"
OWN: Final = "own"
OTHERS: Final = ("aged", "other_batch", "sister")
# Another batch is the same beer: it is told, and neither right nor wrong.
NOT_IT: Final = ("aged", "sister")


@dataclass(frozen=True)
class BeerCounts:
    """Glasses of one panellist that asked for one beer, by what they really were.

    Attributes:
        glasses: Glasses by variant ("own", "aged", "other_batch", "sister"); those never poured are
            absent.
        said_yes: Of these, glasses to which they said yes.
    """

    glasses: Mapping[str, int]
    said_yes: Mapping[str, int]

    @property
    def seen(self) -> BeerGlasses:
        """The same as a rule reads it: the beer itself against what is not it."""
        return BeerGlasses(
            self.glasses.get(OWN, 0),
            self.said_yes.get(OWN, 0),
            sum(self.glasses.get(one, 0) for one in NOT_IT),
            sum(self.said_yes.get(one, 0) for one in NOT_IT),
        )


@dataclass(frozen=True)
class OwnBeer:
    """A beer of the brewery.

    Attributes:
        beer: Its key.
        label: Its name.
        family: Key of its beer family.
    """

    beer: str
    label: str
    family: str


def own_beers(seen: Seen) -> tuple[OwnBeer, ...]:
    """Beers on the shelf, by their names."""
    found = (OwnBeer(row["beer"], row["label"], row["family"]) for row in seen.rows("beers"))
    return tuple(sorted(found, key=lambda one: (one.label.casefold(), one.beer)))


def beer_counts(seen: Seen, months: int) -> dict[str, dict[str, BeerCounts]]:
    """Glasses that asked for a beer in the window that ends on the day seen, by person and beer."""
    return _counts(seen, months_before(seen.as_of, months))


def _counts(seen: Seen, after: date) -> dict[str, dict[str, BeerCounts]]:
    rows = seen.rows("beer_counts", after_on=after, until_on=seen.as_of)
    found: dict[tuple[str, str], tuple[dict[str, int], dict[str, int]]] = defaultdict(
        lambda: ({}, {})
    )
    for row in rows:
        glasses, said_yes = found[row["person_id"], row["beer"]]
        glasses[row["variant"]] = row["glasses"]
        said_yes[row["variant"]] = row["said_yes"]
    by_person: dict[str, dict[str, BeerCounts]] = defaultdict(dict)
    for (person, beer), (glasses, said_yes) in found.items():
        by_person[person][beer] = BeerCounts(glasses, said_yes)
    return by_person


def judge_beers(
    seen: Seen, people: Iterable[str], families: Iterable[str]
) -> dict[tuple[str, str], tuple[RuleAnswer, ...]]:
    """What the rule on knowing a beer says, by person and beer family; nothing where none is asked.

    Args:
        seen: The record.
        people: Person ids.
        families: Beer families.
    """
    rule, seats = seen.book.knows_beer, [(p, f) for p in people for f in families]
    if rule is None:
        return dict.fromkeys(seats, ())
    counts, beers = beer_counts(seen, rule.months), own_beers(seen)
    found = {}
    for person, family in seats:
        labels = {one.beer: one.label for one in beers if one.family == family}
        own = {beer: one.seen for beer, one in counts.get(person, {}).items()}
        verdict = judge_known_beers(labels, own, rule)
        found[person, family] = (RuleAnswer(TITLE, verdict, rule.asked_for),)
    return found
