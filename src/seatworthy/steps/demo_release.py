"""The sample brewery's releases: a sitting of this morning, and calls of earlier tanks with what they had."""

from collections.abc import Iterator
from datetime import time
from decimal import Decimal
from typing import Final

import numpy as np

from seatworthy.decide.noses import Noses, named_mean
from seatworthy.steps.answers import enter_answer
from seatworthy.steps.batches import state_batch
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_release_words import NOTHING
from seatworthy.steps.judging import judge_day
from seatworthy.steps.noses import noses_of
from seatworthy.steps.planning import record_plan
from seatworthy.steps.release_answers import glasses_with, release_samples
from seatworthy.steps.release_wishes import ShortWish, release_wish, sitting_at
from seatworthy.steps.session_facts import SessionFacts, session_facts
from seatworthy.steps.sheets import sheet_key
from seatworthy.steps.talk import open_talk, say_after
from seatworthy.steps.tasted import NAMED, Tasted
from seatworthy.steps.tasted import NOTHING as SAID_NOTHING
from seatworthy.steps.weigh_views import Question
from seatworthy.steps.weighings_kept import keep_weighing, state_outcome
from seatworthy.steps.who_sits import who_sits

_FAMILY: Final = "pale_lager"
_STARTS: Final = time(10, 30)
_TASTERS: Final = 5
_CREW: Final = 2
_CALLED: Final = "DMS"  # what is called in the first tank of this morning
_CALLERS: Final = 2
_CHECK: Final = ("diacetyl", Decimal(3), "33 µl of the 1 g/l stock in 330 ml")
_EARLIER: Final = 24  # tanks of which it is known what they had
_FAULTY: Final = 0.4  # more than a brewery has, so that there is something to look at
_FAULTS: Final = ("dms", "diacetyl", "acetaldehyde", "t2n", "h2s")
_HOW: Final = ("laboratory", "retaste", "triangle")
_SEED: Final = 12


def hold_releases(desk: Desk) -> str:
    """Put this morning's release sitting and the calls of earlier tanks on record.

    Returns:
        The sitting's session id. Its talk is open, and it waits to be weighed and closed.
    """
    judged = judge_day(desk)
    sits = who_sits(desk, judged, _FAMILY)
    panel = [person for person in judged.people if sits.sits(person)][:_TASTERS]
    noses = noses_of(desk, judged, _FAMILY)
    for label, words, had, how in _earlier(noses, panel, judged.people):
        kept = keep_weighing(desk, Question(_FAMILY, label, words))
        state_outcome(desk, kept, had, how)
    others = [person for person in judged.people if person not in panel]
    beer = next(
        row["beer"] for row in desk.store.rows("beers_with_family") if row["family"] == _FAMILY
    )
    batches = [
        state_batch(desk, "Tank 12", beer, others[:_CREW]),
        state_batch(desk, "Tank 14", beer, others[:_CREW]),
    ]
    today = desk.today()
    short = ShortWish(
        today, "Release, morning", (sitting_at(today, _STARTS, "Morning", panel),), seed=_SEED
    )
    session_id = record_plan(desk, release_wish(desk, short, batches, check=_CHECK))
    _taste(desk, session_id)
    return session_id


def _taste(desk: Desk, session_id: str) -> None:
    """Two call it in the first tank; the spiked check glass is named by all but one."""
    facts = session_facts(desk, session_id)
    first = release_samples(desk, session_id)[0]
    callers = {glass.person_id for glass in glasses_with(facts, first.sample_id)[:_CALLERS]}
    people = facts.people()
    for glass in facts.glasses:
        sample = facts.samples[glass.sample_id]
        is_called = glass.sample_id == first.sample_id and glass.person_id in callers
        is_check = sample.compound is not None and glass.person_id != people[-1]
        said = _CALLED if is_called else "diacetyl" if is_check else "0"
        key = sheet_key(glass.sitting_id, glass.person_id)
        enter_answer(desk, session_id, key, glass.blind_code, said)
    open_talk(desk, facts.sittings[0].sitting_id)
    _talk(desk, session_facts(desk, session_id), first.sample_id, callers)


def _talk(desk: Desk, facts: SessionFacts, sample_id: str, callers: set[str]) -> None:
    """After the talk one more calls it."""
    glasses = glasses_with(facts, sample_id)
    persuaded = next(g.person_id for g in glasses if g.person_id not in callers)
    for glass in glasses:
        is_called = glass.person_id in {*callers, persuaded}
        say_after(desk, glass.serving_id, _CALLED if is_called else "0")


def _earlier(
    noses: Noses, panel: list[str], names: dict[str, str]
) -> Iterator[tuple[str, tuple[Tasted, ...], str, str]]:
    """Earlier tanks: what each taster said, drawn from what they usually find, and what it had."""
    draw = np.random.default_rng(_SEED)
    tasters = noses.of([noses.people.index(person) for person in panel])
    for number in range(_EARLIER):
        had = str(draw.choice(_FAULTS)) if draw.random() < _FAULTY else NOTHING
        level = 1.5 + 2.5 * draw.random()
        named = np.zeros(len(panel))
        if had != NOTHING:
            named = named_mean(tasters, level)[:, noses.compounds.index(had), 0]
        words = tuple(
            Tasted(person, names[person], *_word(had, chance, calls, draw))
            for person, chance, calls in zip(panel, named, tasters.calls, strict=True)
        )
        yield f"Tank {number % 9 + 1}, week {number // 9 + 1}", words, had, str(draw.choice(_HOW))


def _word(
    had: str, named: float, calls: float, draw: np.random.Generator
) -> tuple[str, str | None]:
    if draw.random() < named:
        return NAMED, had
    return (NAMED, str(draw.choice(_FAULTS))) if draw.random() < calls else (SAID_NOTHING, None)
