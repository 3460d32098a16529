"""Vessels keep their names, and what is told of a dose: too old, too late, unlike its fellow, overdrawn."""

from dataclasses import replace
from datetime import UTC, datetime, time, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import benched
import pytest
import thursday

from seatworthy.errors import PanelError, PlanRefused
from seatworthy.sessions.wish import WantedSample
from seatworthy.steps import dosing, vessel_steps
from seatworthy.steps.bench_equipment import TypedPipette, add_pipette
from seatworthy.steps.bench_facts import stocks
from seatworthy.steps.bench_limits import state_limits
from seatworthy.steps.bench_states import found_left
from seatworthy.steps.bench_writing import NewStock, add_stock
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.planning import preview, record_plan
from seatworthy.steps.preparation import preparation
from seatworthy.steps.prepare_words import when_words
from seatworthy.steps.recipes_again import work_out_again
from seatworthy.steps.sessions import session
from seatworthy.steps.shelf_keeping import state_keeping
from seatworthy.steps.shelf_writing import change_beer
from seatworthy.steps.table import seat_latecomer


def vessels(desk, session_id, mark):
    view = preparation(desk, session_id)
    return {v.key: v for one in view.letters if one.mark == mark for v in one.vessels}


def samples(desk, session_id, mark):
    """The samples of a letter by the sitting's label."""
    facts = thursday.facts_of(desk, session_id)
    labels = {s.sitting_id: s.label for s in facts.sittings}
    return {labels[s.sitting_id]: s for s in facts.samples.values() if s.mark == mark}


def left_of(desk, stock_id):
    return next(stock.left for stock in stocks(desk) if stock.stock_id == stock_id)


def test_somebody_who_comes_besides_renames_no_vessel(desk, people, bench):
    session_id = record_plan(desk, benched.wish(desk, people, spares=1))
    names = list(vessels(desk, session_id, "A"))
    dosing.dose_as_planned(desk, session_id, names, None)
    add_people(desk, ("Ina Holt",), since_on=None)
    ina = next(p.person_id for p in people_of_panel(desk) if p.name == "Ina Holt")
    early = thursday.facts_of(desk, session_id).sittings[0]
    before = {key: (v.where, v.dosed) for key, v in vessels(desk, session_id, "A").items()}
    seat_latecomer(desk, early.sitting_id, ina)
    after = {key: (v.where, v.dosed) for key, v in vessels(desk, session_id, "A").items()}
    assert before.items() <= after.items()


def test_in_place_of_a_vessel_put_away_another_is_asked_for(desk, people, dosed_session):
    dosing.dose_as_planned(desk, dosed_session, ["A1", "A2"], None)
    vessel_steps.put_away(desk, dosed_session, "A1", "it leaks", people["Bo"])
    found = vessels(desk, dosed_session, "A")
    assert list(found) == ["A1", "A2", "A3"]
    assert (found["A3"].where, found["A3"].next_step) == ("Early", "dosed")
    dosing.dose_as_planned(desk, dosed_session, ["A3"], None)
    assert [float(s.level) for s in samples(desk, dosed_session, "A").values()] == pytest.approx(
        [3, 3]
    )


def test_a_vessel_put_away_is_not_dosed(desk, people, dosed_session):
    vessel_steps.put_away(desk, dosed_session, "A1", "cracked", people["Bo"])
    with pytest.raises(PanelError, match="A1 is put away"):
        dosing.dose_as_planned(desk, dosed_session, ["A1"], None)
    with pytest.raises(PanelError, match="A1 is put away"):
        dosing.dose_otherwise(
            desk, dosed_session, "A1", dosing.OtherDose(amount=Decimal(200)), "", None
        )


def test_doses_worked_out_again_fill_new_vessels(desk, people, dosed_session):
    vessel_steps.put_away(desk, dosed_session, "A1", "cracked", people["Bo"])
    work_out_again(desk, dosed_session, benched.container(desk, "pitcher"), None)
    assert not any(v.is_put_away for v in vessels(desk, dosed_session, "A").values())


