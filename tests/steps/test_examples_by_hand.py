"""Panels made by hand for the worked examples: what each rule says was worked out beforehand.

Ada should meet everything, Bo nothing that can be missed, and of Cleo too little is known.
"""

from datetime import date, timedelta
from itertools import count

import pytest

from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.asides import set_glass_aside
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk
from seatworthy.steps.glass_facts import Ratings, estimates_by_cell, glasses_by_cell
from seatworthy.steps.judging import judge_day
from seatworthy.steps.rulebooks import supposed_rulebook
from seatworthy.steps.seen import Seen

FIRST, TODAY = date(2026, 3, 2), date(2026, 6, 1)
HEADER = "date,panellist,method,code,compound,level,answer,base beer,beer family"
FIVE = ("diacetyl", "acetaldehyde", "dms", "t2n", "h2s")
PEOPLE = ("Ada", "Bo", "Cleo")
STANDINGS = {"Ada": "met", "Bo": "not_met", "Cleo": "too_little"}


def triangles():
    """All at 4x: Ada finds five in a row of each compound, Bo misses four, Cleo finds three of one."""
    for compound in FIVE:
        for n in range(5):
            yield n, "Ada", "triangle", compound, 4, "right"
        for n in range(4):
            yield n, "Bo", "triangle", compound, 4, "wrong"
    for n in range(3):
        yield n, "Cleo", "triangle", "diacetyl", 4, "right"


def namings():
    """Six glasses over three days: Ada names all, Bo four of six; Cleo gets four of one compound."""
    for compound in FIVE:
        for n in range(6):
            yield n // 2, "Ada", "naming", compound, 3, compound
            yield n // 2, "Bo", "naming", compound, 3, compound if n < 4 else "nothing"
    for n in range(4):
        yield n // 2, "Cleo", "naming", "diacetyl", 3, "diacetyl"


def series():
    """Ascending sets: Ada's and Cleo's thresholds are 0.71, Bo's 2.8; Ada and Bo ten, Cleo nine."""
    for day in range(10):
        for level in (0.5, 1, 2):
            found = "right" if level > 0.5 else "wrong"
            for compound in FIVE:
                yield day, "Ada", "3-AFC", compound, level, found
                yield day, "Bo", "3-AFC", compound, level, "wrong"
            if day < 9:
                yield day, "Cleo", "3-AFC", "diacetyl", level, found


def ratings():
    """Pairs (5, 6), (2, 6) and (5, 5), Cleo's only five; and levels 1, 2, 4 in and out of order."""
    for day in range(6):
        for who, pair in (("Ada", (5, 6)), ("Bo", (2, 6)), ("Cleo", (5, 5))):
            if who != "Cleo" or day < 5:
                for rating in pair:
                    yield day, who, "intensity", "diacetyl", 3, rating
    for day in range(2):
        for level, rating in ((1, 1), (2, 3), (4, 6)):
            yield day, "Ada", "intensity", "dms", level, rating
            yield day, "Bo", "intensity", "dms", level, 7 - rating
            if day < 1:
                yield day, "Cleo", "intensity", "dms", level, rating


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    folder = tmp_path_factory.mktemp("by_hand")
    codes = count(100)
    dora = [(6, "Dora", "intensity", "dms", *one) for one in ((1, 2), (2, 4), (2, 6), (4, 5))]
    lines = [HEADER]
    for kind in (triangles(), namings(), series(), ratings(), dora):
        for week, who, method, compound, level, answer in kind:
            day = FIRST + timedelta(weeks=week)
            lines.append(
                f"{day},{who},{method},{next(codes)},{compound},{level},{answer},Pils,Pale"
            )
    path = folder / "rows.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    opened = open_desk(folder / "panel.duckdb")
    opened.today = lambda: TODAY
    bring_in_results(opened, path)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def judged(desk):
    def by(name):
        return judge_day(desk, supposed_book=supposed_rulebook(rulebook_text(name)))

    return by


@pytest.fixture(scope="module")
def ids(desk):
    return {row["spelling"]: row["person_id"] for row in desk.store.rows("people")}


def verdict(judged, ids, name, who, compound="diacetyl"):
    return judged(name).cells[ids[who], compound, "pale"]


def rule(judged, ids, name, who, title):
    answers = judged(name).answers(ids[who], "pale")
    return next(one for one in answers if one.title == title).verdict


@pytest.mark.parametrize("who", PEOPLE)
@pytest.mark.parametrize("name", ["triangles", "olfactometry", "olive_oil", "matching"])
def test_diacetyl_stands_as_worked_out(judged, ids, name, who):
    assert str(verdict(judged, ids, name, who).standing) == STANDINGS[who]


@pytest.mark.parametrize("who", PEOPLE)
@pytest.mark.parametrize("name", ["triangles", "olfactometry", "olive_oil", "matching"])
def test_the_seat_stands_as_worked_out(judged, ids, name, who):
    assert str(judged(name).seats[ids[who], "pale"].verdict.standing) == STANDINGS[who]


@pytest.mark.parametrize(
    ("who", "said"),
    [
        ("Ada", "A run of 5 glasses ended on 30 March 2026 with 5 right."),
        ("Bo", "A run of 4 glasses ended on 23 March 2026 with 0 right."),
    ],
)
def test_triangles_end_a_run_where_the_lines_say(judged, ids, who, said):
    """Steps ln(0.68/0.333) and ln(0.32/0.667); lines ln(0.9/0.05) and ln(0.1/0.95): 5 and 4."""
    assert verdict(judged, ids, "triangles", who).verdict.sentence == said


