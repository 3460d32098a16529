"""Rated and yes-or-no glasses from the plan to the record."""

from collections import Counter
from dataclasses import replace
from datetime import datetime, time
from decimal import Decimal

import pytest
import rated_glasses
import thursday
from rated_glasses import own, say

from seatworthy.errors import PanelError, StoreDamaged
from seatworthy.sessions.wish import INTENSITY, NAMING, YES_NO, WantedSitting
from seatworthy.steps.answers import correct_answer
from seatworthy.steps.asides import set_glass_aside
from seatworthy.steps.closing import reveal
from seatworthy.steps.feedback import feedback
from seatworthy.steps.judging import judge_day
from seatworthy.steps.panel import not_to_serve
from seatworthy.steps.papers import papers
from seatworthy.steps.planning import preview, record_plan, wish_again
from seatworthy.steps.ratings import rating_rows
from seatworthy.steps.reveal_views import Rated
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.seating import seat_latecomer
from seatworthy.steps.sheets import sheets
from seatworthy.steps.table import swapped

METHODS = {"A": NAMING, "B": NAMING, "C": INTENSITY, "D": INTENSITY, "E": YES_NO, "F": YES_NO}
SAID = {
    ("Ada", "C"): "8", ("Bo", "C"): "3", ("Ada", "D"): "1", ("Ada", "E"): "no", ("Bo", "F"): "yes",
}  # fmt: skip


# What these tests ask for, and the fixture whose store has it already; see conftest.
STARTS = {"closed": "with_closed", "planned": "with_planned"}


@pytest.fixture(scope="module")
def with_planned(made_from, with_people):
    return made_from(
        with_people, lambda desk: record_plan(desk, rated_glasses.wish(with_people.found))
    )


@pytest.fixture(scope="module")
def with_closed(made_from, with_planned):
    def answer_and_close(desk):
        rated_glasses.answer_all(desk, with_planned.found, SAID)
        thursday.close(desk, with_planned.found)
        return with_planned.found

    return made_from(with_planned, answer_and_close)


@pytest.fixture
def planned(desk, with_planned):
    """A session of five people with seven glasses each."""
    return with_planned.found


@pytest.fixture
def closed(desk, with_closed):
    """The same answered and closed."""
    return with_closed.found


def methods_by_mark(desk, session_id, person):
    facts = thursday.facts_of(desk, session_id)
    return {
        facts.samples[glass.sample_id].mark: glass.method
        for glass in facts.glasses
        if glass.person_id == person
    }


def results(desk, session_id):
    return {sample.mark: sample for sample in reveal(desk, session_id).samples}


def test_methods_and_questions_are_on_record_and_verify(desk, people, planned):
    facts = thursday.facts_of(desk, planned)
    assert methods_by_mark(desk, planned, people["Ada"]) == METHODS
    asks = {sample.mark: sample.asks for sample in facts.samples.values()}
    assert asks == {"A": None, "B": None, "C": "diacetyl", "D": "diacetyl", "E": "dms", "F": "dms"}
    verify(desk)


def test_a_question_changed_behind_the_records_back_is_found(desk, planned):
    with desk.store.reading() as cursor:
        cursor.execute("update sample_question set compound = 'h2s' where compound = 'dms'")
    with pytest.raises(StoreDamaged, match="changed after it was sealed"):
        verify(desk)


def test_a_latecomer_on_a_spare_order_is_asked_the_same(desk, people, planned):
    (sitting,) = thursday.facts_of(desk, planned).sittings
    seat_latecomer(desk, sitting.sitting_id, people["Fenna"])
    assert methods_by_mark(desk, planned, people["Fenna"]) == METHODS


def test_a_latecomer_with_a_fresh_order_is_asked_the_same(desk, people):
    session_id = record_plan(desk, rated_glasses.wish(people, spares=0))
    (sitting,) = thursday.facts_of(desk, session_id).sittings
    seat_latecomer(desk, sitting.sitting_id, people["Goran"])
    assert methods_by_mark(desk, session_id, people["Goran"]) == METHODS
    rated_glasses.answer_all(desk, session_id, {})
    verify(desk)


def test_a_spare_order_knows_its_questions_where_nobody_planned_gets_the_jug(desk, people):
    """At the late sitting only Hana sits, who is not to be served what is asked about there."""
    not_to_serve(desk, people["Hana"], ["diacetyl", "dms"], [])
    asked = rated_glasses.wish(people, leaves_out=True)
    late = WantedSitting("Late", datetime.combine(thursday.TODAY, time(14)), (people["Hana"],))
    session_id = record_plan(desk, replace(asked, sittings=(*asked.sittings, late)))
    (sitting,) = [s for s in thursday.facts_of(desk, session_id).sittings if s.label == "Late"]
    seat_latecomer(desk, sitting.sitting_id, people["Goran"])
    assert methods_by_mark(desk, session_id, people["Goran"]) == METHODS


def test_the_same_plan_again_asks_the_same(desk, people, planned):
    again = wish_again(desk, planned)
    asked = [(s.compound, s.glasses, s.method, s.asks) for s in again.samples]
    assert asked == [
        (s.compound, s.glasses, s.method, s.asks) for s in rated_glasses.wish(people).samples
    ]