def test_each_vessel_loses_by_its_own_age(desk, people, bench):
    """Half-life arithmetic, vessel by vessel, and never a gain for one dosed after the start."""
    state_keeping(desk, "dms", "2", thursday.TODAY)
    day = thursday.TODAY + timedelta(days=1)
    wish = benched.wish(desk, people, volume_ml=Decimal(40), session_on=day)
    moved = tuple(replace(s, starts_at=s.starts_at + timedelta(days=1)) for s in wish.sittings)
    doubled = (WantedSample("dms", Decimal(3), glasses=2), WantedSample(None, None))
    session_id = record_plan(desk, replace(wish, sittings=moved, samples=doubled))
    assert list(vessels(desk, session_id, "A")) == ["A1", "A2", "A3"]
    dosing.dose_as_planned(desk, session_id, ["A1", "A2"], None)
    start = thursday.facts_of(desk, session_id).sittings[0].starts_at
    now = datetime.now(UTC).replace(tzinfo=None)
    ages = {"A1": (start - now).total_seconds() / 3600, "A2": -2.0}
    with desk.store.recording("prepared") as act:  # as if the second had been dosed after the start
        row = next(
            r
            for r in desk.store.rows("session_vessels", session_id=session_id)
            if r["vessel_no"] == 2
        )
        kept = ("sample_id", "vessel_no", "is_shared", "stock_id", "pipette_id", "setting_ul", "shots",
                "amount", "volume_ml", "person_id")  # fmt: skip
        late = {"is_done": True, "solvent_ul": 0, "dosed_at": start + timedelta(hours=2)}
        act.add("vessel_dosed", {**{name: row[name] for name in kept}, **late})
    expected = (3 * 0.5 ** (ages["A1"] / 2) + 3) / 2
    assert float(samples(desk, session_id, "A")["Early"].level) == pytest.approx(expected, rel=0.01)


def test_vessels_that_differ_are_not_for_qualification(desk, people, bench):
    wish = benched.wish(desk, people, volume_ml=Decimal(40))
    doubled = (WantedSample("dms", Decimal(3), glasses=2), WantedSample(None, None))
    session_id = record_plan(desk, replace(wish, samples=doubled))
    dosing.dose_as_planned(desk, session_id, ["A1"], None)
    half = dosing.OtherDose(amount=Decimal(165), shots=1)
    told = dosing.dose_otherwise(desk, session_id, "A2", half, "one shot only", None)
    assert "The vessels of A hold different levels" in told
    assert samples(desk, session_id, "A")["Early"].unfit == "its vessels held different levels"
    vessel_steps.put_away(desk, session_id, "A2", "too weak", people["Bo"])
    assert samples(desk, session_id, "A")["Early"].unfit == ""


def test_ethanol_of_the_doses_is_counted_with_the_alcohol(desk, people, bench):
    """Grams = ml × 0.789: 48 µl of ethanol in 330 ml, four glasses of 30 ml, are hardly anything ..."""
    plain = preview(desk, replace(benched.wish(desk, people), container=None))
    dosed = preview(desk, benched.wish(desk, people))
    assert Decimal(0) < dosed.swallowed_g - plain.swallowed_g < Decimal("0.05")


def test_doses_that_bring_too_much_ethanol_are_refused(desk, people, bench):
    """... and 30 ml of strong spirit in a bottle are a drink of their own."""
    strong = NewStock(
        "h2s", "reference", "S1", "3", gives_amount="91", gives_unit="ml", litres="1",
        full_amount="500", ethanol_percent="96", is_food_grade=True, is_bought_dilution=True,
    )  # fmt: skip
    add_stock(desk, strong)
    add_pipette(desk, TypedPipette("large", "1000", "10000", "50"))
    poured = (WantedSample("h2s", Decimal(3), glasses=2), WantedSample(None, None, glasses=2))
    wish = benched.wish(desk, people, samples=poured, spits=False)
    with pytest.raises(PlanRefused) as refused:
        preview(desk, wish)
    assert any("g of ethanol for one person" in fault for fault in refused.value.faults)


def test_what_was_found_to_be_left_stands_when_an_earlier_dose_is_corrected(
    desk, bench, dosed_session
):
    dosing.dose_as_planned(desk, dosed_session, ["A1"], None)
    found_left(desk, bench["diacetyl"], "0.5")
    dosing.dose_otherwise(
        desk, dosed_session, "A1", dosing.OtherDose(amount=Decimal(320), shots=2), "", None
    )
    assert left_of(desk, bench["diacetyl"]) == 500
    dosing.dose_as_planned(desk, dosed_session, ["A2"], None)
    assert left_of(desk, bench["diacetyl"]) == 170


def test_a_dose_is_corrected_also_when_its_lot_is_empty_by_now(desk, bench, dosed_session):
    found_left(desk, bench["dms"], "0.66")
    dosing.dose_as_planned(desk, dosed_session, ["C1", "C2"], None)
    dose = dosing.OtherDose(amount=Decimal(300), shots=2)
    assert "is on record" in dosing.dose_otherwise(desk, dosed_session, "C2", dose, "", None)


