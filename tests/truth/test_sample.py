"""The shipped sample is what its script writes, and is built as a brewery would pour it."""

import subprocess
import sys
from collections import Counter, defaultdict
from datetime import date

import pytest
from counting import LAST, SAMPLE, TRUTH

from seatworthy.intake.results import read_results
from seatworthy.intake.shelf import read_shelf
from seatworthy.intake.words import Vocabulary, fold


def test_the_committed_files_are_what_the_script_writes(tmp_path):
    script = [sys.executable, str(SAMPLE / "make_sample.py"), "--to", str(tmp_path)]
    subprocess.run(script, check=True)
    for folder, name in ((SAMPLE, "results.csv"), (SAMPLE, "shelf.toml"), (TRUTH, "truth.csv")):
        assert (tmp_path / name).read_bytes() == (folder / name).read_bytes(), name


def test_the_results_file_is_read_without_a_fault(rows, meanings):
    found = read_results(SAMPLE / "results.csv", Vocabulary(meanings), LAST)
    assert (len(found.rows), found.shape, found.notes) == (len(rows), "answers", ())
    assert "marzipan door" in found.open_words
    assert not set(found.open_words) & {"sweetcorn", "wet paper", "old hops"}


def test_the_shelf_file_is_read_without_a_fault(meanings):
    found = read_shelf(SAMPLE / "shelf.toml", Vocabulary(meanings))
    assert found.brewery is not None
    assert found.brewery.name == "Quillmere Brewery"
    assert (len(found.families), len(found.base_beers), len(found.synonyms)) == (2, 2, 16)


def test_the_results_file_is_small_and_in_order(rows):
    assert 3000 <= len(rows) <= 5000
    assert (SAMPLE / "results.csv").stat().st_size < 600_000
    keys = [(r["date"], r["sitting"], r["panellist"], int(r["position"])) for r in rows]
    assert keys == sorted(keys)


def test_sixty_sessions_mostly_on_thursdays_end_on_19_november(rows):
    days = sorted({date.fromisoformat(row["date"]) for row in rows})
    assert len(days) == 60
    assert (days[0], days[-1]) == (date(2025, 5, 8), LAST)
    assert Counter(day.strftime("%a") for day in days) == {"Thu": 58, "Wed": 2}


def test_three_sessions_in_four_are_on_pale_lager(rows):
    beers = Counter(family for _, family in {(row["date"], row["beer family"]) for row in rows})
    assert beers == {"pale_lager": 45, "wheat_beer": 15}


def test_every_position_is_taken_once_by_each_panellist(rows):
    places = defaultdict(list)
    for row in rows:
        places[row["date"], row["panellist"]].append(int(row["position"]))
    assert all(sorted(place) == list(range(1, len(place) + 1)) for place in places.values())


def test_a_code_has_three_digits_not_all_alike_and_belongs_to_one_glass(rows):
    codes = Counter((row["date"], row["code"]) for row in rows)
    assert set(codes.values()) == {1}
    assert all(len(code) == 3 and len(set(code)) > 1 and code.isdigit() for _, code in codes)


def test_flights_hold_six_to_eight_glasses_and_four_beside_an_ascending_series(rows, naming):
    series = {row["date"] for row in rows if row["method"] == "3afc"}
    flights = Counter((row["date"], row["panellist"]) for row in naming)
    assert {size for (day, _), size in flights.items() if day in series} == {4}
    assert {size for (day, _), size in flights.items() if day not in series} == {6, 7, 8}


def test_about_a_quarter_of_the_glasses_are_blanks_one_to_three_a_flight(naming):
    blanks = Counter((r["date"], r["panellist"]) for r in naming if r["compound"] == "blank")
    assert 0.2 <= blanks.total() / len(naming) <= 0.3
    assert set(blanks.values()) == {1, 2, 3}


def test_most_sessions_hide_one_duplicate_pair(naming):
    pairs = Counter((r["date"], r["panellist"]) for r in naming if r["duplicate"])
    assert set(pairs.values()) == {2}
    assert 40 <= len({day for day, _ in pairs}) <= 54


def test_six_sessions_hold_an_ascending_series_and_four_hold_triangles(rows):
    sets = defaultdict(set)
    for row in rows:
        sets[row["method"], row["date"]].add((row["compound"], float(row["level"] or 3)))
    series = [sorted(found) for (method, _), found in sets.items() if method == "3afc"]
    assert sorted(len(found) for found in series) == [5, 5, 5, 5, 6, 6]
    for found in series:
        levels = [level for _, level in found]
        assert levels == [0.5 * 2**step for step in range(len(levels))]
        assert len({compound for compound, _ in found}) == 1
    assert sum(method == "triangle" for method, _ in sets) == 4


