"""Rules of every kind judge a record that holds hardly anything: too little evidence, never a fault."""

from datetime import date

import pytest

from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.reasons import reasons, shortest_way_to_a_seat
from seatworthy.steps.rulebooks import supposed_rulebook

TODAY = date(2026, 6, 1)
HEADER = "date,panellist,method,code,compound,level,dose,volume,answer,base beer,beer family"
RECORDS = {
    "nothing": (),
    "ratings alone": ("2026-05-04,Ada,intensity,101,dms,3,,,5,Pils,Pale",),
    "triangles alone": ("2026-05-04,Ada,triangle,101,dms,3,,,right,Pils,Pale",),
    "blanks alone": ("2026-05-04,Ada,naming,101,blank,,,,nothing,Pils,Pale",),
    "a glass without a known level": ("2026-05-04,Ada,naming,101,dms,,40 ug,1 l,dms,Pils,Pale",),
    "words whose meaning is open": ("2026-05-04,Ada,naming,101,dms,3,,,wet dog,Pils,Pale",),
}


@pytest.fixture(scope="module", params=RECORDS)
def desk(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("scant")
    desk = open_desk(folder / "panel.duckdb")
    desk.today = lambda: TODAY
    rows = RECORDS[request.param]
    if rows:
        path = folder / "rows.csv"
        path.write_text("\n".join([HEADER, *rows]) + "\n", encoding="utf-8")
        bring_in_results(desk, path)
    yield desk
    desk.close()


@pytest.mark.parametrize("name", ["default", "plain", "olfactometry", "matching"])
def test_nothing_is_met_or_not_met_on_hardly_anything(desk, name):
    judged = judge_day(desk, supposed_book=supposed_rulebook(rulebook_text(name)))
    assert {str(one.verdict.standing) for one in judged.seats.values()} <= {"too_little"}
    assert {str(one.standing) for one in judged.cells.values()} <= {"too_little"}


@pytest.mark.parametrize("name", ["default", "olfactometry"])
def test_the_reasons_of_hardly_anything_can_be_told(desk, name):
    judged = judge_day(desk, supposed_book=supposed_rulebook(rulebook_text(name)))
    trees = [reasons(desk, judged, *seat) for seat in judged.seats]
    assert all(tree.sentence and tree.change for tree in trees)


def test_there_is_no_shortest_way_from_hardly_anything(desk):
    judged = judge_day(desk)
    assert {shortest_way_to_a_seat(judged, *seat) for seat in judged.seats} <= {""}