def test_more_taken_than_there_was_is_told(desk, bench, dosed_session):
    found_left(desk, bench["dms"], "0.4")
    told = dosing.dose_as_planned(desk, dosed_session, ["C1", "C2"], None)
    assert "More was taken of DMS reference, lot R1 than was there" in told


def test_a_correction_keeps_the_time_of_dosing(desk, dosed_session):
    now = datetime.now(desk.time_zone).replace(tzinfo=None, second=0, microsecond=0)
    at = max(now - timedelta(hours=1), datetime.combine(now.date(), time()))
    dosing.dose_as_planned(desk, dosed_session, ["C1"], None, at)
    before = desk.store.rows("session_vessels", session_id=dosed_session)[0]["dosed_at"]
    dose = dosing.OtherDose(amount=Decimal(300), shots=2)
    dosing.dose_otherwise(desk, dosed_session, "C1", dose, "", None)
    after = desk.store.rows("session_vessels", session_id=dosed_session)[0]
    assert (after["dosed_at"], after["amount"]) == (before, 300)


def test_above_its_ceiling_a_dose_is_told_and_not_worked_out(desk, people, bench, dosed_session):
    state_limits(desk, "diacetyl", "", "", "2", thursday.TODAY)
    with pytest.raises(PlanRefused, match="above its ceiling of 2×"):
        work_out_again(desk, dosed_session, benched.container(desk), None)
    told = dosing.dose_as_planned(desk, dosed_session, ["A1"], None)
    assert "A1 holds 3×, above its ceiling of 2×: don't serve it" in told


def test_without_a_threshold_a_dosed_level_is_not_known_and_never_zero(desk, people, bench):
    session_id = record_plan(desk, benched.wish(desk, people))
    dosing.dose_as_planned(desk, session_id, ["D1", "D2"], None)
    with desk.store.recording("shelf") as act:  # the beer goes to a family without thresholds
        act.add("beer_family", {"family": "stouts", "label": "Stouts"})
    change_beer(desk, "house pils", "stouts", "4.8")
    rows = desk.store.rows("session_samples", session_id=session_id)
    dosed = [row for row in rows if row["mark"] == "D"]
    assert all(row["dosed_level"] is None or row["dosed_level"] > 0 for row in dosed)


def test_too_old_by_the_start_is_said_when_it_is_dosed(desk, people, bench):
    day = thursday.TODAY + timedelta(days=3)
    wish = benched.wish(desk, people, session_on=day)
    moved = tuple(replace(s, starts_at=s.starts_at + timedelta(days=3)) for s in wish.sittings)
    session_id = record_plan(desk, replace(wish, sittings=moved))
    assert "it is too early now" in next(
        one.when for one in preparation(desk, session_id).letters if one.mark == "C"
    )
    told = dosing.dose_as_planned(desk, session_id, ["C1"], None)
    assert "C1 will be " in told
    assert "won't be for qualification" in told


@pytest.mark.parametrize(
    ("dose", "message"),
    [
        (dosing.OtherDose(amount=Decimal("1e-30")), "more than 0"),
        (dosing.OtherDose(amount=Decimal(330), shots=0), "1 to 50 shots"),
        (dosing.OtherDose(amount=Decimal(330), shots=51), "1 to 50 shots"),
    ],
)
def test_absurd_doses_are_refused(desk, dosed_session, dose, message):
    version = desk.version
    with pytest.raises(PanelError, match=message):
        dosing.dose_otherwise(desk, dosed_session, "A1", dose, "", None)
    assert desk.version == version


def test_somebody_unknown_and_a_vessel_named_twice(desk, dosed_session):
    with pytest.raises(PanelError, match="goes by that id"):
        dosing.dose_as_planned(desk, dosed_session, ["A1"], "nobody")
    assert dosing.dose_as_planned(desk, dosed_session, ["A1", "A1"], None).startswith("A1: dosed")


def test_the_session_counts_the_ethanol_of_its_doses(desk, people, bench):
    session_id = record_plan(desk, benched.wish(desk, people))
    told = session(desk, session_id).care[0]
    assert "g of alcohol, that of the doses included" in told
    plain = record_plan(desk, replace(benched.wish(desk, people), container=None, label="Plain"))
    assert "doses included" not in session(desk, plain).care[0]


def test_once_it_is_closed_the_preparation_is_only_read(desk, dosed_session):
    thursday.answer_all(desk, dosed_session)
    thursday.close(desk, dosed_session)
    view = preparation(desk, dosed_session)
    assert (view.answer, view.catch) == ("None of 10 vessels was ticked as dosed", "")