def test_forced_choices_are_answered_right_or_wrong(rows):
    answers = {row["answer"] for row in rows if row["method"] != "naming"}
    assert answers == {"right", "wrong"}


def test_levels_are_mostly_two_to_four_times_threshold(naming):
    levels = Counter(float(row["level"]) for row in naming if row["level"])
    assert levels.most_common(1)[0][0] == 3
    assert set(levels) == {1.5, 2, 2.5, 3, 4, 5, 6}
    assert sum(n for level, n in levels.items() if 2 <= level <= 4) / levels.total() > 0.8


def test_a_few_dozen_glasses_come_as_a_dose_of_about_three_times_threshold(naming, shelf):
    dosed = [row for row in naming if row["dose"]]
    assert 24 <= len(dosed) <= 72
    assert not any(row["level"] for row in dosed)
    per_ug = {"ng": 1000, "ug": 1, "mg": 0.001}
    general = {r["compound"]: r for r in shelf["working_thresholds"] if "family" not in r}
    there = {(r["beer"], r["compound"]): r.get("value", 0) for r in shelf["backgrounds"]}
    for row in dosed:
        amount, unit = row["dose"].split()
        stated = general[row["compound"]]
        added = float(amount) / per_ug[unit] * per_ug[stated["unit"].removesuffix("/L")]
        total = added + there.get((row["base beer"], row["compound"]), 0)
        assert row["volume"] in {"1 l", "1000 ml"}
        assert total / stated["value"] == pytest.approx(3, abs=0.3)


def test_working_thresholds_lie_within_the_reference_ranges(shelf, references):
    per_ug = {"ng/L": 1000, "ug/L": 1, "mg/L": 0.001}
    compounds = {entry["compound"] for entry in shelf["working_thresholds"]}
    assert len(compounds) == 16
    assert {references[compound]["serve"] for compound in compounds} == {"yes", "prediluted"}
    for entry in shelf["working_thresholds"]:
        known = references[entry["compound"]]
        found = entry["value"] / per_ug[entry["unit"]] * per_ug[known["unit"]]
        low, high = float(known["threshold_low"]), float(known["threshold_high"])
        assert low * (1 - 1e-9) <= found <= high * (1 + 1e-9), entry
        assert entry["from"] == date(2025, 1, 1)


def test_the_wheat_beer_has_its_own_critical_list_and_two_expected_compounds(shelf):
    wheat, pale = shelf["beer_families"]["wheat_beer"], shelf["beer_families"]["pale_lager"]
    assert len(wheat["critical"]) == len(pale["critical"]) == 6
    assert wheat["critical"] != pale["critical"]
    assert set(wheat["expected"]) == {"vinylguaiacol", "isoamyl_acetate"}


def test_dms_is_near_threshold_in_the_wheat_beer_and_its_blanks_are_called_dms(
    naming, shelf, meanings
):
    wheat = {(r["beer"], r["compound"]): r.get("value") for r in shelf["backgrounds"]}
    own = {(r["compound"], r.get("family")): r["value"] for r in shelf["working_thresholds"]}
    level = wheat["Quillmere Weisse", "dms"] / own["dms", "wheat_beer"]
    assert level == pytest.approx(0.9)
    called = {
        family: [meanings.get(fold(row["answer"])) == "dms" for row in naming
                 if row["compound"] == "blank" and row["beer family"] == family]
        for family in ("wheat_beer", "pale_lager")
    }  # fmt: skip
    share = {family: sum(found) / len(found) for family, found in called.items()}
    assert 0.1 < share["wheat_beer"] < 0.4
    assert share["pale_lager"] < 0.03


def test_a_glass_or_two_are_set_aside_and_a_few_have_notes(rows):
    assert [row["set aside"] for row in rows if row["set aside"]] == ["glass spilled"] * 2
    assert 1 <= sum(bool(row["note"]) for row in rows) <= 3


def test_the_shipped_files_do_not_tell_the_truth(truth):
    shown = "".join((SAMPLE / name).read_text("utf-8") for name in ("results.csv", "shelf.toml"))
    assert not [word for word in ("effect", "drift", "false_calls", "named_right") if word in shown]
