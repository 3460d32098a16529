"""What the product promises about people, tried on the whole way from file to verdict."""

import random
import shutil
from dataclasses import replace
from datetime import date, timedelta

import pytest
from written import flight, results

from seatworthy.rules.verdict import Standing
from seatworthy.steps.boards import board
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.words import map_words

START = date(2026, 1, 5)
END = date(2026, 6, 1)
COMPOUNDS = ("diacetyl", "dms", "acetaldehyde")


def panel(seed, rates, weeks=16):
    """Weekly flights of people with given rates of right names."""
    chance = random.Random(seed)
    rows = []
    for week in range(weeks):
        day = (START + timedelta(weeks=week)).isoformat()
        for n, (who, rate) in enumerate(rates.items()):
            answers = {c: c if chance.random() < rate else "nothing" for c in COMPOUNDS}
            rows += flight(day, who, {**answers, "blank": "nothing"}, first=100 + 10 * n)
    return rows


@pytest.fixture
def judged_from(stocked):
    """Judge what is in some rows, brought into a store of their own."""

    def judge(folder, rows, as_of=END, known_at=None):
        folder.mkdir()
        shutil.copyfile(stocked, folder / "panel.duckdb")
        desk = open_desk(folder / "panel.duckdb")
        bring_in_results(desk, results(folder / "rows.csv", rows))
        judged = judge_day(desk, as_of, known_at)
        desk.close()
        return judged

    return judge


def by_name(judged):
    """Verdicts by name and compound, without the random ids."""
    return {
        (judged.people[person], compound): (verdict.verdict, verdict.until)
        for (person, compound, _), verdict in judged.cells.items()
    }


def test_colleagues_answers_change_no_verdict(tmp_path, judged_from):
    ada = panel(1, {"Ada": 0.9})
    good, bad = panel(2, {"Bo": 1.0, "Cleo": 1.0}), panel(3, {"Bo": 0.0, "Cleo": 0.1})
    moved = [[(*row[:2], int(row[2]) + 300, *row[3:]) for row in rows] for rows in (good, bad)]
    alone = by_name(judged_from(tmp_path / "alone", ada))
    for name, others in zip(("good", "bad"), moved, strict=True):
        among = by_name(judged_from(tmp_path / name, ada + others))
        assert {key: value for key, value in among.items() if key[0] == "Ada"} == alone


def test_nobody_without_own_glasses_is_met_or_not_met(tmp_path, judged_from):
    rows = panel(4, {"Ada": 1.0, "Bo": 1.0, "Cleo": 1.0})
    rows += flight("2026-04-27", "New", {"blank": "nothing"}, first=500)
    judged = judged_from(tmp_path / "panel", rows)
    new = next(person for person, name in judged.people.items() if name == "New")
    assert not [cell for cell in judged.cells if cell[0] == new]
    place = judged.evidence.people.index(new)
    chances = judged.followed.today.chance_met_own[place]
    rule = judged.rulebook.compound
    assert ((chances > rule.not_met_when_below) & (chances < rule.met_when_sure)).all()
    assert judged.seats[new, "pale"].verdict.standing is Standing.TOO_LITTLE


def test_the_past_does_not_depend_on_what_came_later(tmp_path, judged_from):
    rows = panel(5, {"Ada": 0.8, "Bo": 0.5})
    day = START + timedelta(weeks=8)
    until_then = [row for row in rows if row[0] <= day.isoformat()]
    whole = judged_from(tmp_path / "whole", rows, as_of=day)
    part = judged_from(tmp_path / "part", until_then, as_of=day)
    assert by_name(whole) == by_name(part)


