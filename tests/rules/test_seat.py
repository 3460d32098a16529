from datetime import date

import pytest

from seatworthy.rules.compound import CompoundVerdict
from seatworthy.rules.panel import judge_panel
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.rules.seat import judge_critical, judge_seat, standing_of_item
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


def test_a_panel_needs_its_quorum_and_two_for_every_critical_compound():
    critical = [(f"c{i}",) for i in range(6)]
    full, thin = seat((MET,) * 6), seat((MET, MET, MET, MET, OPEN, OPEN))
    assert judge_panel(critical, [full, full, thin, thin], BOOK.panel).verdict.standing is MET
    few = judge_panel(critical, [full, full, thin], BOOK.panel)
    assert few.verdict.standing is NOT
    weak = judge_panel(critical, [full, thin, thin, thin], BOOK.panel)
    assert weak.weak == (("c4",), ("c5",))
    assert weak.cover[("c4",)] == 1
