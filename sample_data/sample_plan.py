"""What is poured at which session, to whom, in which order and under which code."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from math import log10
from typing import Any

from sample_draws import Draws

CODES = tuple(
    str(code) for code in range(101, 1000) if len(set(str(code))) > 1 and str(code)[1:] != "00"
)
_PER_UG = {"ng": 1000.0, "ug": 1.0, "mg": 0.001}


@dataclass(frozen=True)
class Sample:
    """One preparation.

    Attributes:
        mark: Tells it from the others of the session.
        method: Method code.
        compound: Compound key; None for a blank.
        level: Total multiple of the working threshold as the file says; "" if given as a dose.
        dose: Added amount with its unit; "" if given as a level.
        volume: What it went into, with its unit; "" if given as a level.
        actual: Total multiple that was really in the glass; 0 for a blank.
    """

    mark: str
    method: str
    compound: str | None = None
    level: str = ""
    dose: str = ""
    volume: str = ""
    actual: float = 0.0


@dataclass(frozen=True)
class Session:
    """One day's tasting.

    Attributes:
        number: 1 for the first.
        held_on: The day.
        family: Key of the beer family.
        flight: The samples in the glasses to be named; a sample poured twice stands there twice.
        sets: The forced-choice sets that follow, in their order.
    """

    number: int
    held_on: date
    family: str
    flight: tuple[Sample, ...]
    sets: tuple[Sample, ...]


@dataclass(frozen=True)
class Glass:
    """One glass, or one forced-choice set, before one panellist."""

    session: Session
    sitting: str
    person: int
    position: int
    code: str
    sample: Sample
    is_duplicate: bool


@dataclass
class Planner:
    """Makes the sessions one after another and remembers what has been poured.

    Attributes:
        truth: The whole of brewery.toml.
        poured: Glasses so far, by family and compound.
    """

    truth: Mapping[str, Any]
    poured: dict[tuple[str, str], float] = field(default_factory=dict)

    def sessions(self) -> list[Session]:
        """All sessions, the first one first."""
        days = session_days(self.truth["calendar"])
        return [self._session(number, day) for number, day in enumerate(days, start=1)]

    def _session(self, number: int, day: date) -> Session:
        draws = Draws(self.truth["seed"], 1, number)
        family = "wheat_beer" if number in self.truth["calendar"]["wheat"] else "pale_lager"
        sets = tuple(self._sets(number, family, draws))
        is_short = any(sample.method == "3afc" for sample in sets)
        return Session(number, day, family, self._flight(number, family, is_short, draws), sets)

    def _flight(self, number: int, family: str, is_short: bool, draws: Draws) -> tuple[Sample, ...]:
        plan = self.truth["flight"]
        size = plan["short_flight"] if is_short else draws.one_of(plan["sizes"])
        blanks = 1 if is_short else draws.one_of(plan["blanks"])
        has_twin = not is_short and draws.chance() < plan["duplicate_share"]
        chosen = self._due(number, family, size - blanks - has_twin, draws)
        spiked = [
            self._spiked(number, family, place, compound, draws)
            for place, compound in enumerate(chosen)
        ]
        poured = [*spiked, *spiked[:1]] if has_twin else spiked
        for sample in poured:
            key = (family, sample.compound or "")
            is_ordinary = not sample.level or 2 <= float(sample.level) <= 4
            self.poured[key] = self.poured.get(key, 0) + is_ordinary
        return (*poured, *[Sample("0", "naming")] * blanks)

    def _due(self, number: int, family: str, count: int, draws: Draws) -> list[str]:
        """The compounds whose turn it is, in random order."""
        failed = self.truth["failed_preparation"]
        turn = {}
        for compound, facts in self.truth["compounds"].items():
            if weight := facts["weight"][family]:
                so_far = self.poured.get((family, compound), 0)
                turn[compound] = (so_far + 1.5 * draws.chance()) / weight
        if number == failed["session"]:
            turn[failed["compound"]] = -1.0
        return draws.shuffled(sorted(turn, key=turn.__getitem__)[:count])

    def _spiked(self, number: int, family: str, place: int, compound: str, draws: Draws) -> Sample:
        mark = "ABCDEFGH"[place]
        failed = self.truth["failed_preparation"]
        if number == failed["session"] and compound == failed["compound"]:
            return Sample(mark, "naming", compound, "3")
        error = 2 ** (self.truth["model"]["dose_sd"] * draws.bell())
        if number in self.truth["flight"]["dosed"] and place == 1:  # not the one poured twice
            dose, volume, level = self._dose(family, compound, draws)
            return Sample(mark, "naming", compound, "", dose, volume, level * error)
        level = self._level(compound, draws)
        return Sample(mark, "naming", compound, f"{level:g}", actual=level * error)

    def _level(self, compound: str, draws: Draws) -> float:
        plan = self.truth["flight"]
        share = self.truth["compounds"][compound].get("strong_share", plan["strong_share"])
        is_strong = draws.chance() < share
        return float(draws.one_of(plan["strong" if is_strong else "levels"]))

    def _dose(self, family: str, compound: str, draws: Draws) -> tuple[str, str, float]:
        """A dose for about 3 times threshold, as a pipette gives it: three figures."""
        threshold = working_threshold(self.truth, compound, family)
        there = background_level(self.truth, compound, family)
        wanted_ug = (2.85 + 0.3 * draws.chance() - there) * threshold
        unit = "ng" if wanted_ug < 1 else "mg" if wanted_ug >= 1000 else "ug"
        amount = wanted_ug * _PER_UG[unit]
        amount = round(amount, 2 - int(log10(amount)))
        volume = draws.one_of([("1 l", 1.0), ("1000 ml", 1.0)])
        return f"{amount:g} {unit}", volume, there + amount / _PER_UG[unit] / threshold

    def _sets(self, number: int, family: str, draws: Draws) -> Iterator[Sample]:
        for series in self.truth["series"]:
            if series["session"] == number:
                levels = [series["lowest"] * 2**step for step in range(series["levels"])]
                yield from self._compared("3afc", [(series["compound"], x) for x in levels], draws)
        for triangles in self.truth["triangles"]:
            if triangles["session"] == number:
                asked = [(compound, triangles["level"]) for compound in triangles["compounds"]]
                yield from self._compared("triangle", asked, draws)

    def _compared(
        self, method: str, asked: Sequence[tuple[str, float]], draws: Draws
    ) -> Iterator[Sample]:
        for place, (compound, level) in enumerate(asked, start=1):
            error = 2 ** (self.truth["model"]["dose_sd"] * draws.bell())
            mark = f"{'R' if method == '3afc' else 'T'}{place}"
            yield Sample(mark, method, compound, f"{level:g}", actual=level * error)


def session_days(calendar: Mapping[str, Any]) -> list[date]:
    """The Thursdays from the first to the last that are not closed, some held a day earlier."""
    weeks = (calendar["last"] - calendar["first"]).days // 7 + 1
    thursdays = [calendar["first"] + timedelta(weeks=week) for week in range(weeks)]
    moved = calendar["moved_to_wednesday"]
    return [day - timedelta(day in moved) for day in thursdays if day not in calendar["closed"]]


def working_threshold(truth: Mapping[str, Any], compound: str, family: str) -> float:
    """Working threshold in micrograms per litre."""
    facts = truth["compounds"][compound]
    value = facts["thresholds"].get(family, facts["thresholds"]["all"])
    return float(value) / _PER_UG[facts["unit"].removesuffix("/L")]


def background_level(truth: Mapping[str, Any], compound: str, family: str) -> float:
    """Multiple of the working threshold in the base beer; 0 where none is stated or known."""
    for row in truth["families"][family]["backgrounds"]:
        if row["compound"] == compound and "value" in row:
            there_ug_l = row["value"] / _PER_UG[row["unit"].removesuffix("/L")]
            return float(there_ug_l / working_threshold(truth, compound, family))
    return 0.0


def pour(truth: Mapping[str, Any], session: Session) -> Iterator[Glass]:
    """Set the glasses of one session before those who came, each with a code of its own."""
    draws = Draws(truth["seed"], 2, session.number)
    codes = iter(draws.shuffled(CODES))
    orders = _balanced_orders(len(session.flight), draws)
    first_at = draws.chance()
    twins = {id(s) for s in session.flight if s.compound and session.flight.count(s) > 1}
    for person in range(len(truth["people"])):
        sitting = _sitting(truth, session, person)
        if sitting is None:
            continue
        order = orders[int(first_at * len(orders) + person) % len(orders)]
        row = [*(session.flight[place] for place in order), *session.sets]
        for position, sample in enumerate(row, start=1):
            code = next(codes)
            if sample.method != "naming":
                next(codes), next(codes)  # the two other glasses of the set
            is_twin = sample.method == "naming" and id(sample) in twins
            yield Glass(session, sitting, person, position, code, sample, is_twin)


def _sitting(truth: Mapping[str, Any], session: Session, person: int) -> str | None:
    """The sitting at which somebody came; None if they did not."""
    facts = truth["people"][person]
    draws = Draws(truth["seed"], 3, session.number, person)
    is_away, is_swapped = draws.chance() >= facts["attendance"], draws.chance() < 0.08
    is_with_us = facts.get("first", date.min) <= session.held_on <= facts.get("last", date.max)
    if is_away or not is_with_us or session.held_on in facts.get("missed", ()):
        return None
    other = {"early": "late", "late": "early"}
    return other[facts["shift"]] if is_swapped else str(facts["shift"])


def _balanced_orders(count: int, draws: Draws) -> list[list[int]]:
    """Orders in which every sample stands in every place, and before every other, equally often.

    Source:
        Williams (1949), Aust. J. Sci. Res. A 2:149-168: one square for an even count, the square
        and its mirror image for an odd one (from memory).
    """
    zigzag = [(place + 1) // 2 if place % 2 else -(place // 2) % count for place in range(count)]
    square = [[(step + shift) % count for step in zigzag] for shift in range(count)]
    if count % 2:
        square += [row[::-1] for row in square]
    names = draws.shuffled(range(count))
    return [[names[step] for step in row] for row in draws.shuffled(square)]
