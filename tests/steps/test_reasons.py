"""The tree behind a seat: the glasses it shows as counted are those of its sentences."""

import re
from datetime import timedelta

import pytest
import seated
from seated import COMPOUNDS, FAMILY, FIRST, TODAY

from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.labels import short_label
from seatworthy.steps.reasons import reasons, shortest_way_to_a_seat
from seatworthy.steps.rulebooks import supposed_rulebook

HEADER = "date,panellist,method,code,compound,level,answer,base beer,beer family"
PLAIN = """
name = "shortest"
version = 1
counts_from = 2025-01-01
about = "Only critical compounds."
[counted]
lowest_level = 2.0
highest_level = 4.0
months = 12
{compound}
[seat]
critical_met = 3
critical_not_met = 1
valid_months = 6
notice_days = 30
[panel]
quorum = 2
people_per_compound = 1
from_other_crews = 0
callers_for_fault = 1
callers_for_retaste = 1
[critical]
compounds = ["diacetyl", "dms", "t2n"]
"""
CHANCE = """
[compound]
by = "chance"
met_when_sure = 0.85
glasses = 4
days = 2
not_met_when_below = 0.05
not_met_glasses = 6
met_stands_weeks = 26
met_ends_below = 0.50
"""
SHARE = """
[compound]
by = "share"
share = 0.80
glasses = 5
days = 2
"""
BOOKS = {"chance": PLAIN.format(compound=CHANCE), "share": PLAIN.format(compound=SHARE)}


def rows():
    """Bo names two in three of five compounds at 3x; strong, weak and forced ones beside it."""
    code = iter(range(100, 900))
    for week in range(6):
        day = FIRST + timedelta(weeks=week)
        for compound in COMPOUNDS:
            said = compound if week % 3 else "nothing"
            yield f"{day},Bo,naming,{next(code)},{compound},3,{said},Pils,Pale"
            yield f"{day},Bo,naming,{next(code)},{compound},1,nothing,Pils,Pale"
        yield f"{day},Bo,triangle,{next(code)},diacetyl,3,right,Pils,Pale"
        for level in (1, 2, 4):
            found = "right" if level > 1 else "wrong"
            yield f"{day},Bo,3-AFC,{next(code)},dms,{level},{found},Pils,Pale"
        yield f"{day},Bo,naming,{next(code)},blank,,{'dms' if week == 0 else 'nothing'},Pils,Pale"
        yield f"{day},Bo,naming,{next(code)},h2s,8,nothing,Pils,Pale"
    for day in (FIRST, FIRST + timedelta(weeks=1)):
        for compound in ("diacetyl", "dms", "t2n"):
            yield f"{day},Cleo,naming,{next(code)},{compound},3,{compound},Pils,Pale"


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    folder = tmp_path_factory.mktemp("reasons")
    desk = open_desk(folder / "panel.duckdb")
    seated.at(desk, TODAY)
    path = folder / "rows.csv"
    path.write_text("\n".join([HEADER, *rows()]) + "\n", encoding="utf-8")
    bring_in_results(desk, path)
    yield desk
    desk.close()


@pytest.fixture(scope="module")
def ids(desk):
    return {row["spelling"]: row["person_id"] for row in desk.store.rows("people")}


def judged_by(desk, name):
    text = BOOKS[name] if name in BOOKS else rulebook_text(name)
    return judge_day(desk, supposed_book=supposed_rulebook(text))


def leaves(view):
    """The compounds of the first part of the tree."""
    for part in view.parts[0].parts:
        yield from part.parts or (part,)


def tree(desk, ids, name, who="Bo"):
    judged = judged_by(desk, name)
    return judged, reasons(desk, judged, ids[who], FAMILY)


def counted(leaf):
    lines = [glass for glass in leaf.glasses if glass.counts]
    return sum(glass.outcome == "right" for glass in lines), len(lines)


@pytest.mark.parametrize("name", ["default", "plain", "olive_oil", "share"])
def test_what_a_sentence_says_of_its_glasses_is_what_the_tree_counts(desk, ids, name):
    _, view = tree(desk, ids, name)
    said = [(re.search(r"(\d+) of (\d+)", leaf.sentence), leaf) for leaf in leaves(view)]
    compared = [((int(m[1]), int(m[2])), counted(leaf)) for m, leaf in said if m]
    assert compared
    assert all(words == lines for words, lines in compared)


@pytest.mark.parametrize("name", ["default", "triangles", "share", "plain"])
def test_the_tree_counts_what_the_day_counts(desk, ids, name):
    judged, view = tree(desk, ids, name)
    found = {leaf.title: counted(leaf) for leaf in leaves(view) if leaf.standing != "insensitive"}
    days = {
        short_label(judged.labels[compound]): (day.hits, day.glasses)
        for (person, compound, _), day in judged.days.items()
        if person == ids["Bo"]
    }
    assert {title: found[title] for title in days if title in found} == {
        title: counts for title, counts in days.items() if title in found
    }


