"""What is told of a dose that is on record: too old, too late, too strong, unlike its fellow, overdrawn."""

from collections.abc import Iterator, Sequence
from datetime import timedelta
from decimal import Decimal

from seatworthy.sessions.wording import plain
from seatworthy.steps.bench_facts import highest_level, limits_on
from seatworthy.steps.desk import Desk
from seatworthy.steps.recipes_kept import Vessel
from seatworthy.steps.session_facts import SessionFacts, open_session
from seatworthy.steps.vessels import SessionVessels

_SLACK = 1.02  # a pipette's step may lift a level so much above its ceiling; ours, no source


def dose_warnings(desk: Desk, session_id: str, names: Sequence[str]) -> str:
    """Sentences on vessels that were just dosed, in one line; "" if nothing is to be told."""
    facts = open_session(desk, session_id)
    own = SessionVessels(facts)
    vessels = [own.every[name] for name in names if name in own.every]
    found = [
        *(words for vessel in vessels for words in _of_vessel(own, vessel)),
        *_unlike(facts, vessels),
        *_overdrawn(desk, own, vessels),
    ]
    return "".join(f" {words}" for words in dict.fromkeys(found))


def _of_vessel(own: SessionVessels, vessel: Vessel) -> Iterator[str]:
    facts, dose = own.facts, own.dose_in(vessel)
    if dose is None:
        return
    starts = {s.sitting_id: s.starts_at for s in facts.sittings}
    for sample_id in vessel.sample_ids:
        sample = facts.samples[sample_id]
        start = starts[sample.sitting_id]
        if start is None:
            continue
        if dose.dosed_at > start:
            yield f"{vessel.name} was dosed after its sitting began; nothing is counted as lost."
        elif sample.keeps_h and start - dose.dosed_at > timedelta(hours=float(sample.keeps_h)):
            hours = (start - dose.dosed_at).total_seconds() / 3600
            yield (
                f"{vessel.name} will be {hours:.1f} hours old when it is served and keeps "
                f"{plain(sample.keeps_h)}: its answers won't be for qualification."
            )
    level = own.levels.get((vessel.sample_ids[0], vessel.number))
    compound = facts.samples[vessel.sample_ids[0]].compound
    ceiling = highest_level(limits_on(facts.desk, facts.head.session_on).get(compound or ""))
    if level is not None and level > float(ceiling) * _SLACK:
        yield (
            f"{vessel.name} holds {level:.3g}×, above its ceiling of {plain(ceiling)}×: don't serve it, put "
            "it away."
        )


def _unlike(facts: SessionFacts, vessels: Sequence[Vessel]) -> Iterator[str]:
    marks = {vessel.mark for vessel in vessels}
    for sample in facts.samples.values():
        if sample.mark in marks and sample.differs:
            yield (
                f"The vessels of {sample.mark} hold different levels, so nobody knows what is in one "
                "glass: its answers won't be for qualification unless one is put away."
            )


def _overdrawn(desk: Desk, own: SessionVessels, vessels: Sequence[Vessel]) -> Iterator[str]:
    used = {dose.stock_id for vessel in vessels if (dose := own.dose_in(vessel))}
    for row in desk.store.rows("bench_stocks"):
        there = row["full_amount"] if row["found_left"] is None else row["found_left"]
        if row["stock_id"] in used and there is not None and there < (row["used"] or Decimal(0)):
            yield f"More was taken of {row['label']} than was there: look at what is left of it."
