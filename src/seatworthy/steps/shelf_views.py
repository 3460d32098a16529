"""What the shelf page and the page of people are given to show; made in `shelf.py` and `panel.py`."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from seatworthy.steps.views import Choice

Group = tuple[str, ...]  # compound keys of which one counts; mostly a single one


@dataclass(frozen=True)
class FirstThing:
    """One thing to do before the first session can be planned.

    Attributes:
        words: What to do, one sentence.
        is_done: Whether it is done.
        place: Part of the shelf page where it is done; "people" and "plan" are pages of their own.
    """

    words: str
    is_done: bool
    place: str


@dataclass(frozen=True)
class FamilyLine:
    """One beer family.

    Attributes:
        key: For addresses.
        label: As shown; families that share a label have their key added.
        critical: Its own list; empty where the rulebook's list counts.
        expected: Compounds that belong in such a beer.
        beers: Labels of its base beers.
    """

    key: str
    label: str
    critical: tuple[Group, ...]
    expected: tuple[Group, ...]
    beers: tuple[str, ...]


@dataclass(frozen=True)
class BeerLine:
    """One base beer; alcohol by volume in percent, None where nobody stated it."""

    key: str
    label: str
    family: str
    family_label: str
    abv_percent: Decimal | None


@dataclass(frozen=True)
class OursLine:
    """A working threshold in force today.

    Attributes:
        family: The beer family's key, "" for all beers.
        family_label: "all beers", or the family's label.
        value: In the unit of the compound, see `CompoundLine.unit`.
        since: The day from which it counts.
    """

    family: str
    family_label: str
    value: Decimal
    since: date


@dataclass(frozen=True)
class CompoundLine:
    """One compound of the vocabulary.

    Attributes:
        key: For addresses and lists.
        label: The whole label.
        descriptors: Words often said of it, joined with commas.
        low: Lower end of the book's range in `unit`; None where the books are silent.
        high: Its upper end.
        unit: As shown: "µg/l".
        how_known: How the book's range is known, in plain words.
        source: Where the range stands.
        ours: The brewery's own thresholds in force today.
        is_critical: Whether it is critical for the family the page is about.
        is_served: False for vocabulary only, never to be poured.
        serve: How it may be served, in plain words.
        keeping: How long it keeps once dosed.
        cause: Where it comes from.
        safety: What to mind in handling it.
        cas: Its CAS number; "" if none is known.
        chemical_name: Its chemical name; "" if none is known.
        synonyms: Wordings that name it beside its label.
    """

    key: str
    label: str
    descriptors: str
    low: Decimal | None
    high: Decimal | None
    unit: str
    how_known: str
    source: str
    ours: tuple[OursLine, ...]
    is_critical: bool
    is_served: bool
    serve: str
    keeping: str
    cause: str
    safety: str
    cas: str
    chemical_name: str
    synonyms: tuple[str, ...]


@dataclass(frozen=True)
class BackgroundLine:
    """What a base beer holds of a compound by itself, as in force today.

    Attributes:
        beer: The beer's key.
        compound: The compound's key.
        label: The compound's label.
        known: "measured", "assumed" or "unknown".
        value: In `unit`; None where it is unknown.
        unit: As shown.
        since: The day from which it counts.
    """

    beer: str
    compound: str
    label: str
    known: str
    value: Decimal | None
    unit: str
    since: date


@dataclass(frozen=True)
class OpenWordsLine:
    """Own words that wait for a meaning, and in how many answers they stand."""

    words: str
    answers: int


@dataclass(frozen=True)
class HistoryLine:
    """One statement about the shelf.

    Attributes:
        day: The day it was stated, at the brewery.
        time: The time, "14:32", at the brewery.
        who: Who stated it; "" if nobody said.
        what: What it is about: "Working threshold of diacetyl".
        value: What was said: "60 µg/l for all beers, from 1 Jan 2025".
        compound: Key of the compound it is about; "" for none.
        beer: Key of the base beer it is about; "" for none.
    """

    day: date
    time: str
    who: str
    what: str
    value: str
    compound: str
    beer: str


@dataclass(frozen=True)
class ShelfView:
    """The whole shelf.

    Attributes:
        answer: First half of the sentence.
        catch: The half that needs a person; "" if nothing does.
        lead: A sentence below.
        today: The day it is at the brewery.
        first_things: What to do before the first session; empty once all of it is done.
        brewery: Its name; "" until stated.
        time_zone: Its time zone; "" until stated.
        family: Key of the family that the sentence is about; "" without families.
        families: By label.
        beers: By label.
        compounds: By label.
        default_critical: The rulebook's list, for families without their own.
        backgrounds: By beer and compound.
        silent_words: Wordings said to name no compound.
        open_words: The most frequent first.
    """

    answer: str
    catch: str
    lead: str
    today: date
    first_things: tuple[FirstThing, ...]
    brewery: str
    time_zone: str
    family: str
    families: tuple[FamilyLine, ...]
    beers: tuple[BeerLine, ...]
    compounds: tuple[CompoundLine, ...]
    default_critical: tuple[Group, ...]
    backgrounds: tuple[BackgroundLine, ...]
    silent_words: tuple[str, ...]
    open_words: tuple[OpenWordsLine, ...]


@dataclass(frozen=True)
class PanelLine:
    """One person on the list.

    Attributes:
        person_id: For addresses.
        name: As shown.
        is_panellist: Whether they are on the panel.
        since_on: Since when; None if nobody said.
        refused_compounds: Keys of what they are not to be served.
        refused_beers: Keys of beers they are not to be served.
        refused: The same as labels, compounds first.
        language: In which their ballot speaks: "en", "de" or "es".
    """

    person_id: str
    name: str
    is_panellist: bool
    since_on: date | None
    refused_compounds: tuple[str, ...]
    refused_beers: tuple[str, ...]
    refused: tuple[str, ...]
    language: str = "en"


@dataclass(frozen=True)
class PanelListView:
    """The list of people.

    Attributes:
        answer: First half of the sentence.
        catch: The half that needs a person; "" if nothing does.
        lead: A sentence below.
        today: The day it is at the brewery.
        people: Everybody on record, by name.
        compounds: What somebody may not be to be served.
        beers: The same of base beers.
    """

    answer: str
    catch: str
    lead: str
    today: date
    people: tuple[PanelLine, ...]
    compounds: tuple[Choice, ...]
    beers: tuple[Choice, ...]
