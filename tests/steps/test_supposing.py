import thursday

from seatworthy.steps.asides import set_sample_aside
from seatworthy.steps.closing import standing_changes
from seatworthy.steps.judging import judge_day
from seatworthy.steps.supposing import if_set_aside


def diacetyl_jugs(desk, session_id):
    facts = thursday.facts_of(desk, session_id)
    return [s.sample_id for s in facts.samples.values() if s.compound == "diacetyl"]


def test_what_is_foretold_is_what_happens_once_it_is_set_aside(desk, people):
    second = thursday.a_month_later(desk, thursday.a_session(desk, people))
    jug = diacetyl_jugs(desk, second)[0]
    before, foretold = judge_day(desk), if_set_aside(desk, jug)
    assert foretold
    set_sample_aside(desk, jug, "the stock was empty", people["Ada"])
    assert standing_changes(before, judge_day(desk)) == foretold


def test_foretelling_records_nothing(desk, people):
    session_id = thursday.a_session(desk, people)
    version = desk.version
    if_set_aside(desk, diacetyl_jugs(desk, session_id)[0])
    assert desk.version == version
