"""How the glasses were prepared is part of what a seat rests on, from the day anything of it is kept."""

from datetime import datetime, timedelta
from decimal import Decimal

import benched
import pytest
import thursday

from seatworthy.steps import dosing
from seatworthy.steps.bench_states import set_expiry
from seatworthy.steps.facts_text import FORM, FORM_PREPARED, facts_digest, facts_text
from seatworthy.steps.planning import record_plan

FAMILY = "pale_lager"


@pytest.fixture
def tasted(desk, people, bench):
    """A session dosed from the bench, answered and closed."""
    session_id = record_plan(desk, benched.wish(desk, people))
    dosing.dose_as_planned(desk, session_id, ["A1", "A2"], None)
    dose = dosing.OtherDose(amount=Decimal(200), shots=1)
    dosing.dose_otherwise(desk, session_id, "C1", dose, "", None)
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    return session_id


def text_of(desk, people, known_at=None):
    return facts_text(desk, people["Ada"], FAMILY, thursday.TODAY, known_at)


def now(desk):
    return max(row["recorded_at"] for row in desk.store.rows("history_acts"))


def test_without_a_preparation_the_text_is_of_the_first_form(desk, people):
    assert text_of(desk, people).split("\x1f")[0] == FORM


def test_with_one_every_dose_its_lot_and_its_hours_are_in_the_text(desk, people, bench, tasted):
    text = text_of(desk, people)
    lines = [line.split("\x1f") for line in text.splitlines()]
    assert lines[0][0] == FORM_PREPARED
    vessels = [line for line in lines if line[0] == "vessel"]
    assert {line[4] for line in vessels} == {"330.000000", "200.000000"}
    assert {line[2] for line in lines if line[0] == "stock"} == {"diacetyl", "dms"}
    assert any(line[0] == "keeps" and line[2] == "12.000" for line in lines)


def test_a_day_of_expiry_found_later_changes_the_text_and_not_that_of_before(
    desk, people, bench, tasted
):
    moment, before = now(desk), facts_digest(desk, people["Ada"], FAMILY, thursday.TODAY)
    set_expiry(desk, bench["diacetyl"], thursday.TODAY - timedelta(days=3), by=people["Bo"])
    assert facts_digest(desk, people["Ada"], FAMILY, thursday.TODAY) != before
    assert facts_digest(desk, people["Ada"], FAMILY, thursday.TODAY, moment) == before


def test_what_somebody_else_was_served_is_not_in_the_text(desk, people, bench, tasted):
    late = {s.sitting_id for s in thursday.facts_of(desk, tasted).sittings if s.label == "Late"}
    samples = thursday.facts_of(desk, tasted).samples.values()
    others = {s.sample_id for s in samples if s.sitting_id in late}
    assert not any(sample in text_of(desk, people) for sample in others)
    assert isinstance(now(desk), datetime)