def test_as_recorded_is_told_from_as_of(desk, tmp_path):
    rows = flight("2026-03-02", "Ada", {"dms": "corn"}) + flight(
        "2026-03-03", "Ada", {"dms": "corn"}
    )
    bring_in_results(desk, results(tmp_path / "rows.csv", rows))
    moment = desk.store.cursor().execute("select max(recorded_at) from history").fetchone()[0]
    map_words(desk, "corn", "dms")
    now, then = judge_day(desk, END), judge_day(desk, END, moment)
    hits = [[day.hits for day in judged.days.values()] for judged in (now, then)]
    assert hits == [[2], [0]]
    assert [[day.glasses for day in judged.days.values()] for judged in (now, then)] == [[2], [0]]
    before_everything = judge_day(desk, END, moment - timedelta(days=1))
    assert not before_everything.cells


@pytest.mark.parametrize(("right", "standing"), [(8, Standing.MET), (0, Standing.NOT_MET)])
def test_enough_own_glasses_decide(tmp_path, judged_from, right, standing):
    rows = []
    for week in range(8):
        day = (START + timedelta(weeks=week)).isoformat()
        rows += flight(day, "Ada", {"dms": "dms" if week < right else "nothing"})
    judged = judged_from(tmp_path / "panel", rows, as_of=START + timedelta(weeks=8))
    (verdict,) = judged.cells.values()
    assert verdict.standing is standing


def test_the_shortest_way_is_true(tmp_path, judged_from):
    """What the sentence says would meet the rule does meet it, and one glass fewer does not."""
    rows = []
    for week, said in enumerate(("dms", "nothing", "dms", "dms", "dms")):
        rows += flight((START + timedelta(weeks=week)).isoformat(), "Ada", {"dms": said})
    today = START + timedelta(weeks=5)
    judged = judged_from(tmp_path / "before", rows, as_of=today)
    (verdict,) = judged.cells.values()
    assert verdict.standing is Standing.TOO_LITTLE
    more = int(verdict.verdict.change.split()[0])
    for glasses, expected in ((more, Standing.MET), (more - 1, Standing.TOO_LITTLE)):
        extra = {f"dms#{i}": "dms" for i in range(glasses)}
        after = rows + flight(today.isoformat(), "Ada", extra, first=200)
        (then,) = judged_from(tmp_path / f"after{glasses}", after, as_of=today).cells.values()
        assert then.standing is expected


def test_a_rulebooks_numbers_decide(desk, tmp_path):
    bring_in_results(desk, results(tmp_path / "rows.csv", panel(6, {"Ada": 1.0}, weeks=4)))
    day = START + timedelta(weeks=4)
    adopted = desk.rulebook_on(day)
    rule = replace(adopted.rulebook.compound, glasses=5)
    stricter = replace(
        adopted, rulebook=replace(adopted.rulebook, compound=rule), digest="stricter"
    )
    judged = judge_day(desk, day, supposed_book=stricter)
    assert {verdict.standing for verdict in judged.cells.values()} == {Standing.TOO_LITTLE}


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Los_Angeles", "Europe/Dublin"])
def test_an_empty_day_says_whether_nothing_was_poured_or_nothing_recorded(desk, tmp_path, zone):
    assert board(desk).start_here.startswith("No glasses yet. Plan the first session")
    with desk.store.recording("shelf") as act:
        act.add("brewery", {"label": "Quillmere", "time_zone": zone})
    bring_in_results(
        desk, results(tmp_path / "rows.csv", flight("2026-03-02", "Ada", {"dms": "dms"}))
    )
    early, later = date(2026, 2, 1), date(2026, 4, 1)
    poured = board(desk, as_of=early).start_here
    recorded = board(desk, as_of=later, known_at=desk.end_of(early)).start_here
    assert poured == "No glasses had been poured by 1 February 2026."
    assert recorded == "No glasses up to 1 April 2026 were on record by 1 February 2026."


def test_blanks_alone_give_nothing_to_judge_by(desk, tmp_path):
    rows = flight("2026-03-02", "Ada", {"blank": "nothing"})
    bring_in_results(desk, results(tmp_path / "rows.csv", rows))
    assert "Nobody has named a spiked glass yet" in board(desk).start_here
