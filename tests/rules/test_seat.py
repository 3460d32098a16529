from dataclasses import replace
from datetime import date

import pytest

from seatworthy.rules.compound import CompoundVerdict
from seatworthy.rules.panel import Sitter, judge_panel, judge_sitting
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.rules.rulebook import StartUpRule
from seatworthy.rules.seat import judge_critical, judge_seat, nearest_items, standing_of_item
from seatworthy.rules.verdict import Standing, Verdict

BOOK = rulebook_on_menu("default")
MET, NOT, OPEN, BLIND = (
    Standing.MET,
    Standing.NOT_MET,
    Standing.TOO_LITTLE,
    Standing.INSENSITIVE,
)
ENDS = date(2026, 9, 1)
LONGEST = date(2026, 12, 1)
GOOD = Verdict("other", MET, "Fine.")


def cell(standing, until=ENDS):
    return CompoundVerdict(
        Verdict("compound", standing, "."), ENDS, until if standing is MET else None
    )


def items(*standings):
    return {(f"c{i}",): standing for i, standing in enumerate(standings)}


def seat(standings, others=(GOOD,), untils=None):
    cells = {f"c{i}": cell(s, untils[i] if untils else ENDS) for i, s in enumerate(standings)}
    critical = [(f"c{i}",) for i in range(len(standings))]
    return judge_seat(critical, cells, others, BOOK.seat, LONGEST)


@pytest.mark.parametrize(
    ("standings", "expected"),
    [
        ((MET, MET, MET, MET, OPEN, OPEN), MET),
        ((MET, MET, MET, MET, OPEN, NOT), MET),
        ((MET, MET, MET, MET, NOT, NOT), NOT),
        ((MET, MET, MET, MET, BLIND, NOT), MET),
        ((MET, MET, MET, OPEN, OPEN, NOT), OPEN),
        ((MET, MET, BLIND, BLIND, BLIND, OPEN), NOT),
        ((OPEN,) * 6, OPEN),
    ],
)
def test_a_seat_asks_for_four_met_and_at_most_one_not_met(standings, expected):
    assert judge_critical(items(*standings), BOOK.seat).standing is expected


def test_of_a_group_one_counts():
    cells = {"acetic_acid": cell(NOT), "lactic_acid": cell(MET)}
    group = ("acetic_acid", "lactic_acid")
    assert standing_of_item(group, cells) is MET
    assert standing_of_item(group, {"acetic_acid": cell(NOT)}) is OPEN
    assert standing_of_item(group, {c: cell(NOT) for c in group}) is NOT
    assert standing_of_item(group, {c: cell(BLIND) for c in group}) is BLIND


def test_a_seat_ends_when_too_few_compounds_would_still_stand():
    untils = [date(2026, 10, day) for day in (1, 2, 3, 4, 5, 6)]
    assert seat((MET,) * 6, untils=untils).until == date(2026, 10, 3)


def test_a_seat_is_never_longer_than_a_decision_is_valid():
    far = [date(2028, 1, 1)] * 6
    assert seat((MET,) * 6, untils=far).until == LONGEST


@pytest.mark.parametrize("other", [NOT, OPEN])
def test_false_calls_or_attendance_alone_can_hold_a_seat_back(other):
    verdict = seat((MET,) * 6, others=(GOOD, Verdict("other", other, "Too many.", "Ten more.")))
    assert verdict.verdict.standing is other
    assert not verdict.can_sit
    assert verdict.verdict.full == "Too many. Ten more."


def test_the_nearest_open_items_that_would_be_enough_are_named_with_their_glasses():
    ways = {"c2": 3, "c3": 1, "c4": None, "c5": 2}
    cells = {k: CompoundVerdict(Verdict("compound", OPEN, "."), fewest=n) for k, n in ways.items()}
    found = nearest_items(items(MET, MET, OPEN, OPEN, OPEN, OPEN), cells, BOOK.seat)
    assert found == ((("c3",), 1), (("c5",), 2))


def test_no_way_is_named_where_nothing_is_missing_or_too_few_have_one():
    cells = {"c4": CompoundVerdict(Verdict("compound", OPEN, "."), fewest=1)}
    assert nearest_items(items(*(MET,) * 4, OPEN, OPEN), cells, BOOK.seat) == ()
    assert nearest_items(items(MET, MET, OPEN, OPEN, OPEN, OPEN), cells, BOOK.seat) == ()


@pytest.mark.parametrize(("met", "early"), [(3, True), (2, False)])
def test_at_the_start_of_a_panel_fewer_critical_compounds_are_enough(met, early):
    standings = (MET,) * met + (OPEN,) * (6 - met)
    cells = {f"c{i}": cell(s) for i, s in enumerate(standings)}
    rule = StartUpRule(until_seats=4, critical_met=3)
    found = judge_seat([(f"c{i}",) for i in range(6)], cells, (GOOD,), BOOK.seat, LONGEST, rule)
    assert not found.can_sit
    assert found.start_up.can_sit is early
    assert seat(standings).start_up is None


def test_a_panel_needs_its_quorum_and_two_for_every_critical_compound():
    critical = [(f"c{i}",) for i in range(6)]
    full, thin = seat((MET,) * 6), seat((MET, MET, MET, MET, OPEN, OPEN))
    assert judge_panel(critical, [full, full, thin, thin], BOOK.panel).verdict.standing is MET
    few = judge_panel(critical, [full, full, thin], BOOK.panel)
    assert few.verdict.standing is NOT
    weak = judge_panel(critical, [full, thin, thin, thin], BOOK.panel)
    assert weak.weak == (("c4",), ("c5",))
    assert weak.cover[("c4",)] == 1


def sitters(*, others=2, trades=("brewing", "laboratory"), on_probation=0):
    people = [
        Sitter(
            seat((MET,) * 6), number < on_probation, number >= others, trades[number % len(trades)]
        )
        for number in range(4)
    ]
    return [(f"c{i}",) for i in range(6)], people


@pytest.mark.parametrize(("others", "standing"), [(2, Standing.MET), (1, Standing.NOT_MET)])
def test_enough_sitters_did_not_make_the_batch(others, standing):
    verdict = judge_sitting(*sitters(others=others), BOOK.panel).verdict
    assert verdict.standing is standing
    said = "1 of them did not make the batch; 2 are asked for." in verdict.sentence
    assert said is (standing is Standing.NOT_MET)


@pytest.mark.parametrize(
    ("trades", "standing"),
    [(("brewing", "laboratory"), Standing.MET), (("brewing",), Standing.NOT_MET)],
)
def test_sitters_come_from_as_many_trades_as_the_rulebook_asks(trades, standing):
    rule = replace(BOOK.panel, trades=2)
    verdict = judge_sitting(*sitters(trades=trades), rule).verdict
    assert verdict.standing is standing
    assert ("1 trade; 2 are asked for" in verdict.sentence) is (standing is Standing.NOT_MET)


@pytest.mark.parametrize("counts", [True, False])
def test_people_on_probation_count_only_where_the_rulebook_says_so(counts):
    rule = replace(BOOK.panel, probation_counts=counts)
    standing = judge_sitting(*sitters(on_probation=1), rule).verdict.standing
    assert (standing is Standing.MET) is counts