def test_a_rule_that_counts_triangles_shows_no_naming_glass_as_counted(desk, ids):
    _, view = tree(desk, ids, "triangles")
    dms = next(leaf for leaf in leaves(view) if leaf.title == "DMS")
    assert (counted(dms), len(dms.glasses)) == ((0, 0), 30)


def test_a_rule_of_thresholds_counts_the_sets_of_its_series(desk, ids):
    _, view = tree(desk, ids, "olfactometry")
    dms = next(leaf for leaf in leaves(view) if leaf.title == "DMS")
    assert counted(dms) == (12, 18)
    assert all("3-AFC" in glass.what for glass in dms.glasses if glass.counts)


def test_whoever_does_not_smell_something_sees_the_strong_glasses_counted(desk, ids):
    _, view = tree(desk, ids, "default")
    h2s = next(leaf for leaf in leaves(view) if leaf.title == "Hydrogen sulfide")
    assert h2s.standing == "insensitive"
    assert re.search(r"on (\d+) glasses", h2s.sentence)[1] == str(counted(h2s)[1])


def test_a_compound_never_served_has_a_sentence_and_no_glasses(desk, ids):
    _, view = tree(desk, ids, "default")
    group = view.parts[0].parts[-1]
    assert {(leaf.sentence, leaf.glasses) for leaf in group.parts} == {("No glass of it yet.", ())}


def test_blanks_stand_behind_the_rule_for_calls(desk, ids):
    judged, view = tree(desk, ids, "default")
    (calls,) = (part for part in view.parts if part.title == "Calls in blanks")
    found = judged.blanks[ids["Bo"]]
    assert len(calls.glasses) == found.blanks
    assert sum(glass.outcome == "wrong" for glass in calls.glasses) == found.false_calls


def test_sessions_stand_behind_attendance(desk, ids):
    judged, view = tree(desk, ids, "default", "Cleo")
    (part,) = (part for part in view.parts if part.title == "Attendance")
    came = sum(line.said == "came" for line in part.glasses)
    attended = judged.attended[ids["Cleo"]]
    assert (came, len(part.glasses)) == (attended.attended, attended.offered)


def test_the_root_is_the_verdict_on_the_seat(desk, ids):
    judged, view = tree(desk, ids, "default")
    verdict = judged.seats[ids["Bo"], FAMILY].verdict
    assert (view.standing, view.sentence) == (str(verdict.standing), verdict.sentence)


def ways(judged, person):
    """Further right answers by compound, of the shortest way to a seat."""
    seat = judged.seats[person, FAMILY]
    return {
        item[0]: judged.cells[person, item[0], FAMILY].more_right
        for item, standing in seat.items.items()
        if str(standing) == "too_little"
    }


@pytest.mark.parametrize("name", ["chance", "share"])
def test_the_shortest_way_to_a_seat_names_every_glass_missing(desk, ids, name):
    judged = judged_by(desk, name)
    found = ways(judged, ids["Cleo"])
    words = {1: "one", 2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}
    said = shortest_way_to_a_seat(judged, ids["Cleo"], FAMILY)
    assert len(found) == 3
    assert all(
        f"{words[more]} more of {label}" in said
        for label, more in zip(("diacetyl", "DMS", "papery"), found.values(), strict=True)
    )


@pytest.fixture
def further(ids, tmp_path):
    """Whether Cleo has a seat once so many glasses were poured, in a store of its own."""

    def poured(name, desk, less=0):
        found = ways(judged_by(desk, name), ids["Cleo"])
        other = open_desk(tmp_path / f"{name} {less}.duckdb")
        seated.at(other, TODAY)
        more = [
            f"{TODAY},Cleo,naming,{900 + 20 * n + i},{compound},3,{compound},Pils,Pale"
            for n, (compound, missing) in enumerate(found.items())
            for i in range(missing - (less if n == 0 else 0))
        ]
        path = tmp_path / f"{name} {less}.csv"
        path.write_text("\n".join([HEADER, *rows(), *more]) + "\n", encoding="utf-8")
        bring_in_results(other, path)
        judged = judged_by(other, name)
        other.close()
        cleo = next(person for person, who in judged.people.items() if who == "Cleo")
        return str(judged.seats[cleo, FAMILY].verdict.standing)

    return poured


@pytest.mark.parametrize("name", ["chance", "share"])
def test_exactly_the_glasses_of_the_shortest_way_make_the_seat_met(desk, further, name):
    assert further(name, desk) == "met"


@pytest.mark.parametrize("name", ["chance", "share"])
def test_one_glass_fewer_than_the_shortest_way_does_not(desk, further, name):
    assert further(name, desk, less=1) == "too_little"


def test_whoever_may_sit_needs_no_way(desk, ids):
    text = BOOKS["share"].replace("glasses = 5", "glasses = 2")
    judged = judge_day(desk, supposed_book=supposed_rulebook(text))
    assert shortest_way_to_a_seat(judged, ids["Cleo"], FAMILY) == ""
