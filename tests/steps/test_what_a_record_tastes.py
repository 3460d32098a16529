"""A record tells of every compound that was tasted, also where no glass of it counts."""

from datetime import timedelta

import planned_sets
import pytest
import rated_glasses
import thursday

from seatworthy.steps.boards import board
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.judging import judge_day
from seatworthy.steps.planning import record_plan
from seatworthy.steps.records import record


@pytest.fixture
def brought(desk, tmp_path):
    """Brings in lines of date, panellist, code, compound, level and answer; gives Ada's id."""

    def bring_in(lines):
        path = tmp_path / "results.csv"
        head = "date,panellist,code,compound,level,answer"
        path.write_text("\n".join([head, *lines]), encoding="utf-8")
        bring_in_results(desk, path)
        return next(key for key, name in judge_day(desk).people.items() if name == "Ada")

    return bring_in


def row_of(view, compound):
    return next(row for row in view.rows if row.compound == compound)


def test_sets_alone_are_told_with_the_threshold_of_their_series(desk, people):
    planned = planned_sets.planned(desk, people)
    planned_sets.closed(desk, planned, wrong="C")
    row = row_of(record(desk, people["Ada"], family="pale_lager"), "diacetyl")
    told = "3 sets; none counts under this rulebook. Latest series: threshold 0.71×."
    assert (row.cell.standing, row.missing, row.cell.sentence) == ("no_glasses", told, told)
    assert [glass.method for glass in row.history] == ["3afc"] * 3
    assert row.chance_right is None


def test_what_was_only_rated_or_asked_about_is_on_the_record(desk, people):
    session_id = record_plan(desk, rated_glasses.wish(people))
    rated_glasses.answer_all(desk, session_id, {})
    thursday.close(desk, session_id)
    view = record(desk, people["Ada"], family="pale_lager")
    assert row_of(view, "diacetyl").missing == "2 rated glasses; none counts under this rulebook."
    dms = row_of(view, "dms").missing
    assert dms == "1 glass asked by yes or no; it doesn't count under this rulebook."


def test_a_compound_never_tasted_has_no_words(desk, people):
    planned = planned_sets.planned(desk, people)
    planned_sets.closed(desk, planned)
    row = row_of(record(desk, people["Ada"], family="pale_lager"), "h2s")
    assert (row.missing, row.history) == ("", ())


def test_an_empty_cell_of_the_board_says_that_no_glass_counts(desk, people):
    planned = planned_sets.planned(desk, people)
    planned_sets.closed(desk, planned)
    rows = {row.compound: row for row in board(desk, family="pale_lager").rows}
    cell = rows["diacetyl"].cells[people["Ada"]]
    assert (cell.standing, cell.sentence) == ("no_glasses", "No glass that counts yet.")


def test_a_standing_that_outlives_its_glasses_says_how_few_are_left(desk, brought):
    """Of twelve glasses all but two are older than what counts; it stands from before."""
    today = desk.today()
    days = [today - timedelta(days=370 + week) for week in range(10)]
    days += [today - timedelta(days=100), today - timedelta(days=101)]
    ada = brought([f"{day},Ada,{n},diacetyl,3,diacetyl" for n, day in enumerate(days, start=100)])
    row = row_of(record(desk, ada), "diacetyl")
    assert "; only 2 counted glasses now" in row.missing
