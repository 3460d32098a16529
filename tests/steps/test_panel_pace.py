"""The pace of a panel, counted from ten weeks of which every number is known."""

from datetime import timedelta

import pytest
import seated
from seated import FAMILY, TODAY

from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.judging import judge_day
from seatworthy.steps.panel_pace import panel_pace
from seatworthy.steps.rulebooks import supposed_rulebook


@pytest.fixture(scope="module")
def desk(brewery, tmp_path_factory):
    with seated.opened(brewery, tmp_path_factory.mktemp("still")) as desk:
        yield desk


def by(desk, name):
    return judge_day(desk, supposed_book=supposed_rulebook(rulebook_text(name)))


def test_the_pace_is_the_median_of_the_year(desk):
    """Three people with ten glasses of each of five compounds and ten blanks, one with two."""
    pace = panel_pace(judge_day(desk), FAMILY)
    assert (pace.glasses, pace.sessions, pace.blanks, pace.people) == (10, 10, 10, 4)


@pytest.mark.parametrize("name", ["plain", "triangles", "olive_oil"])
def test_it_is_the_same_whatever_rule_counts_the_glasses(desk, name):
    assert panel_pace(by(desk, name), FAMILY) == panel_pace(judge_day(desk), FAMILY)


@pytest.mark.parametrize("family", ["wheat", ""])
def test_a_family_without_glasses_has_the_usual_pace(desk, family):
    assert not panel_pace(judge_day(desk), family).is_measured


def test_what_is_older_than_a_year_is_no_pace(desk):
    seated.at(desk, TODAY + timedelta(days=400))
    pace = panel_pace(judge_day(desk), FAMILY)
    assert (pace.is_measured, pace.people) == (False, 6)


def test_somebody_who_came_no_more_is_not_counted(desk):
    """A year and eight days after the first session, only the last eight weeks of three are left."""
    seated.at(desk, seated.FIRST + timedelta(days=365 + 8))
    assert panel_pace(judge_day(desk), FAMILY).people == 3
