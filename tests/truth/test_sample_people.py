"""The people of the sample are as the demonstration needs them, and as the truth says."""

from collections import defaultdict
from datetime import date, timedelta

import pytest
from counting import LAST, hits_of_glasses, is_counted, is_hit

from seatworthy.intake.words import fold

COMMONLY_FOUND = ("diacetyl", "acetaldehyde", "h2s", "acetic_acid", "lactic_acid")
CRITICAL = ("diacetyl", "acetaldehyde", "dms", "t2n", "h2s", "acetic_acid", "lactic_acid")
REGULARS = ("Aoife", "Łukasz", "Renée", "Søren", "Márta")


def test_nine_people_in_two_sittings_some_with_letters_beyond_ascii(rows):
    names = {row["panellist"] for row in rows}
    assert len(names) == len({fold(name) for name in names}) == 9
    assert sum(not name.isascii() for name in names) >= 4
    assert {row["sitting"] for row in rows} == {"early", "late"}


def test_the_newcomer_has_four_sessions_and_the_absent_one_none_for_five_months(rows):
    seen = defaultdict(set)
    for row in rows:
        seen[row["panellist"]].add(date.fromisoformat(row["date"]))
    assert len(seen["Gwen"]) == 4
    assert min(seen["Gwen"]) >= LAST - timedelta(weeks=6)
    assert max(seen["Inês"]) == date(2026, 6, 18)
    assert all(len(seen[name]) > 50 for name in (*REGULARS, "Oisín", "Tariq"))


def test_regulars_have_about_nine_to_twelve_counted_glasses_of_critical_compounds(naming, meanings):
    counts = hits_of_glasses([row for row in naming if is_counted(row)], meanings)
    glasses = [counts[name, compound][1] for name in REGULARS for compound in CRITICAL]
    assert min(glasses) >= 8
    assert 9 <= sum(glasses) / len(glasses) <= 12.5


def test_the_good_ones_find_critical_compounds_the_guesser_and_the_middling_one_less(
    naming, meanings
):
    counts = hits_of_glasses([row for row in naming if is_counted(row)], meanings)
    found = {
        name: sum(counts[name, compound][0] for compound in COMMONLY_FOUND)
        / sum(counts[name, compound][1] for compound in COMMONLY_FOUND)
        for name in (*REGULARS, "Inês", "Oisín", "Tariq")
    }
    assert min(found[name] for name in ("Aoife", "Łukasz", "Márta", "Inês")) > 0.8
    assert max(found["Oisín"], found["Tariq"]) < 0.75


def test_one_person_does_not_smell_dms_even_when_it_is_strong(naming, meanings):
    own = [row for row in naming if row["panellist"] == "Renée" and row["compound"] == "dms"]
    strong = [row for row in own if float(row["level"] or 3) >= 5]
    assert len(strong) >= 4
    assert sum(is_hit(row, meanings) for row in own) <= 1


def test_one_person_loses_papery_over_the_last_nine_months(naming, meanings):
    own = [row for row in naming if row["panellist"] == "Søren" and row["compound"] == "t2n"]
    before = [is_hit(row, meanings) for row in own if row["date"] < "2026-02-19"]
    lately = [is_hit(row, meanings) for row in own if row["date"] > "2026-08-01"]
    assert sum(before) / len(before) > 0.8
    assert sum(lately) / len(lately) < 0.4


def test_one_person_calls_faults_in_blanks_and_the_others_seldom(naming):
    called = defaultdict(list)
    for row in naming:
        if row["compound"] == "blank" and row["beer family"] == "pale_lager":
            called[row["panellist"]].append(row["answer"] != "nothing")
    share = {name: sum(calls) / len(calls) for name, calls in called.items()}
    assert share.pop("Tariq") > 0.3
    assert max(share.values()) <= 0.1


def test_one_person_takes_butyric_and_isovaleric_acid_for_each_other(naming, meanings):
    pair = {"butyric_acid": "isovaleric_acid", "isovaleric_acid": "butyric_acid"}
    own = [row for row in naming if row["panellist"] == "Márta" and row["compound"] in pair]
    mixed = [meanings.get(fold(row["answer"])) == pair[row["compound"]] for row in own]
    assert sum(mixed) / len(mixed) > 0.5


def test_nearly_everyone_misses_the_sample_that_was_never_dosed(naming, truth):
    failed = truth["failed_preparation"]
    poured = [
        row["answer"] for row in naming
        if row["session"] == f"Panel {failed['session']}" and row["compound"] == failed["compound"]
    ]  # fmt: skip
    assert len(poured) >= 6
    assert poured.count("nothing") >= len(poured) - 1


def test_the_truth_knows_every_cell_and_who_is_how(cells, truth):
    assert len(cells) == 9 * 16
    assert float(cells["Renée", "dms"]["rate_at_3x"]) < 0.1
    assert float(cells["Søren", "t2n"]["rate_at_3x"]) < 0.2
    for name in ("Aoife", "Łukasz"):
        good = [float(cells[name, compound]["rate_at_3x"]) >= 0.85 for compound in CRITICAL]
        assert sum(good) >= 5
    middling = [float(cells["Oisín", compound]["rate_at_3x"]) for compound in CRITICAL]
    assert 0.5 < sum(middling) / len(middling) < 0.7
    assert float(cells["Tariq", "dms"]["false_call_rate"]) == 0.4


def test_answers_at_three_times_threshold_come_as_often_as_the_truth_says(naming, meanings, cells):
    """Arithmetic anyone can redo: the sum of chances, within four standard deviations.

    A dose error of 0.2 log2 takes a point or two from the rate of the less sensitive; allowed for.
    """
    for name in ("Aoife", "Łukasz", "Oisín"):
        own = [r for r in naming if r["panellist"] == name and r["level"] == "3"
               and not (r["session"] == "Panel 53" and r["compound"] == "isoamyl_acetate")]  # fmt: skip
        chances = [float(cells[name, row["compound"]]["rate_at_3x"]) for row in own]
        spread = sum(p * (1 - p) for p in chances) ** 0.5
        hits = sum(is_hit(row, meanings) for row in own)
        assert abs(hits - sum(chances)) < 4 * spread + 0.02 * len(own), name


@pytest.mark.parametrize(
    ("d_prime", "three_choice", "triangle"), [(0.0, 0.3333, 0.3333), (1.0, 0.6337, 0.4180)]
)
def test_forced_choices_follow_thurstone(model, d_prime, three_choice, triangle):
    """Values as in Ennis (1993), J. Sens. Stud. 8:353-370, to four decimals (from memory)."""
    assert model._three_choice(d_prime) == pytest.approx(three_choice, abs=5e-5)
    assert model._triangle(d_prime) == pytest.approx(triangle, abs=5e-5)


def test_a_taster_at_threshold_is_right_two_times_of_three_in_3afc(model, truth):
    """By the definition of the threshold: half-way between chance (1/3) and certainty."""
    assert model._three_choice(truth["model"]["d_at_threshold"]) == pytest.approx(2 / 3, abs=5e-5)