@pytest.mark.parametrize(("who", "served"), [("Ada", 5), ("Bo", 4), ("Cleo", 3)])
def test_behind_a_run_stand_its_triangles_and_no_other_glass(judged, ids, who, served):
    assert len(verdict(judged, ids, "triangles", who).behind) == served


@pytest.mark.parametrize(("who", "counts"), [("Ada", (5, 5)), ("Bo", (4, 0)), ("Cleo", (3, 3))])
def test_the_day_counts_what_the_rule_looked_at(judged, ids, who, counts):
    day = judged("triangles").days[ids[who], "diacetyl", "pale"]
    assert (day.glasses, day.hits) == counts


def test_own_thresholds_are_the_middle_of_last_missed_and_next(judged, ids):
    """The geometric mean of 0.5 and 1 is 0.707; ten alike have a spread of a factor of 1."""
    said = verdict(judged, ids, "olfactometry", "Ada").verdict.sentence
    assert said.startswith("Mean of 10 own thresholds 0.707×")
    assert "spread a factor 1," in said


def test_a_series_missed_to_its_end_lies_half_a_step_above(judged, ids):
    """2 times the root of 2."""
    assert "2.83×" in verdict(judged, ids, "olfactometry", "Bo").verdict.sentence


def test_nine_series_are_one_too_few(judged, ids):
    said = verdict(judged, ids, "olfactometry", "Cleo").verdict.sentence
    assert said == "9 own thresholds over 9 days; judged from 10 estimates over 3 days on."


@pytest.mark.parametrize(
    ("who", "standing", "number"),
    [("Ada", "met", " 1;"), ("Bo", "not_met", " 16;"), ("Cleo", "too_little", "5 hidden pairs")],
)
def test_hidden_pairs_of_ratings_stand_as_worked_out(judged, ids, who, standing, number):
    """Squared differences: (6 - 5) is 1, (6 - 2) is 16."""
    found = rule(judged, ids, "olive_oil", who, "Hidden duplicates")
    assert str(found.standing) == standing
    assert number in found.sentence


@pytest.mark.parametrize(("who", "number"), [("Ada", "1.01"), ("Bo", "7.01"), ("Cleo", " 0;")])
def test_the_distance_from_the_panel_is_as_worked_out(judged, ids, who, number):
    """Squares, diacetyl and the series: Ada 5.5 + 12.75 and Bo 62.5 + 63.75, of 18; Cleo none.

    The medians of diacetyl are 5, on the sixth day 5.5; of the series 1, 3, 6, then 3.5 each.
    """
    assert number in rule(judged, ids, "olive_oil", who, "Distance from the panel").sentence


def test_the_distance_from_the_panel_judges_nobody(judged, ids):
    answers = judged("olive_oil").answers(ids["Bo"], "pale")
    assert [one.asked_for for one in answers if one.title == "Distance from the panel"] == [False]


@pytest.mark.parametrize("who", PEOPLE)
@pytest.mark.parametrize("title", ["Triangles", "Order of strengths"])
def test_matching_asks_for_triangles_and_ranking(judged, ids, who, title):
    assert str(rule(judged, ids, "matching", who, title).standing) == STANDINGS[who]


@pytest.mark.parametrize(
    ("who", "standing"), [("Ada", "met"), ("Bo", "met"), ("Cleo", "too_little")]
)
def test_matching_asks_for_names_over_all_compounds_together(judged, ids, who, standing):
    """Bo named 20 of 30 right, 67 % of which 65 are asked for."""
    assert str(rule(judged, ids, "matching", who, "Naming").standing) == standing


def test_a_counting_rule_gets_every_own_glass_of_a_known_level(desk, ids):
    seen = Seen(desk, TODAY, None, rulebook_on_menu("triangles"))
    glasses = glasses_by_cell(seen)[ids["Cleo"], "diacetyl", "pale"]
    found = [
        sum(glass.method == method for glass in glasses)
        for method in ("triangle", "naming", "3afc")
    ]
    assert found == [3, 4, 27]


def test_a_counting_rule_gets_the_glasses_up_to_the_day_asked(desk, ids):
    seen = Seen(desk, FIRST, None, rulebook_on_menu("triangles"))
    glasses = glasses_by_cell(seen)[ids["Cleo"], "diacetyl", "pale"]
    assert {glass.day for glass in glasses} == {FIRST}


def test_ratings_of_a_sample_that_are_one_or_two_levels_are_no_series(desk, ids):
    rated = Ratings(Seen(desk, TODAY, None, rulebook_on_menu("matching")), 12)
    assert {one.compound for one in rated.series(ids["Ada"])} == {"dms"}


def test_a_level_rated_twice_stands_with_its_mean(desk):
    """Dora's series is 2, then 4 and 6, then 5: with means in order, glass by glass not."""
    (dora,) = (row["person_id"] for row in desk.store.rows("people") if row["spelling"] == "Dora")
    rated = Ratings(Seen(desk, TODAY, None, rulebook_on_menu("matching")), 12)
    assert [one.ratings for one in rated.series(dora)] == [(2.0, 5.0, 5.0)]


def test_estimates_are_one_a_day(desk, ids):
    seen = Seen(desk, TODAY, None, rulebook_on_menu("olfactometry"))
    days = [one.day for one in estimates_by_cell(seen)[ids["Cleo"], "diacetyl", "pale"]]
    assert days == [FIRST + timedelta(weeks=week) for week in range(9)]


def test_a_glass_set_aside_is_gone_from_what_a_counting_rule_looks_at(desk, ids, judged):
    """The last of this file, since it changes the record."""
    last = verdict(judged, ids, "triangles", "Ada").behind[-1]
    set_glass_aside(desk, last, "It was spilt.", ids["Bo"])
    assert str(verdict(judged, ids, "triangles", "Ada").standing) == "too_little"