def test_the_papers_carry_the_questions_of_people_and_spares(desk, planned):
    (sitting,) = papers(desk, planned).sittings
    for order in sitting.orders:
        asked = Counter((glass.method, glass.asks) for glass in order.glasses)
        assert asked == {(NAMING, ""): 2, (INTENSITY, "diacetyl"): 3, (YES_NO, "DMS"): 2}
    assert any(order.is_spare for order in sitting.orders)


def test_a_sheet_tells_what_each_glass_asks(desk, planned):
    rows = sheets(desk, planned)[0].rows
    asked = Counter((row.method, row.asks) for row in rows)
    assert asked == {(NAMING, ""): 2, (INTENSITY, "diacetyl"): 3, (YES_NO, "DMS"): 2}


@pytest.mark.parametrize(("said", "kept"), [("0", "0"), ("7", "7"), (" 10 ", "10"), ("7.0", "7")])
def test_a_whole_number_from_0_to_10_is_kept(desk, people, planned, said, kept):
    glass, _ = own(desk, planned, people["Ada"], "C")
    done = say(desk, planned, glass, said)
    assert (done.outcome, done.said) == ("kept", kept)
    assert own(desk, planned, people["Ada"], "C")[0].said == kept
    again = say(desk, planned, glass, said)
    assert (again.outcome, again.said) == ("known", kept)


@pytest.mark.parametrize("said", ["11", "7.5", "100", "-1", "strong", "?", "nothing", ""])
def test_what_is_not_on_the_scale_is_refused_and_nothing_stored(desk, people, planned, said):
    glass, _ = own(desk, planned, people["Ada"], "C")
    done = say(desk, planned, glass, said)
    assert done.outcome == "refused"
    assert own(desk, planned, people["Ada"], "C")[0].kind is None


def test_a_refused_rating_says_what_the_scale_is(desk, people, planned):
    glass, _ = own(desk, planned, people["Ada"], "C")
    assert say(desk, planned, glass, "12").sentence == (
        "A rating is a whole number from 0 (not there) to 10 (very strong), got 12. Nothing was stored."
    )
    assert say(desk, planned, glass, "").sentence.startswith("Type a whole number from 0 to 10")


@pytest.mark.parametrize(("said", "kind"), [("y", "yes"), ("ja", "yes"), ("n", "no"), ("0", "no")])
def test_yes_and_no_are_kept(desk, people, planned, said, kind):
    (glass,) = own(desk, planned, people["Ada"], "E")
    assert say(desk, planned, glass, said).outcome == "kept"
    assert own(desk, planned, people["Ada"], "E")[0].kind == kind


@pytest.mark.parametrize("said", ["perhaps", "7", "?", ""])
def test_what_is_neither_yes_nor_no_is_refused(desk, people, planned, said):
    (glass,) = own(desk, planned, people["Ada"], "E")
    assert say(desk, planned, glass, said).outcome == "refused"
    assert own(desk, planned, people["Ada"], "E")[0].kind is None


def test_a_rating_is_corrected_on_the_scale_alone(desk, people, closed):
    glass, _ = own(desk, closed, people["Ada"], "C")
    with pytest.raises(PanelError, match="whole number from 0"):
        correct_answer(desk, glass.serving_id, "80", "misread", people["Bo"])
    told = correct_answer(desk, glass.serving_id, "0", "misread", people["Bo"])
    assert told.endswith("“8” was corrected to “0”.")
    line = reveal(desk, closed).corrections[0]
    assert (line.before, line.after) == ("8", "0")


def test_a_rated_glass_is_neither_right_nor_missed(desk, closed):
    sample = results(desk, closed)["C"]
    assert (sample.answers, sample.named_right, sample.missed) == (0, 0, 0)
    assert not sample.is_suspect
    # Two each: 8 8, 3 3, and 6 6 of three others.
    assert sample.rated == Rated(10, Decimal(6), Decimal(3), Decimal(8))
    assert sample.rated.words == "median 6 (3 to 8)"
    assert results(desk, closed)["D"].rated == Rated(5, Decimal(0), Decimal(0), Decimal(1))


def test_yes_and_no_count_as_right_missed_and_false(desk, closed):
    there, plain = results(desk, closed)["E"], results(desk, closed)["F"]
    assert (there.answers, there.named_right, there.missed, there.other_names) == (5, 4, 1, 0)
    assert (plain.answers, plain.named_right, plain.missed, plain.other_names) == (5, 4, 0, 1)
    assert (there.asks, there.rated) == ("DMS", None)


def test_the_reveal_counts_ratings_beside_what_is_right_or_wrong(desk, closed):
    assert "35 answers came in, 35 of them count, 15 as ratings." in reveal(desk, closed).lead


