"""A plan as the rows of tables; nothing is written here."""

from collections.abc import Iterator

from seatworthy.intake.tables import TableRow
from seatworthy.intake.words import fold
from seatworthy.sessions.plan import Plan, PlannedGlass, PlannedSitting
from seatworthy.sessions.wish import Wish
from seatworthy.steps.signing import salted
from seatworthy.store.ids import coded_serving_name, planned_sample_name, sitting_name


def plan_rows(wish: Wish, plan: Plan, session_id: str) -> Iterator[TableRow]:
    """The rows of a new session.

    Args:
        wish: What was asked for, its labels as they are kept.
        plan: What it was laid out to.
        session_id: Id of the session.
    """
    yield (
        "session",
        {"session_id": session_id, "session_on": wish.session_on, "label": wish.label},
    )
    yield "plan", _plan_row(wish, session_id)
    if wish.is_release:
        yield "release_session", {"session_id": session_id}
    for person in wish.preparers:
        row = {"session_id": session_id, "person_id": person, "is_preparer": True}
        yield "preparer", row
    for sitting in plan.sittings:
        sitting_id = sitting_name(wish.session_on, fold(wish.label), fold(sitting.label))
        yield from _sitting_rows(wish, plan, sitting, session_id, sitting_id)


def _plan_row(wish: Wish, session_id: str) -> dict[str, object]:
    return {
        "session_id": session_id,
        "purpose": wish.purpose,
        "beer": wish.beer,
        "volume_ml": wish.volume_ml,
        "abv_percent": wish.abv_percent,
        "has_control": wish.has_control,
        "spits": wish.spits,
        "spat_share": wish.limits.spat_share,
        "alcohol_limit_g": wish.limits.alcohol_g,
        "most_glasses": wish.limits.most_glasses,
        "seed": wish.seed,
        "repeats": wish.repeats,
    }


def _sitting_rows(
    wish: Wish, plan: Plan, sitting: PlannedSitting, session_id: str, sitting_id: str
) -> Iterator[TableRow]:
    yield (
        "sitting",
        {"sitting_id": sitting_id, "session_id": session_id, "label": sitting.label},
    )
    yield "sitting_time", {"sitting_id": sitting_id, "starts_at": sitting.starts_at}
    yield from _sample_rows(wish, plan, sitting_id)
    for seat in sitting.seats:
        row = {"sitting_id": sitting_id, "person_id": seat.person_id, "state": "expected"}
        yield "sitting_person", row
        for glass in seat.glasses:
            yield from _serving_rows(sitting_id, seat.person_id, glass)
    for number, order in enumerate(sitting.spares, start=1):
        for glass in order:
            if not glass.glasses:  # a set is poured for those who were planned
                yield "spare_serving", _spare_row(sitting_id, number, glass)


def _sample_rows(wish: Wish, plan: Plan, sitting_id: str) -> Iterator[TableRow]:
    for sample in plan.samples:
        sample_id = planned_sample_name(sitting_id, sample.mark)
        yield (
            "sample",
            {
                "sample_id": sample_id,
                "sitting_id": sitting_id,
                "beer": sample.beer or wish.beer,
                "compound": sample.compound,
                "given_level": sample.level,
                "dose_ug": None,
                "volume_ml": None,
                "mark": sample.mark,
            },
        )
        if sample.addition:
            yield "addition", {"sample_id": sample_id, **salted("addition", sample.addition)}
        if sample.asks:
            yield "sample_question", {"sample_id": sample_id, "compound": sample.asks}
        if sample.batch:
            yield "unknown_sample", {"sample_id": sample_id, "batch_id": sample.batch}
        if sample.knows:
            beer, variant = sample.knows
            yield "beer_question", {"sample_id": sample_id, "beer": beer, "variant": variant}


def _serving_rows(sitting_id: str, person_id: str, glass: PlannedGlass) -> Iterator[TableRow]:
    # a set goes by its first glass: what it goes by must not tell which one differs
    known_by = glass.glasses[0].code if glass.glasses else glass.code
    serving_id = coded_serving_name(sitting_id, person_id, glass.method, known_by)
    yield (
        "serving",
        {
            "serving_id": serving_id,
            "sample_id": planned_sample_name(sitting_id, glass.mark),
            "person_id": person_id,
            "method": glass.method,
            "position": glass.position,
            "blind_code": glass.code,
            "duplicate_mark": glass.duplicate_mark,
        },
    )
    for one in glass.glasses:
        yield (
            "set_glass",
            {
                "serving_id": serving_id,
                "place": one.place,
                "blind_code": one.code,
                "sample_id": planned_sample_name(sitting_id, one.mark),
                "is_odd": one.is_odd,
            },
        )


def _spare_row(sitting_id: str, number: int, glass: PlannedGlass) -> dict[str, object]:
    return {
        "sitting_id": sitting_id,
        "spare_no": number,
        "position": glass.position,
        "sample_id": planned_sample_name(sitting_id, glass.mark),
        "blind_code": glass.code,
        "duplicate_mark": glass.duplicate_mark,
    }
