"""The preparation of a session: worked out, ticked off, and what was really done is the level."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal

import benched
import pytest
import thursday

from seatworthy.errors import PanelError, PlanRefused
from seatworthy.sessions.wish import WantedSample
from seatworthy.steps import dosing, vessel_steps
from seatworthy.steps.bench_equipment import TypedPipette, add_pipette
from seatworthy.steps.bench_facts import stocks
from seatworthy.steps.bench_limits import state_limits
from seatworthy.steps.bench_states import set_expiry, use_up
from seatworthy.steps.closing import reveal
from seatworthy.steps.competence import competence
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.planning import preview, record_plan, wish_again
from seatworthy.steps.preparation import preparation
from seatworthy.steps.recipes_again import work_out_again
from seatworthy.steps.records import record
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.session_facts import session_facts
from seatworthy.steps.sessions import session
from seatworthy.steps.shelf_amounts import Background, set_background
from seatworthy.steps.shelf_keeping import state_keeping
from seatworthy.steps.table import state_level


def letter(desk, session_id, mark):
    view = preparation(desk, session_id)
    return next(one for one in view.letters if one.mark == mark)


def left_of(desk, stock_id):
    return next(stock.left for stock in stocks(desk) if stock.stock_id == stock_id)


def scored(desk):
    return desk.store.rows("scored_answers", until_on=thursday.TODAY)


def levels(desk, session_id, mark):
    facts = session_facts(desk, session_id)
    return [float(s.level) for s in facts.samples.values() if s.mark == mark]


def holds(desk, ug_l):
    """State that the base beer holds so much DMS by itself."""
    stated = Background("house pils", "dms", "measured", ug_l, "µg/l", thursday.TODAY)
    set_background(desk, stated, is_sure=True)


def planned_for_tomorrow(desk, people):
    """The same session a day later, so that what is dosed now is dosed before it starts."""
    day = thursday.TODAY + timedelta(days=1)
    sittings = tuple(
        replace(s, starts_at=s.starts_at + timedelta(days=1))
        for s in benched.wish(desk, people).sittings
    )
    return record_plan(desk, benched.wish(desk, people, session_on=day, sittings=sittings))


def test_a_preview_says_what_is_pipetted_and_what_the_level_will_be(desk, people, bench):
    found = preview(desk, benched.wish(desk, people))
    doses = {dose.mark: dose for dose in found.doses}
    # 1 ml in 1 l gives 3 times; 330 µl in a bottle of 330 ml give the same (common practice, no source)
    assert doses["A"].take.startswith("2 shots of 165 µl with blue 200, from ")
    assert doses["A"].level.startswith("3×")
    assert doses["E"].what == "nothing added"


def test_doses_come_in_the_order_of_work(desk, dosed_session):
    marks = [one.mark for one in preparation(desk, dosed_session).letters]
    assert marks[0] == "E"
    assert marks.index("B") < marks.index("A")


def test_a_new_tip_is_asked_for_where_the_compound_changes(desk, dosed_session):
    tips = {one.mark: one.is_new_tip for one in preparation(desk, dosed_session).letters}
    assert tips["B"]
    assert not tips["A"]
    assert not tips["E"]


def test_each_sitting_has_bottles_of_its_own(desk, dosed_session):
    vessels = letter(desk, dosed_session, "A").vessels
    assert [vessel.key for vessel in vessels] == ["A1", "A2"]
    assert [vessel.where for vessel in vessels] == ["Early", "Late"]


def test_a_keg_serves_both_sittings_and_is_dosed_once(desk, people, bench):
    add_pipette(desk, TypedPipette("green 1000", "100", "1000", "5"))
    session_id = record_plan(desk, benched.wish(desk, people, "keg", samples=(
        WantedSample("diacetyl", Decimal(1)), WantedSample(None, None, glasses=2),
    )))  # fmt: skip
    (vessel,) = letter(desk, session_id, "A").vessels
    assert vessel.where == "Early and Late"
    before = left_of(desk, bench["diacetyl"])
    dosing.dose_as_planned(desk, session_id, ["A1"], None)
    # 1 ml in 1 l gives 3 times, so a third of a millilitre a litre gives 1 time, 10 l of it 3.33 ml
    assert before - left_of(desk, bench["diacetyl"]) == pytest.approx(
        Decimal(3333), abs=Decimal(10)
    )
    assert levels(desk, session_id, "A") == pytest.approx([1, 1], abs=0.005)


def test_dosing_as_planned_makes_the_level_and_takes_from_the_stock(desk, bench, dosed_session):
    before = left_of(desk, bench["diacetyl"])
    told = dosing.dose_as_planned(desk, dosed_session, ["A1", "A2"], None)
    assert told.startswith("A1 and A2: dosed as planned.")  # in the afternoon it adds: too late
    assert before - left_of(desk, bench["diacetyl"]) == 660
    assert levels(desk, dosed_session, "A") == pytest.approx([3, 3])


def test_dosing_twice_is_one_fact(desk, bench, dosed_session):
    dosing.dose_as_planned(desk, dosed_session, ["A1"], None)
    version = left_of(desk, bench["diacetyl"])
    assert dosing.dose_as_planned(desk, dosed_session, ["A1"], None).startswith("That is on record")
    assert left_of(desk, bench["diacetyl"]) == version


def test_what_really_went_in_is_the_level_of_that_sitting_alone(desk, dosed_session):
    dose = dosing.OtherDose(amount=Decimal(220), shots=2)
    told = dosing.dose_otherwise(desk, dosed_session, "A1", dose, "one shot slipped", None)
    assert "what really went in" in told
    dosing.dose_as_planned(desk, dosed_session, ["A2"], None)
    early, late = sorted(levels(desk, dosed_session, "A"))
    assert (early, late) == pytest.approx((2, 3))
    assert letter(desk, dosed_session, "A").vessels[0].remarks == ("one shot slipped",)


def test_a_level_that_somebody_stated_stands_before_what_was_dosed(desk, dosed_session):
    dosing.dose_as_planned(desk, dosed_session, ["A1", "A2"], None)
    sample = next(s for s in session_facts(desk, dosed_session).samples.values() if s.mark == "A")
    state_level(desk, sample.sample_id, Decimal("2.5"), None)
    assert sorted(levels(desk, dosed_session, "A")) == pytest.approx([2.5, 3])


def test_a_vessel_put_away_counts_no_more_for_the_level(desk, people, dosed_session):
    dosing.dose_otherwise(
        desk, dosed_session, "A1", dosing.OtherDose(amount=Decimal(200), shots=1), "", None
    )
    vessel_steps.put_away(desk, dosed_session, "A1", "it leaks", people["Bo"])
    assert sorted(levels(desk, dosed_session, "A")) == pytest.approx([3, 3])  # as planned again
    assert letter(desk, dosed_session, "A").vessels[0].is_put_away


def test_a_dose_is_taken_back_with_a_reason_and_the_stock_is_whole_again(
    desk, people, bench, dosed_session
):
    before = left_of(desk, bench["dms"])
    dosing.dose_as_planned(desk, dosed_session, ["C1"], None)
    vessel_steps.do_step(desk, dosed_session, ["C1"], "capped", None)
    with pytest.raises(PanelError, match="why"):
        dosing.take_back_dose(desk, dosed_session, "C1", " ", people["Bo"])
    dosing.take_back_dose(desk, dosed_session, "C1", "wrong bottle", people["Bo"])
    (vessel, _) = letter(desk, dosed_session, "C").vessels
    assert (vessel.dosed, vessel.steps, vessel.remarks) == ("", (), ("wrong bottle",))
    assert left_of(desk, bench["dms"]) == before


def test_steps_follow_one_another_and_are_taken_back_with_a_reason(desk, people, dosed_session):
    with pytest.raises(PanelError, match="D1 isn't dosed yet"):
        vessel_steps.do_step(desk, dosed_session, ["D1"], "capped", None)
    dosing.dose_as_planned(desk, dosed_session, ["D1"], None)
    for step in ("capped", "tight", "chilled"):
        vessel_steps.do_step(desk, dosed_session, ["D1"], step, None)
    assert letter(desk, dosed_session, "D").vessels[0].next_step == ""
    vessel_steps.take_back_step(desk, dosed_session, "D1", "tight", "foam at the cap", people["Bo"])
    assert letter(desk, dosed_session, "D").vessels[0].next_step == "tight"


def test_whoever_prepares_and_tastes_becomes_a_preparer(desk, people, dosed_session):
    told = dosing.dose_as_planned(desk, dosed_session, ["A1"], people["Ada"])
    assert "Ada Moran prepares and tastes" in told
    assert session_facts(desk, dosed_session).preparers == (people["Ada"],)


@pytest.mark.parametrize(
    ("dose", "message"),
    [
        (dosing.OtherDose(amount=Decimal(0)), "more than 0"),
        (dosing.OtherDose(amount=Decimal(-5)), "more than 0"),
        (dosing.OtherDose(amount=Decimal(100_000)), "more than a fifth"),
        (dosing.OtherDose(volume_ml=Decimal(0)), "1 ml to 100 l"),
        (dosing.OtherDose(amount=Decimal(900), shots=3), "can't be set to"),
        (dosing.OtherDose(stock_id="nothing"), "another compound"),
    ],
)
def test_what_cannot_have_gone_in_is_refused_and_nothing_recorded(
    desk, dosed_session, dose, message
):
    version = desk.version
    with pytest.raises(PanelError, match=message):
        dosing.dose_otherwise(desk, dosed_session, "A1", dose, "", None)
    assert desk.version == version


def test_nothing_goes_into_a_blank(desk, dosed_session):
    with pytest.raises(PanelError, match="E is a blank"):
        dosing.dose_otherwise(
            desk, dosed_session, "E1", dosing.OtherDose(amount=Decimal(10)), "", None
        )


def test_a_used_up_lot_is_refused_with_its_reason(desk, bench, dosed_session):
    use_up(desk, bench["diacetyl"])
    with pytest.raises(PanelError, match="used up"):
        dosing.dose_as_planned(desk, dosed_session, ["A1"], None)


def test_a_time_to_come_is_refused(desk, dosed_session):
    later = datetime.now(desk.time_zone).replace(tzinfo=None) + timedelta(hours=2)
    with pytest.raises(PanelError, match="still to come"):
        dosing.dose_as_planned(desk, dosed_session, ["A1"], None, later)


def test_an_unknown_vessel_is_named(desk, dosed_session):
    with pytest.raises(PanelError, match="called Z9"):
        dosing.dose_as_planned(desk, dosed_session, ["Z9"], None)


def test_without_a_stock_the_plan_says_so(desk, people, bench):
    samples = (WantedSample("h2s", Decimal(3)), WantedSample(None, None))
    with pytest.raises(PlanRefused, match="[Hh]ydrogen sulfide"):
        preview(desk, benched.wish(desk, people, samples=samples))


def test_what_is_written_by_hand_needs_no_stock(desk, people, bench):
    samples = (
        WantedSample("h2s", Decimal(3), "two drops of the made-up flask"),
        WantedSample(None, None),
    )
    session_id = record_plan(desk, benched.wish(desk, people, samples=samples))
    view = preparation(desk, session_id)
    assert view.by_hand == ("A: Hydrogen sulfide, two drops of the made-up flask.",)


def test_the_same_session_again_is_dosed_from_the_bench_again(desk, people, dosed_session):
    again = wish_again(desk, dosed_session)
    assert again.container == benched.container(desk)
    assert all(not sample.addition for sample in again.samples)


def test_doses_are_worked_out_again_only_while_nothing_is_dosed(desk, people, dosed_session):
    told = work_out_again(desk, dosed_session, benched.container(desk, "pitcher"), None)
    assert told.startswith("The doses of ")
    assert letter(desk, dosed_session, "A").into.startswith("1000 ml")
    dosing.dose_as_planned(desk, dosed_session, ["A1"], None)
    with pytest.raises(PanelError, match="dosed already"):
        work_out_again(desk, dosed_session, benched.container(desk), None)


def test_a_lot_that_turns_out_to_have_expired_marks_the_answers_and_erases_none(
    desk, people, bench, dosed_session
):
    dosing.dose_as_planned(desk, dosed_session, ["A1", "A2"], None)
    thursday.answer_all(desk, dosed_session)
    thursday.close(desk, dosed_session)
    counted = len(scored(desk))
    set_expiry(desk, bench["diacetyl"], thursday.TODAY - timedelta(days=1), by=people["Bo"])
    assert counted - len(scored(desk)) == 18  # nine people, two glasses each
    facts = session_facts(desk, dosed_session)
    unfit = {s.mark for s in facts.samples.values() if s.unfit}
    assert unfit == {"A"}
    assert all(glass.kind for glass in facts.glasses)


def test_a_preparation_kept_too_long_is_marked(desk, people, dosed_session):
    sample = next(s for s in session_facts(desk, dosed_session).samples.values() if s.mark == "C")
    assert sample.keeps_h == 12  # DMS keeps for hours, in a capped bottle on the day
    state_level(desk, sample.sample_id, None, 12 * 60 + 1)
    facts = session_facts(desk, dosed_session)
    assert facts.samples[sample.sample_id].unfit == "it was kept too long"


def test_what_is_lost_until_it_is_served_is_taken_off_the_level(desk, people, bench):
    """Half-life arithmetic: of what was added, 0.5 to the power of hours / half-life is left."""
    state_keeping(desk, "dms", "8", thursday.TODAY)
    session_id = planned_for_tomorrow(desk, people)
    dosing.dose_as_planned(desk, session_id, ["C1"], None)
    sample = next(
        s
        for s in session_facts(desk, session_id).samples.values()
        if s.mark == "C" and s.dosed_minutes
    )
    assert sample.dosed_minutes > 60
    expected = 3 * 0.5 ** (sample.dosed_minutes / 60 / 8)
    assert float(sample.level) == pytest.approx(expected, rel=0.01)
    assert sample.unfit == ("it was kept too long" if sample.dosed_minutes > 12 * 60 else "")


def test_the_background_is_part_of_the_level_and_not_of_the_dose(desk, people, bench):
    """Total = background + added: at 3 times and 1.5 there already, half as much is dosed."""
    plain = {dose.mark: dose for dose in preview(desk, benched.wish(desk, people)).doses}
    holds(desk, "48")  # 1.5 × 32
    session_id = record_plan(desk, benched.wish(desk, people))
    dosing.dose_as_planned(desk, session_id, ["C1", "C2"], None)
    assert plain["C"].take.startswith("2 shots of 165 µl")
    assert letter(desk, session_id, "C").take.startswith("1 shot of 165 µl")
    assert levels(desk, session_id, "C") == pytest.approx([3, 3])


def test_a_beer_that_holds_it_already_is_refused(desk, people, bench):
    holds(desk, "100")
    with pytest.raises(PlanRefused, match="3.1"):
        preview(desk, benched.wish(desk, people))


def test_above_its_ceiling_a_level_is_refused_until_the_ceiling_is_raised(desk, people, bench):
    samples = (WantedSample("diacetyl", Decimal(12)), WantedSample(None, None))
    with pytest.raises(PlanRefused, match="above its ceiling of 10×"):
        preview(desk, benched.wish(desk, people, samples=samples))
    state_limits(desk, "diacetyl", "", "", "15", thursday.TODAY)
    assert preview(desk, benched.wish(desk, people, samples=samples)).doses


def test_the_store_verifies_after_all_of_it(desk, people, dosed_session):
    dosing.dose_as_planned(desk, dosed_session, ["A1", "A2", "E1"], people["Bo"])
    vessel_steps.note_down(desk, dosed_session, "A1", "a little foam", people["Bo"])
    verify(desk)  # raises if anything can't be


def test_the_history_tells_of_vessels_and_not_of_what_is_in_them(desk, people, dosed_session):
    dosing.dose_as_planned(desk, dosed_session, ["A1"], people["Bo"])
    vessel_steps.do_step(desk, dosed_session, ["A1"], "capped", None)
    dosing.take_back_dose(desk, dosed_session, "A1", "wrong bottle", people["Bo"])
    told = [line.what for line in history_lines(desk, kinds=("sessions",)).lines[:3]]
    assert [words.split(": ")[-1] for words in told[1:]] == ["capped.", "dosed."]
    assert "its dose taken back" in told[0]
    assert "diacetyl" not in " ".join(told).casefold()


def test_the_history_tells_of_the_bench(desk, bench):
    told = " ".join(line.what for line in history_lines(desk, kinds=("bench",)).lines)
    assert "Pipette blue 200 on the bench." in told
    assert "1 stock on the bench: DMS reference, lot R1." in told


def test_the_session_says_how_far_its_vessels_are(desk, dosed_session):
    assert session(desk, dosed_session).preparing.startswith("10 of 10 vessels are not ticked")
    view = preparation(desk, dosed_session)
    names = [vessel.key for one in view.letters for vessel in one.vessels]
    dosing.dose_as_planned(desk, dosed_session, names, None)
    assert session(desk, dosed_session).preparing.startswith("Every vessel that is poured is dosed")


def test_what_is_not_for_qualification_is_told_with_its_reason(desk, people, bench, dosed_session):
    dosing.dose_as_planned(desk, dosed_session, ["A1", "A2"], None)
    set_expiry(desk, bench["diacetyl"], thursday.TODAY - timedelta(days=1), by=people["Bo"])
    thursday.answer_all(desk, dosed_session)
    thursday.close(desk, dosed_session)
    told = reveal(desk, dosed_session)
    assert "A (Diacetyl, Early): its lot had expired" in " ".join(told.not_counted)
    assert {s.mark for s in told.samples if s.unfit} == {"A"}
    assert [s.answers for s in told.samples if s.mark == "A"] == [0, 0]


def test_the_competence_record_names_why_such_a_glass_does_not_count(
    desk, people, bench, dosed_session
):
    dosing.dose_as_planned(desk, dosed_session, ["A1", "A2"], None)
    late = next(s for s in session_facts(desk, dosed_session).samples.values() if s.mark == "C")
    for sample in session_facts(desk, dosed_session).samples.values():
        if sample.mark == late.mark:
            state_level(desk, sample.sample_id, None, 13 * 60)
    set_expiry(desk, bench["diacetyl"], thursday.TODAY - timedelta(days=1), by=people["Bo"])
    thursday.answer_all(desk, dosed_session)
    thursday.close(desk, dosed_session)
    paper = competence(desk, people["Ada"], family="pale_lager")
    table = next(section for section in paper.sections if section.key == "glasses").table
    names = [column.name for column in table.columns]
    why = {
        row[names.index("compound")].casefold(): row[names.index("why it does not count")]
        for row in table.rows
    }
    assert why["dms"] == "kept too long: not for qualification"
    assert why["diacetyl"] in ("from an expired lot: not for qualification", "weaker than 2×")
    said = {row[names.index("why it does not count")] for row in table.rows}
    assert "from an expired lot: not for qualification" in said


def test_what_is_added_by_hand_stands_after_the_doses(desk, people, bench):
    samples = (
        WantedSample("h2s", Decimal(3), "two drops of the made-up flask"),
        WantedSample("dms", Decimal(3)),
        WantedSample(None, None),
    )
    lines = preview(desk, benched.wish(desk, people, samples=samples)).doses
    assert [line.mark for line in lines] == ["C", "B", "A"]
    assert lines[-1].take == "two drops of the made-up flask, by hand"


def test_a_vessel_is_put_away_once(desk, people, dosed_session):
    vessel_steps.put_away(desk, dosed_session, "A1", "it leaks", people["Bo"])
    with pytest.raises(PanelError, match="put away already"):
        vessel_steps.put_away(desk, dosed_session, "A1", "it leaks", people["Bo"])


def test_doses_are_worked_out_for_a_session_planned_without_the_bench(desk, people, bench):
    session_id = record_plan(desk, replace(benched.wish(desk, people), container=None))
    assert preparation(desk, session_id).letters == ()
    work_out_again(desk, session_id, benched.container(desk), people["Bo"])
    assert len(preparation(desk, session_id).letters) == 5


def test_the_record_says_what_is_kept_and_not_for_qualification(desk, people, bench, dosed_session):
    dosing.dose_as_planned(desk, dosed_session, ["A1", "A2"], None)
    thursday.answer_all(desk, dosed_session)
    thursday.close(desk, dosed_session)
    assert record(desk, people["Ada"], family="pale_lager").unfit == ""
    set_expiry(desk, bench["diacetyl"], thursday.TODAY - timedelta(days=1), by=people["Bo"])
    assert record(desk, people["Ada"], family="pale_lager").unfit == (
        "2 answers are kept and not for qualification: 2 to a lot that had expired."
    )