def test_a_vessel_in_place_of_another_may_be_put_away_too(desk, people, dosed_session):
    dosing.dose_as_planned(desk, dosed_session, ["A1"], None)
    for name in ("A1", "A3"):
        vessel_steps.put_away(desk, dosed_session, name, "it leaks", people["Bo"])
    found = vessels(desk, dosed_session, "A")
    assert list(found) == ["A1", "A2", "A3", "A4"]
    assert (found["A4"].where, found["A4"].next_step) == ("Early", "dosed")
    assert found["A2"].where == "Late"


def test_what_stands_in_comes_in_the_order_in_which_vessels_were_put_away(
    desk, people, dosed_session
):
    for name in ("A2", "A1"):
        vessel_steps.put_away(desk, dosed_session, name, "it leaks", people["Bo"])
    found = vessels(desk, dosed_session, "A")
    assert [(found[name].where) for name in ("A3", "A4")] == ["Late", "Early"]


def test_a_leaking_vessel_stays_put_away_when_its_dose_is_taken_back(desk, people, dosed_session):
    dosing.dose_as_planned(desk, dosed_session, ["A1"], None)
    vessel_steps.put_away(desk, dosed_session, "A1", "it leaks", people["Bo"])
    dosing.take_back_dose(desk, dosed_session, "A1", "never dosed", people["Bo"])
    assert vessels(desk, dosed_session, "A")["A1"].is_put_away


def test_vessels_alike_when_dosed_and_unlike_when_served_are_not_for_qualification(
    desk, people, bench
):
    """Eight hours apart at a half-life of two hours: a sixteenth of the one is left in the other."""
    state_keeping(desk, "dms", "2", thursday.TODAY)
    day = thursday.TODAY + timedelta(days=1)
    wish = benched.wish(desk, people, volume_ml=Decimal(40), session_on=day)
    moved = tuple(replace(s, starts_at=s.starts_at + timedelta(days=1)) for s in wish.sittings)
    doubled = (WantedSample("dms", Decimal(3), glasses=2), WantedSample(None, None))
    session_id = record_plan(desk, replace(wish, sittings=moved, samples=doubled))
    dosing.dose_as_planned(desk, session_id, ["A1"], None)
    assert not samples(desk, session_id, "A")["Early"].differs
    now = datetime.now(desk.time_zone).replace(tzinfo=None)
    dosing.dose_as_planned(desk, session_id, ["A2"], None, now - timedelta(hours=8))
    assert samples(desk, session_id, "A")["Early"].differs


def test_doses_worked_out_again_keep_to_the_alcohol_limit(desk, people, bench):
    poured = (WantedSample("h2s", Decimal(3), glasses=2), WantedSample(None, None, glasses=2))
    wish = benched.wish(desk, people, samples=poured, spits=False, container=None)
    session_id = record_plan(desk, wish)
    strong = NewStock(
        "h2s", "reference", "S1", "3", gives_amount="91", gives_unit="ml", litres="1",
        full_amount="500", ethanol_percent="96", is_food_grade=True, is_bought_dilution=True,
    )  # fmt: skip
    add_stock(desk, strong)
    add_pipette(desk, TypedPipette("large", "1000", "10000", "50"))
    with pytest.raises(PlanRefused, match="g of ethanol for one person"):
        work_out_again(desk, session_id, benched.container(desk), None)


def test_times_on_another_day_than_the_session_bear_their_day():
    dublin = ZoneInfo("Europe/Dublin")
    starts = [datetime(2027, 3, 28, 0, 30)]
    assert when_words(starts, "bottle", Decimal(12), dublin) == (
        "from 12:30 on 27 March to 23:30 on 27 March"
    )
    assert when_words(starts, "bottle", None, dublin) == "by 23:30 on 27 March"


def test_what_is_ready_and_too_old_is_said_on_top(desk, people, bench):
    day = thursday.TODAY + timedelta(days=3)
    poured = (WantedSample("dms", Decimal(3)), WantedSample(None, None))
    wish = benched.wish(desk, people, samples=poured, session_on=day)
    moved = tuple(replace(s, starts_at=s.starts_at + timedelta(days=3)) for s in wish.sittings)
    session_id = record_plan(desk, replace(wish, sittings=moved))
    names = [v.key for one in preparation(desk, session_id).letters for v in one.vessels]
    dosing.dose_as_planned(desk, session_id, names, None)
    for step in ("capped", "tight", "chilled"):
        vessel_steps.do_step(desk, session_id, names, step, None)
    assert preparation(desk, session_id).catch == "A is not for qualification."
