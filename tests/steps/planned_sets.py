"""A session with forced-choice sets for tests, its plan laid out by hand."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from itertools import count

import thursday

from seatworthy.intake.words import fold
from seatworthy.sessions.plan import (
    Plan,
    PlannedGlass,
    PlannedSample,
    PlannedSeat,
    PlannedSitting,
    SetGlass,
)
from seatworthy.sessions.wish import WantedSample, Wish
from seatworthy.steps.answers import enter_answer
from seatworthy.steps.desk import Desk
from seatworthy.steps.plan_rows import plan_rows
from seatworthy.steps.sheets import sheets
from seatworthy.store.ids import session_name

# A naming glass and a blank, then diacetyl ascending in 3-AFC, DMS in two triangles and one 2-AFC.
# A set is: the sample that differs from the blank, the method, and its glasses from left to right,
# whose odd one stands in capitals.
SAMPLES = (
    PlannedSample("A", "t2n", Decimal(4), "one capsule in 1 l", 1),
    PlannedSample("B", None, None, "", 1),
    PlannedSample("C", "diacetyl", Decimal("0.5"), "", 1, "3afc"),
    PlannedSample("D", "diacetyl", Decimal(1), "", 1, "3afc"),
    PlannedSample("E", "diacetyl", Decimal(2), "", 1, "3afc"),
    PlannedSample("F", "dms", Decimal(3), "", 2, "triangle"),
    PlannedSample("G", "dms", Decimal(2), "", 1, "2afc"),
)
SETS = (
    ("C", "3afc", "bbC"),
    ("D", "3afc", "bDb"),
    ("E", "3afc", "Ebb"),
    ("F", "triangle", "bFb"),
    ("F", "triangle", "fBf"),
    ("G", "2afc", "Gb"),
)
SAMPLES_OF_SETS_ALONE = (replace(SAMPLES[1], glasses=0), *SAMPLES[2:])
TASTERS = ("Ada", "Bo", "Carmen")
GLASSES_EACH = 2 + sum(len(glasses) for _, _, glasses in SETS)


def order(codes, *, names: bool = True) -> tuple[PlannedGlass, ...]:
    """Somebody's glasses: two to be named, then the sets."""
    single = [("A", ""), ("B", "")] if names else []
    singles = [PlannedGlass(n, next(codes), mark, None) for n, (mark, _) in enumerate(single, 1)]
    sets = [
        _set(position, *one, codes) for position, one in enumerate(SETS, start=len(singles) + 1)
    ]
    return (*singles, *sets)


def _set(position: int, mark: str, method: str, glasses: str, codes) -> PlannedGlass:
    parts = tuple(
        SetGlass(place, next(codes), letter.upper(), letter.isupper())
        for place, letter in enumerate(glasses, start=1)
    )
    odd = next(part.code for part in parts if part.is_odd)
    twice = mark if [own for own, _, _ in SETS].count(mark) > 1 else None
    return PlannedGlass(position, odd, mark, twice, method, parts)


def wish(people: Mapping[str, str], samples=SAMPLES) -> Wish:
    """What the plan would be asked for by."""
    asked = thursday.wish(people)
    (early, _) = asked.sittings
    return replace(
        asked,
        samples=tuple(
            WantedSample(s.compound, s.level, s.addition, s.glasses, s.method) for s in samples
        ),
        sittings=(replace(early, people=tuple(people[name] for name in TASTERS)),),
    )


def planned(desk: Desk, people: Mapping[str, str], *, names: bool = True) -> str:
    """Record the plan as rows; the session's id."""
    samples = SAMPLES if names else SAMPLES_OF_SETS_ALONE
    asked = wish(people, samples)
    codes = (str(code) for code in count(101))
    sitting = PlannedSitting(
        label=asked.sittings[0].label,
        starts_at=asked.sittings[0].starts_at,
        seats=tuple(PlannedSeat(people[name], order(codes, names=names)) for name in TASTERS),
        spares=(order(codes, names=names),),
    )
    plan = Plan(samples, (sitting,), Decimal(3), Decimal(12), (), ())
    session_id = session_name(asked.session_on, fold(asked.label))
    with desk.store.recording("plan") as act:
        act.add_all(plan_rows(asked, plan, session_id))
    return session_id


def sets_of(desk, session_id, person):
    """Somebody's sets, from the first served."""
    facts = thursday.facts_of(desk, session_id)
    sitting = facts.sittings[0].sitting_id
    return [glass for glass in facts.glasses_of(sitting, person) if glass.parts]


def own_sheet(desk, session_id, name="Ada Moran"):
    """Somebody's sheet."""
    return next(view for view in sheets(desk, session_id) if view.name == name)


def others(glass):
    """Codes of a set that are not the odd one's."""
    return [part.code for part in glass.parts if not part.is_odd]


def pick(desk, session_id, glass, code):
    """Type a code for one of Ada's sets."""
    key = own_sheet(desk, session_id).key
    return enter_answer(desk, session_id, key, glass.codes[0], code)


def answer_rest(desk, session_id, wrong=()):
    """Everything that waits: sets rightly but for those of the samples named, glasses as poured."""
    for view in sheets(desk, session_id):
        for glass in thursday.facts_of(desk, session_id).glasses:
            if glass.person_id != view.person_id or glass.kind:
                continue
            facts = thursday.facts_of(desk, session_id)
            sample = facts.samples[glass.sample_id]
            if glass.parts:
                said = others(glass)[0] if sample.mark in wrong else glass.blind_code
            else:
                said = sample.compound or "0"
            done = enter_answer(desk, session_id, view.key, glass.codes[0], said)
            assert done.outcome == "kept"


def closed(desk, session_id, wrong=()):
    """Answer everything, and close."""
    answer_rest(desk, session_id, wrong)
    thursday.close(desk, session_id)
