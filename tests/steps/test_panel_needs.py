from datetime import date, timedelta

import pytest

from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.panel_needs import best_estimate_of_group, panel_needs
from seatworthy.steps.shelf import shelf
from seatworthy.steps.shelf_amounts import TypedAmount, record_thresholds

DAY = date(2026, 3, 2)


def series(day, **right_from):
    """Levels 1, 2, 4, 8; everybody right from some level on."""
    return [
        {
            "session_on": day,
            "person_id": person,
            "level": float(level),
            "is_right": level >= first,
        }
        for person, first in right_from.items()
        for level in (1, 2, 4, 8)
    ]


def test_a_group_threshold_is_the_geometric_mean_of_the_latest_common_series():
    rows = [*series(DAY, ada=8, bo=8), *series(DAY + timedelta(days=7), ada=2, bo=8)]
    value, people = best_estimate_of_group(rows)
    assert value == pytest.approx((2**0.5 * 32**0.5) ** 0.5)
    assert people == 2


def test_a_series_by_one_person_alone_or_too_short_is_no_group_threshold():
    assert best_estimate_of_group(series(DAY, ada=2)) == (None, 0)
    short = [row for row in series(DAY, ada=2, bo=2) if row["level"] < 4]
    assert best_estimate_of_group(short) == (None, 0)


@pytest.fixture
def needs(desk, tmp_path):
    def bring_in(people, said):
        day = desk.today() - timedelta(days=7)
        record_thresholds(
            desk, (TypedAmount("dms", "30", "µg/l"),), "", day - timedelta(days=90), is_sure=True
        )
        lines = ["date,panellist,code,compound,level,answer"]
        lines += [
            f"{day},Person {person},{100 + glass},dms,1,{said}"
            for person in range(people)
            for glass in range(8)
        ]
        path = tmp_path / "results.csv"
        path.write_text("\n".join(lines), encoding="utf-8")
        bring_in_results(desk, path)
        return panel_needs(desk, shelf(desk).family or "house")

    return bring_in


def test_a_panel_that_finds_it_far_below_is_told_so_in_the_compounds_unit(needs):
    (need,) = needs(6, "dms")
    assert (need.label, need.people, need.working) == ("DMS", 6, "30 µg/l")
    assert need.is_far
    assert need.amount.endswith(")")
    assert "µg/l" in need.amount


def test_two_people_are_no_panel(needs):
    assert needs(2, "dms") == ()


def test_an_unknown_family_has_no_needs(desk):
    assert panel_needs(desk, "nowhere") == ()
