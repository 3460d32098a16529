"""Hostile wishes for a session: counts, levels, people, times and alcohol that can't be."""

from collections.abc import Mapping
from dataclasses import fields, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from random import Random
from typing import Any, Final
from zoneinfo import ZoneInfo

import fuzz_hostile as hostile

from seatworthy.sessions.plan import (
    BatchFacts,
    BeerFacts,
    CompoundFacts,
    PersonFacts,
    ShelfFacts,
)
from seatworthy.sessions.wish import Limits, WantedSample, WantedSitting, Wish

TODAY: Final = date(2026, 11, 9)
DAY: Final = date(2026, 11, 12)
ZONE: Final = ZoneInfo("Europe/Dublin")
COMPOUNDS: Final = {
    "diacetyl": CompoundFacts("Diacetyl", "yes", True),
    "dms": CompoundFacts("DMS", "yes", True, lingers=True, ceiling=Decimal(10)),
    "t2n": CompoundFacts("Trans-2-nonenal", "prediluted", True),
    "geosmin": CompoundFacts("Geosmin", "yes", False, "10 to 20 ng/l"),
    "furfural": CompoundFacts("Furfural", "no", True),
}
SHELF: Final = ShelfFacts(
    "Quillmere Pils", "pale_lager", "Pale lagers", COMPOUNDS, (Decimal(2), Decimal(4)), ("naming",),
    {"pils": BeerFacts("Quillmere Pils", "pale_lager", "Pale lagers"),
     "weisse": BeerFacts("Quillmere Weisse", "wheat_beer", "Wheat beers")},
    {"tank12": BatchFacts("Tank 12", "pils", frozenset({"ada"}))},
)  # fmt: skip
_WHO: Final = ("ada", "bo", "carmen", "dov", "esi", "finn")
_DECIMALS: Final = tuple(
    Decimal(text) for text in (
        "0", "-0", "-1", "NaN", "-NaN", "sNaN", "Infinity", "-Infinity", "1e400", "1e-400", "0.01",
        "100", "100.000000001", "0.0099", "5", "5.000000001", "10", "30", "200", "3", "2.5", "1e30",
    )
)  # fmt: skip
_COUNTS: Final = (-1, 0, 1, 2, 3, 7, 24, 25, 10**6, 10**12, -(10**12))
METHODS: Final = ("naming", "3afc", "triangle", "2afc", "a_not_a", "intensity", "", "duo_trio", "x")


def people(draw: Random) -> dict[str, PersonFacts]:
    """Six people, of whom some are not to be served something."""
    found = {who: PersonFacts(who.capitalize()) for who in _WHO}
    for _ in range(draw.choice((0, 0, 1, 2))):
        refused = frozenset(draw.sample(sorted(COMPOUNDS), draw.randint(1, 2)))
        beers = frozenset(
            {draw.choice(("weisse", "weisse", "pils"))} if draw.random() < 0.2 else ()
        )
        who = draw.choice(_WHO)
        found[who] = replace(found[who], refused_compounds=refused, refused_beers=beers)
    return found


def good_wish(draw: Random) -> Wish:
    """A wish that is well, of one of the kinds that are planned."""
    samples = [WantedSample(key, Decimal(draw.choice(("2", "3", "2.5"))), "", draw.randint(1, 2),
                            draw.choice(("naming", "naming", "naming", "3afc", "2afc")))
               for key in draw.sample(("diacetyl", "dms", "t2n"), draw.randint(1, 3))]  # fmt: skip
    samples.append(WantedSample(None, None, "", draw.randint(1, 2)))
    is_release = draw.random() < 0.15
    if is_release:
        samples = [replace(sample, method="naming") for sample in samples[-2:]]
        samples.append(WantedSample(None, None, batch="tank12"))
    elif draw.random() < 0.1:
        samples.append(WantedSample("dms", Decimal(3), "", 1, "intensity", "dms"))
    come = draw.sample(_WHO, draw.randint(1, 6))
    groups = draw.randint(1, min(2, len(come)))
    return Wish(
        session_on=DAY, label="Thursday panel", purpose="qualification", beer="pils",
        abv_percent=Decimal("4.8"), volume_ml=Decimal(draw.choice((20, 30))), samples=tuple(samples),
        sittings=tuple(
            WantedSitting(f"Shift {n}", datetime(2026, 11, 12, 10 + n), tuple(come[n::groups]))
            for n in range(groups)
        ),
        has_control=draw.random() < 0.7, spits=draw.random() < 0.8, spares=draw.randint(0, 2),
        leaves_out=draw.random() < 0.7, seed=draw.randint(0, 10**6), is_release=is_release,
        limits=Limits(most_glasses=draw.choice((8, 16, 24)), alcohol_g=Decimal(draw.choice((8, 20)))),
        flight=draw.choice((None, None, None, 3, 4)), strong_late=draw.random() < 0.5,
    )  # fmt: skip