def test_ratings_set_aside_are_not_among_them(desk, people, planned):
    rated_glasses.answer_all(desk, planned, SAID)
    for glass in own(desk, planned, people["Ada"], "C"):
        set_glass_aside(desk, glass.serving_id, "foam", people["Bo"])
    thursday.close(desk, planned)
    assert results(desk, planned)["C"].rated == Rated(8, Decimal(6), Decimal(3), Decimal(6))
    assert "35 answers came in, 33 of them count, 13 as ratings." in reveal(desk, planned).lead


def test_own_feedback_has_ratings_beside_the_others_median(desk, people, closed):
    view = feedback(desk, closed, people["Ada"])
    rated = [glass for glass in view.glasses if glass.outcome == "rated"]
    assert sorted(glass.said for glass in rated) == [
        "1 for diacetyl", "8 for diacetyl", "8 for diacetyl",
    ]  # fmt: skip
    spiked = [glass.others_rated for glass in rated if glass.was == "Diacetyl, 3×"]
    assert spiked == [Rated(4, Decimal(6), Decimal(3), Decimal(6))] * 2
    assert all((glass.others, glass.others_right) == (None, None) for glass in rated)
    # Of two named and two by yes and no, Ada said no to DMS.
    assert view.answer == "Three of four right."
    (missed,) = [glass for glass in view.glasses if glass.outcome == "missed"]
    assert (missed.was, missed.said) == ("DMS, 3×", "no to DMS")


def test_with_fewer_than_four_others_no_median_is_told(desk, people):
    comers = tuple(people[name] for name in rated_glasses.TASTERS[:4])
    sitting = WantedSitting("Early", datetime.combine(thursday.TODAY, time(10)), comers)
    session_id = record_plan(desk, rated_glasses.wish(people, sittings=(sitting,)))
    rated_glasses.answer_all(desk, session_id, {})
    thursday.close(desk, session_id)
    view = feedback(desk, session_id, people["Ada"])
    assert [glass.others_rated for glass in view.glasses] == [None] * 7


def test_a_session_of_ratings_alone_has_feedback_without_right_and_wrong(desk, people):
    samples = tuple(s for s in rated_glasses.SAMPLES if s.method == INTENSITY)
    session_id = record_plan(desk, rated_glasses.wish(people, samples=samples))
    rated_glasses.answer_all(desk, session_id, {})
    thursday.close(desk, session_id)
    view = feedback(desk, session_id, people["Ada"])
    assert view.answer == "You rated three glasses. A rating is neither right nor wrong."
    assert (view.compared, view.smell_next, view.progress) == ("", "", ())
    assert "15 answers came in, 15 of them count, 15 as ratings." in reveal(desk, session_id).lead


def test_the_record_has_the_ratings_with_the_blank_that_was_rated_for_the_same(
    desk, people, closed
):
    (row,) = rating_rows(desk, judge_day(desk, desk.today()), people["Ada"])
    assert (row.label, row.ratings, row.pairs, row.samples) == ("Diacetyl", 3, 1, 2)
    assert row.raters == 5


def test_nothing_is_counted_before_the_close(desk, people, planned):
    rated_glasses.answer_all(desk, planned, SAID)
    assert rating_rows(desk, judge_day(desk, desk.today()), people["Ada"]) == ()


def test_a_rating_for_something_else_is_shown_and_enters_no_figure(desk, people):
    samples = (
        *rated_glasses.SAMPLES[:2],
        replace(rated_glasses.SAMPLES[4], method=INTENSITY, asks="diacetyl"),
    )
    session_id = record_plan(desk, rated_glasses.wish(people, samples=samples))
    rated_glasses.answer_all(desk, session_id, {})
    thursday.close(desk, session_id)
    assert results(desk, session_id)["C"].rated.ratings == 5
    assert rating_rows(desk, judge_day(desk, desk.today()), people["Ada"]) == ()


def test_a_yes_about_something_else_is_no_hit(desk, people):
    """Two glasses are swapped: in the one that asks about DMS stands diacetyl."""
    samples = (
        *rated_glasses.SAMPLES[:2],
        replace(rated_glasses.SAMPLES[2], glasses=1, method=YES_NO),
        *rated_glasses.SAMPLES[4:],
    )
    session_id = record_plan(desk, rated_glasses.wish(people, samples=samples))
    (one,), (other,) = (own(desk, session_id, people["Ada"], mark) for mark in "CD")
    swapped(desk, one.serving_id, other.serving_id)
    rated_glasses.answer_all(desk, session_id, {})
    thursday.close(desk, session_id)
    outcomes = thursday.facts_of(desk, session_id).outcomes
    assert one.serving_id not in outcomes
    assert other.serving_id not in outcomes
    assert results(desk, session_id)["C"].answers == 4
    with desk.store.reading() as cursor:
        rows = cursor.execute(
            "select serving_id from scored_answer where serving_id in (?, ?)",
            [one.serving_id, other.serving_id],
        ).fetchall()
    assert rows == []


def test_a_plan_says_what_a_question_gives_away(desk, people):
    samples = (*rated_glasses.SAMPLES, replace(rated_glasses.SAMPLES[0], compound="diacetyl"))
    notes = preview(desk, rated_glasses.wish(people, samples=samples)).notes
    assert any("ask about diacetyl, which is also to be named" in note for note in notes)
