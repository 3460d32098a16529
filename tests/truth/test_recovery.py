"""The way from the sample's files to verdicts finds what is true of its people."""

from datetime import date

import numpy as np
import pytest

from seatworthy.rules.verdict import Standing
from seatworthy.shipped import shipped
from seatworthy.steps.boards import board
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.records import record
from seatworthy.steps.safekeeping import verify

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def sample_desk(tmp_path_factory):
    desk = open_desk(tmp_path_factory.mktemp("sample") / "panel.duckdb")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Desk, "today", lambda _: TODAY)
        bring_in_shelf(desk, shipped("sample_data/shelf.toml"))
        bring_in_results(desk, shipped("sample_data/results.csv"))
        yield desk
    desk.close()


@pytest.fixture(scope="module")
def judged(sample_desk):
    return judge_day(sample_desk, TODAY)


@pytest.fixture(scope="module")
def who(judged):
    return {name: person for person, name in judged.people.items()}


def standing(judged, person, compound, family="pale_lager"):
    return judged.cells[person, compound, family].standing


def test_at_least_four_can_sit_for_the_main_family(judged):
    seats = [seat for (_, family), seat in judged.seats.items() if family == "pale_lager"]
    assert sum(seat.can_sit for seat in seats) >= 4


def test_nobody_met_is_far_from_it_and_nobody_not_met_is_good(judged, who, cells):
    """Few errors are allowed: of the met on 8 to 12 answers 4 to 6 % are truly below .70."""
    rates = {
        (who[name], compound): float(row["rate_at_3x"]) for (name, compound), row in cells.items()
    }
    pale = {cell[:2]: v.standing for cell, v in judged.cells.items() if cell[2] == "pale_lager"}
    met = [rates[cell] for cell, verdict in pale.items() if verdict is Standing.MET]
    bad = [rates[cell] for cell, verdict in pale.items() if verdict is Standing.NOT_MET]
    assert len(met) >= 40
    assert np.mean(np.array(met) < 0.70) <= 0.10
    assert bad
    assert max(bad) < 0.70


def test_the_interval_of_the_rate_holds_the_true_rate(judged, who, cells):
    """Nominal 90 %; over some 120 cells of one panel the share found lies above 80 %."""
    inside = []
    for (name, compound), row in cells.items():
        cell = (who[name], compound, "pale_lager")
        if cell in judged.cells and judged.days[cell].glasses >= 3:
            place = tuple(
                axis.index(key)
                for axis, key in zip(
                    (judged.evidence.people, judged.evidence.compounds, judged.evidence.families),
                    cell,
                    strict=True,
                )
            )
            mass = np.cumsum(judged.followed.today.rate_histogram[place])
            low, high = np.searchsorted(mass, (0.05, 0.95)) / 100
            inside.append(low <= float(row["rate_at_3x"]) <= high + 0.01)
    assert len(inside) >= 90
    assert np.mean(inside) >= 0.80


def test_the_insensitive_one_is_found_and_not_blamed(judged, who):
    assert standing(judged, who["Renée"], "dms") is Standing.INSENSITIVE
    assert judged.seats[who["Renée"], "pale_lager"].can_sit


def test_the_one_who_drifted_is_no_longer_met(judged, who, sample_desk):
    assert standing(judged, who["Søren"], "t2n") is Standing.NOT_MET
    earlier = judge_day(sample_desk, date(2026, 2, 28))
    assert standing(earlier, who["Søren"], "t2n") is not Standing.NOT_MET


def test_the_guesser_is_held_back_by_calls_in_blanks(judged, who):
    assert judged.persons[who["Tariq"]].false_calls.verdict.standing is Standing.NOT_MET
    assert not judged.seats[who["Tariq"], "pale_lager"].can_sit


def test_the_mixed_up_acids_are_named(sample_desk, who):
    view = record(sample_desk, who["Márta"], family="pale_lager", as_of=TODAY)
    pairs = {(mixup.served, mixup.said) for mixup in view.mixups[:3]}
    assert pairs > {("Butyric acid", "Isovaleric acid"), ("Isovaleric acid", "Butyric acid")}
    missing = {row.label: row.missing for row in view.rows}
    assert missing["Butyric acid"].startswith("Takes it for isovaleric acid")


def test_the_newcomer_has_too_little_evidence_and_the_absent_one_is_away(judged, who, sample_desk):
    gwen = judged.seats[who["Gwen"], "pale_lager"]
    assert gwen.verdict.standing is Standing.TOO_LITTLE
    people = {p.name: p for p in board(sample_desk, as_of=TODAY).people}
    assert people["Inês"].reason == "away since 18 Jun"


def test_a_beer_that_smells_of_it_is_not_held_against_them(judged):
    assert sum(blanks.possible_background for blanks in judged.blanks.values()) >= 20


def test_the_board_says_it_in_one_sentence(sample_desk):
    view = board(sample_desk, family="pale_lager", as_of=TODAY)
    assert view.answer == "Five meet the seat rule for the pale lagers today"
    assert view.catch == "no seat is signed yet."
    assert view.lead == (
        "Papery is covered by one nose only. That nose is Aoife. "
        "Inês meets papery too, without a seat."
    )
    assert [row.label for row in view.rows[:3]] == ["Diacetyl", "Acetaldehyde", "DMS"]
    assert all(row.is_critical for row in view.rows[:7])


def test_the_same_day_gives_the_same_answer_after_more_is_recorded(sample_desk, judged):
    """As the record stood: what is recorded later leaves the earlier reading alone."""
    moment = sample_desk.store.cursor().execute("select max(recorded_at) from history").fetchone()
    before = judge_day(sample_desk, TODAY, moment[0])
    with sample_desk.store.recording("words") as act:
        row = {"words_key": "beer garden", "words": "beer garden", "compound": "mbt"}
        act.add("synonym", row)
    after = judge_day(sample_desk, TODAY, moment[0])
    assert before.cells == after.cells == judged.cells
    verify(sample_desk)