def spoiled(draw: Random, wish: Wish) -> Wish:
    """A wish with something in it that can't be."""
    what = draw.random()
    if what < 0.35 and wish.samples:
        at = draw.randrange(len(wish.samples))
        sample = _changed(draw, wish.samples[at], _OF_A_SAMPLE)
        return replace(wish, samples=(*wish.samples[:at], sample, *wish.samples[at + 1 :]))
    if what < 0.5 and wish.sittings:
        at = draw.randrange(len(wish.sittings))
        sitting = _changed(draw, wish.sittings[at], _OF_A_SITTING)
        return replace(wish, sittings=(*wish.sittings[:at], sitting, *wish.sittings[at + 1 :]))
    if what < 0.62:
        return replace(wish, limits=_changed(draw, wish.limits, _OF_LIMITS))
    if what < 0.72 and wish.samples:
        return replace(
            wish, samples=(*wish.samples, draw.choice(wish.samples)) * draw.choice((1, 9))
        )
    return _changed(draw, wish, _OF_A_WISH)


def _changed(draw: Random, part: Any, makers: Mapping[str, Any]) -> Any:
    name = draw.choice([entry.name for entry in fields(part) if entry.name in makers])
    return replace(part, **{name: makers[name](draw)})


def _decimal(draw: Random) -> Decimal:
    return draw.choice(_DECIMALS)


def _label(draw: Random) -> str:
    """What the steps would let through as a label; hidden characters are theirs to refuse."""
    found = hostile.text(draw)[:60]
    return found if found.isprintable() else "Shift 9"


def _moment(draw: Random) -> datetime:
    return draw.choice((
        datetime(1, 1, 1), datetime(9999, 12, 31, 23, 59, 59), datetime(2026, 3, 29, 1, 30),
        datetime(2026, 11, 12), datetime(2026, 11, 12, 23, 59, 59, 999999), datetime(2026, 11, 13, 9),
        datetime(2026, 10, 25, 1, 30), datetime(2027, 3, 28, 1, 30),
    ))  # fmt: skip


def _some(draw: Random) -> tuple[str, ...]:
    return draw.choice(
        ((), ("ada", "ada"), ("nobody",), ("",), ("ada", "bo", "bo"), _WHO, ("ada",))
    )


_OF_A_SAMPLE: Final = {
    "compound": lambda d: d.choice((None, "dms", "geosmin", "furfural", "", "no such", "t2n")),
    "level": lambda d: d.choice((None, *_DECIMALS)),
    "glasses": lambda d: d.choice(_COUNTS),
    "method": lambda d: d.choice(METHODS),
    "asks": lambda d: d.choice((None, "dms", "t2n", "no such", "")),
    "batch": lambda d: d.choice((None, "tank12", "no such")),
    "knows": lambda d: d.choice((None, ("pils", "own"), ("pils", "sister"), ("x", "y"), ("", ""))),
    "beer": lambda d: d.choice((None, "pils", "weisse", "no such", "")),
    "addition": hostile.text,
}
_OF_A_SITTING: Final = {"label": _label, "starts_at": _moment, "people": _some}
_OF_LIMITS: Final = {
    "most_glasses": lambda d: d.choice(_COUNTS), "alcohol_g": _decimal, "spat_share": _decimal,
}  # fmt: skip
_OF_A_WISH: Final = {
    "session_on": lambda d: d.choice((date.min, date.max, TODAY, TODAY - timedelta(days=1),
                                      TODAY + timedelta(days=366), TODAY + timedelta(days=367))),
    "label": _label, "purpose": lambda d: d.choice(("training", "monitoring", "", "x")),
    "beer": lambda d: d.choice(("pils", "weisse", "", "no such")),
    "abv_percent": _decimal, "volume_ml": _decimal, "samples": lambda _: (),
    "sittings": lambda _: (), "has_control": lambda d: d.random() < 0.5,
    "spits": lambda d: d.random() < 0.5, "preparers": _some, "spares": lambda d: d.choice(_COUNTS),
    "flight": lambda d: d.choice((None, *_COUNTS)), "is_release": lambda d: d.random() < 0.5,
    "seed": lambda d: d.choice((0, 2**31 - 1, 2**31)),
}  # fmt: skip
