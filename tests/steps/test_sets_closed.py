from math import sqrt

import planned_sets
import pytest
import thursday
from planned_sets import closed, others, sets_of

from seatworthy.steps.answers import correct_answer
from seatworthy.steps.asides import set_sample_aside
from seatworthy.steps.closer import closer_look
from seatworthy.steps.closing import reveal
from seatworthy.steps.feedback import feedback
from seatworthy.steps.glass_facts import estimates_by_cell
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.seen import Seen


@pytest.fixture
def planned(desk, people):
    """A session of three people with two glasses to name and six sets each."""
    return planned_sets.planned(desk, people)


def test_after_the_close_picks_are_evidence(desk, people, planned):
    closed(desk, planned, wrong="CG")
    rows = desk.store.rows("session_outcomes", session_id=planned)
    outcomes = [row["outcome"] for row in rows]
    assert outcomes.count("wrong") == 3 * 2
    assert outcomes.count("right") == 3 * 6
    with desk.store.reading() as cursor:
        (scored,) = cursor.execute("select count(*) from scored_answer").fetchone()
    assert scored == 3 * 8
    verify(desk)


def test_an_ascending_series_gives_everybody_a_threshold_of_their_own(desk, people, planned):
    """The best estimate after ASTM E679 (from memory): between the last miss and the next level."""
    closed(desk, planned, wrong="C")
    seen = Seen(desk, thursday.TODAY, None, desk.rulebook)
    found = estimates_by_cell(seen)
    (estimate,) = found[people["Ada"], "diacetyl", "pale_lager"]
    assert estimate.threshold == pytest.approx(sqrt(0.5 * 1))


def test_a_record_shows_the_glasses_of_a_planned_series(desk, people, planned):
    closed(desk, planned, wrong="C")
    near = closer_look(desk, people["Ada"], "diacetyl", "pale_lager")
    assert [(glass.method, glass.level, glass.outcome) for glass in near.glasses] == [
        ("3afc", 2, "right"),
        ("3afc", 1, "right"),
        ("3afc", 0.5, "wrong"),
    ]
    rows = desk.store.rows("own_series", until_on=thursday.TODAY)
    own = [(row["level"], row["is_right"]) for row in rows if row["person_id"] == people["Ada"]]
    assert own == [(0.5, False), (1.0, True), (2.0, True)]


def test_a_jug_of_blanks_set_aside_takes_its_sets_along(desk, people, planned):
    closed(desk, planned)
    facts = thursday.facts_of(desk, planned)
    blank = next(sample for sample in facts.samples.values() if sample.mark == "B")
    set_sample_aside(desk, blank.sample_id, "the blank was tainted", people["Bo"])
    counted = [glass for glass in thursday.facts_of(desk, planned).glasses if not glass.is_aside]
    assert {facts.samples[glass.sample_id].mark for glass in counted} == {"A"}


def test_the_reveal_counts_a_wrong_pick_as_missed(desk, people, planned):
    closed(desk, planned, wrong="G")
    samples = {sample.mark: sample for sample in reveal(desk, planned).samples}
    assert (samples["G"].answers, samples["G"].missed, samples["G"].other_names) == (3, 3, 0)
    assert samples["E"].named_right == 3


def test_a_correction_after_the_close_stands_on_the_reveal_as_picks(desk, people, planned):
    closed(desk, planned, wrong="C")
    glass = sets_of(desk, planned, people["Ada"])[0]
    correct_answer(desk, glass.serving_id, glass.blind_code, "misread", people["Bo"])
    (change,) = reveal(desk, planned).corrections
    assert change.before == f"picked {others(glass)[0]}"
    assert change.after == f"picked {glass.blind_code}"
    assert change.what == "/".join(glass.codes)


def test_somebodys_own_page_says_what_was_picked_and_where_it_was(desk, people, planned):
    closed(desk, planned, wrong="C")
    page = feedback(desk, planned, people["Ada"])
    low, *_, triangle, turned, two = page.glasses[2:]
    odd = sets_of(desk, planned, people["Ada"])[0].blind_code
    assert (low.outcome, low.was) == ("missed", f"Diacetyl, 0.5×, in {odd}")
    assert low.said.startswith("picked ")
    assert low.codes == sets_of(desk, planned, people["Ada"])[0].codes
    assert low.code == ""
    assert f"in {triangle.codes[1]}" in triangle.was
    assert f"in all but {turned.codes[1]}" in turned.was
    assert (two.outcome, len(two.codes)) == ("right", 2)


def test_only_glasses_to_be_named_are_compared_with_the_months_before(desk, people, planned):
    closed(desk, planned)
    page = feedback(desk, planned, people["Ada"])
    assert "Spiked glasses named right this time: 1 of 1" in page.compared
    assert {row.label: row.now_glasses for row in page.progress}["DMS"] == 0
