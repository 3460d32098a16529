from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from asked import SHELF, blank, laid_out, orders_of, people_with, sitting, spiked, wish

from seatworthy.sessions.codes import CODES
from seatworthy.sessions.layout import glasses_of, lay_out
from seatworthy.sessions.orders import check_balance
from seatworthy.sessions.plan import PersonFacts, PlannedGlass


def test_samples_get_letters_in_the_order_of_the_wish():
    plan = laid_out()
    assert [(s.mark, s.compound, s.level, s.glasses) for s in plan.samples] == [
        ("A", "diacetyl", Decimal(3), 2),
        ("B", "dms", Decimal(3), 1),
        ("C", None, None, 2),
    ]


def test_what_will_be_added_is_carried_over():
    dosed = replace(spiked("diacetyl"), addition="18 µl of the 10 mg/l stock in 1.2 l")
    plan = laid_out(wish(samples=(dosed, blank())))
    assert [s.addition for s in plan.samples] == ["18 µl of the 10 mg/l stock in 1.2 l", ""]


def test_every_sitting_has_its_people_in_the_order_of_the_wish():
    people = [[seat.person_id for seat in sitting.seats] for sitting in laid_out().sittings]
    assert people == [["ada", "bo", "carmen"], ["dov", "esi", "finn"]]


def test_starts_are_in_utc():
    asked = wish(session_on=date(2027, 7, 1), sittings=(sitting(day=date(2027, 7, 1)),))
    assert laid_out(asked).sittings[0].starts_at == datetime(2027, 7, 1, 13)


def test_glasses_of_a_sample_poured_twice_are_marked_as_duplicates():
    for order in orders_of(laid_out()):
        marked = {glass.mark: glass.duplicate_mark for glass in order}
        assert marked == {"A": "A", "B": None, "C": "C"}


def test_each_sitting_gets_its_spare_orders():
    plan = laid_out(wish(spares=3))
    assert [len(sitting.spares) for sitting in plan.sittings] == [3, 3]


def test_no_spare_order_is_made_if_none_is_wanted():
    assert [sitting.spares for sitting in laid_out(wish(spares=0)).sittings] == [(), ()]


def test_orders_are_balanced_over_both_sittings_together():
    """Six people, six different glasses: one whole design."""
    samples = tuple(spiked("diacetyl", level) for level in ("2", "2.5", "3", "3.5", "4", "5"))
    plan = laid_out(wish(samples=samples, spares=0))
    check_balance([["ABCDEF".index(glass.mark) for glass in order] for order in orders_of(plan)])


def test_alcohol_is_counted_with_the_control_and_the_spat_share():
    """Six glasses of 30 ml at 4.8% hold 180 x 0.048 x 0.789 = 6.82 g; a fifth of it is 1.36 g."""
    plan = laid_out()
    assert (plan.swallowed_g, plan.alcohol_g) == (Decimal("6.82"), Decimal("1.36"))


def test_alcohol_counts_whole_if_not_everybody_spits():
    plan = laid_out(wish(spits=False))
    assert plan.alcohol_g == plan.swallowed_g


def test_without_a_control_there_is_a_glass_less_of_alcohol():
    assert laid_out(wish(has_control=False)).swallowed_g == Decimal("5.68")


def given_to(plan, person):
    return next(s.glasses for t in plan.sittings for s in t.seats if s.person_id == person)


def test_what_somebody_is_not_to_be_served_is_left_out_and_the_others_move_up():
    plan = laid_out(wish(leaves_out=True), people_with(bo={"diacetyl"}))
    glasses = given_to(plan, "bo")
    assert [glass.position for glass in glasses] == [1, 2, 3]
    assert sorted(glass.mark for glass in glasses) == ["B", "C", "C"]


def test_what_one_person_is_not_to_be_served_stays_in_for_the_others():
    plan = laid_out(wish(leaves_out=True), people_with(bo={"diacetyl"}))
    assert [len(order) for order in orders_of(plan)] == [5, 3, 5, 5, 5, 5, 5, 5]


def test_what_is_left_out_is_said():
    plan = laid_out(wish(leaves_out=True), people_with(bo={"diacetyl", "dms"}, esi={"geosmin"}))
    assert plan.left_out == ("Bo Marsh gets no diacetyl and DMS and tastes 2 glasses.",)


def test_nothing_is_left_out_of_a_plan_that_serves_everybody_everything():
    assert laid_out().left_out == ()


def test_the_last_codes_left_are_enough():
    """Six people and two spares with five glasses each: 40 codes."""
    plan = laid_out(taken=CODES[40:])
    assert {glass.code for order in orders_of(plan) for glass in order} == set(CODES[:40])


def test_a_plan_is_drawn_the_same_from_its_seed_in_every_version():
    asked = wish(
        samples=(spiked("diacetyl", glasses=2), blank()),
        sittings=(sitting(people=("ada", "bo")),),
        spares=0,
        seed=2026,
    )
    drawn = [[(g.code, g.mark) for g in order] for order in orders_of(laid_out(asked))]
    assert drawn == [
        [("373", "A"), ("529", "B"), ("662", "A")],
        [("137", "A"), ("966", "A"), ("343", "B")],
    ]


def test_an_order_is_numbered_and_given_its_codes():
    assert glasses_of(("B", "A", "B"), iter(["345", "678", "901"])) == (
        PlannedGlass(1, "345", "B", "B"),
        PlannedGlass(2, "678", "A", None),
        PlannedGlass(3, "901", "B", "B"),
    )


def test_a_negative_seed_is_a_slip():
    with pytest.raises(ValueError, match="seed is 0 or more, got -1"):
        laid_out(wish(seed=-1))


def test_another_zone_gives_another_moment():
    asked = wish(sittings=(sitting(people=("x",)),))
    people = {"x": PersonFacts("Xenia Lund")}
    plan = lay_out(asked, SHELF, people, (), date(2026, 11, 1), ZoneInfo("America/Chicago"))
    assert plan.sittings[0].starts_at == datetime(2026, 11, 12, 20)
