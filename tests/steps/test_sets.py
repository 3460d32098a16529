import re
from dataclasses import replace
from decimal import Decimal

import planned_sets
import pytest
import thursday
from planned_sets import others, own_sheet, pick, sets_of

from seatworthy.errors import PanelError, StoreDamaged
from seatworthy.sessions.wish import SETS, WantedSample
from seatworthy.steps.answers import correct_answer, enter_answer
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.papers import papers
from seatworthy.steps.planning import record_plan, wish_again
from seatworthy.steps.resting_codes import resting_codes
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.seating import seat_latecomer
from seatworthy.steps.sessions import session
from seatworthy.steps.sheets import sheet
from seatworthy.steps.table import swapped


@pytest.fixture
def planned(desk, people):
    """A session of three people with two glasses to name and six sets each."""
    return planned_sets.planned(desk, people)


def test_a_plan_with_sets_is_on_record_glass_by_glass_and_verifies(desk, people, planned):
    facts = thursday.facts_of(desk, planned)
    assert len(facts.glasses) == 3 * 8
    assert sum(len(glass.poured_from) for glass in facts.glasses) == 3 * planned_sets.GLASSES_EACH
    verify(desk)


def test_every_set_holds_as_many_glasses_as_its_method_says(desk, people, planned):
    for glass in sets_of(desk, planned, people["Ada"]):
        assert len(glass.parts) == SETS[glass.method]
        assert [part.code for part in glass.parts if part.is_odd] == [glass.blind_code]


def test_a_spare_order_holds_what_is_named_and_no_set(desk, planned):
    facts = thursday.facts_of(desk, planned)
    marks = [facts.samples[spare.sample_id].mark for spare in facts.spares]
    assert marks == ["A", "B"]


def test_the_codes_of_sets_rest_like_all_others(desk, people, planned):
    resting = resting_codes(desk, thursday.TODAY)
    for glass in sets_of(desk, planned, people["Bo"]):
        assert set(glass.codes) <= resting


def test_alcohol_is_counted_over_every_glass_of_a_set(desk, planned):
    # 2 glasses to name, 5 sets of three, one of two, and the control.
    (line,) = [line for line in session(desk, planned).care if "alcohol" in line]
    assert line.startswith("20 glasses of 30 ml")


def test_the_papers_count_what_each_jug_gives_to_sets(desk, planned):
    view = papers(desk, planned)
    samples = {sample.mark: sample for sample in view.sittings[0].samples}
    # Of the blank: one to name for 3 people and the spare; 2 + 2 + 2 + 2 + 1 + 1 in sets for 3.
    assert samples["B"].glasses == 4 + 3 * 10
    assert samples["F"].glasses == 3 * (1 + 2)
    assert samples["C"].is_asked_in_sets
    assert samples["B"].is_asked_in_sets
    assert not samples["A"].is_asked_in_sets


def test_a_sheet_shows_the_codes_of_a_set_from_left_to_right(desk, people, planned):
    rows = own_sheet(desk, planned).rows
    glasses = sets_of(desk, planned, people["Ada"])
    assert [row.codes for row in rows[2:]] == [glass.codes for glass in glasses]
    assert [row.code for row in rows[2:]] == [glass.codes[0] for glass in glasses]
    assert rows[2].name == f"set 3 ({' '.join(glasses[0].codes)})"
    assert rows[0].codes == ()


def test_a_pick_is_kept_and_told_without_saying_whether_it_is_right(desk, people, planned):
    one, other, *_ = sets_of(desk, planned, people["Ada"])
    right = pick(desk, planned, one, one.blind_code)
    wrong = pick(desk, planned, other, others(other)[0])
    assert right.sentence == f"Set 3: picked {one.blind_code}."
    assert wrong.sentence == f"Set 4: picked {others(other)[0]}."
    kinds = [glass.kind for glass in sets_of(desk, planned, people["Ada"])[:2]]
    assert kinds == ["right", "wrong"]
    verify(desk)


@pytest.mark.parametrize("said", ["999", "right", "wrong", "0", "?", "dms", "1"])
def test_another_code_or_a_word_is_refused_with_the_codes_of_the_set(desk, people, planned, said):
    glass = sets_of(desk, planned, people["Ada"])[0]
    done = pick(desk, planned, glass, said)
    assert done.outcome == "refused"
    assert all(code in done.sentence for code in glass.codes)
    assert not any(own.kind for own in sets_of(desk, planned, people["Ada"]))


def test_a_code_of_another_set_is_refused(desk, people, planned):
    one, other, *_ = sets_of(desk, planned, people["Ada"])
    assert pick(desk, planned, one, other.blind_code).outcome == "refused"


def test_a_set_is_found_by_any_of_its_codes(desk, people, planned):
    glass = sets_of(desk, planned, people["Ada"])[0]
    key = own_sheet(desk, planned).key
    done = enter_answer(desk, planned, key, glass.codes[2], glass.codes[1])
    assert done.outcome == "kept"


def test_the_same_pick_again_is_one_fact_and_another_is_refused(desk, people, planned):
    glass = sets_of(desk, planned, people["Ada"])[0]
    one, other = others(glass)
    pick(desk, planned, glass, one)
    assert pick(desk, planned, glass, one).outcome == "known"
    done = pick(desk, planned, glass, other)
    assert done.outcome == "refused"
    assert f"on record as “picked {one}”" in done.sentence
    assert len(picks(desk)) == 1


def test_a_correction_writes_a_new_pick_and_both_stay(desk, people, planned):
    glass = sets_of(desk, planned, people["Ada"])[0]
    one, other = others(glass)
    pick(desk, planned, glass, one)
    said = correct_answer(desk, glass.serving_id, other, "misread the circle", people["Bo"])
    assert (
        said
        == f"Set 3 ({' '.join(glass.codes)}): “picked {one}” was corrected to “picked {other}”."
    )
    assert picks(desk) == [one, other]
    verify(desk)


def test_a_correction_to_the_same_pick_is_refused(desk, people, planned):
    glass = sets_of(desk, planned, people["Ada"])[0]
    pick(desk, planned, glass, glass.blind_code)
    with pytest.raises(PanelError, match="says “picked .*” already"):
        correct_answer(desk, glass.serving_id, glass.blind_code, "misread", people["Bo"])


def picks(desk):
    with desk.store.reading() as cursor:
        rows = cursor.execute("select blind_code from set_pick order by entry_no").fetchall()
    return [code for (code,) in rows]


def test_before_the_close_no_page_tells_which_pick_was_right(desk, people, planned):
    """Whoever reads sheets, session and history sees the same words for every pick."""
    glass = sets_of(desk, planned, people["Ada"])[0]
    pick(desk, planned, glass, glass.blind_code)
    correct_answer(desk, glass.serving_id, glass.codes[0], "misread", people["Bo"])
    seen = [own_sheet(desk, planned), session(desk, planned), history_lines(desk)]
    told = " ".join(str(view) for view in seen)
    assert "'right'" not in told
    assert "'wrong'" not in told
    alone = told.replace(" ".join(glass.codes), "").replace("/".join(glass.codes), "")
    alone = alone.replace(str(glass.codes), "").replace(f"picked {glass.codes[0]}", "")
    assert glass.blind_code not in re.findall(r"\b\d{3}\b", alone)


def test_glasses_of_sets_are_not_swapped_at_the_table(desk, people, planned):
    one, other, *_ = sets_of(desk, planned, people["Ada"])
    with pytest.raises(PanelError, match=r"Set 3 .* is a set"):
        swapped(desk, one.serving_id, other.serving_id)


def test_a_latecomer_gets_what_is_named(desk, people, planned):
    sitting = thursday.facts_of(desk, planned).sittings[0].sitting_id
    told = [seat_latecomer(desk, sitting, people[name]) for name in ("Emil", "Hana")]
    for said, words in zip(told, ("takes spare order 1", "fresh order"), strict=True):
        assert words in said
        assert "It holds no sets: those are poured for the people who were planned." in said
    for name in ("Emil", "Hana"):
        facts = thursday.facts_of(desk, planned)
        own = facts.glasses_of(sitting, people[name])
        assert sorted(facts.samples[g.sample_id].mark for g in own) == ["A", "B"]


def test_a_latecomer_to_a_session_of_sets_alone_is_told_what_to_do(desk, people):
    session_id = planned_sets.planned(desk, people, names=False)
    sitting = thursday.facts_of(desk, session_id).sittings[0].sitting_id
    with pytest.raises(PanelError, match="Plan a session of their own for Emil Novak"):
        seat_latecomer(desk, sitting, people["Emil"])


def test_a_pick_changed_behind_the_record_is_found(desk, people, planned):
    glass = sets_of(desk, planned, people["Ada"])[0]
    pick(desk, planned, glass, glass.blind_code)
    with desk.store.reading() as cursor:
        cursor.execute("update set_pick set blind_code = ?", [others(glass)[0]])
    with pytest.raises(StoreDamaged, match="say another thing than what was picked"):
        verify(desk)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ("update set_pick set blind_code = '999'", "picks name no glass of their set"),
        ("delete from set_pick", "answers to sets have no pick"),
        ("update set_glass set is_odd = false", "don't have the one odd glass"),
        ("update set_glass set serving_id = 'no such'", "belong to no serving"),
    ],
)
def test_sets_that_do_not_add_up_are_found(desk, people, planned, change, sentence):
    glass = sets_of(desk, planned, people["Ada"])[0]
    pick(desk, planned, glass, glass.blind_code)
    found = [glass.serving_id, glass.blind_code]
    with desk.store.reading() as cursor:
        cursor.execute(f"{change} where serving_id = ? and blind_code = ?", found)
    with pytest.raises(StoreDamaged, match=sentence):
        verify(desk)


def test_a_wish_with_sets_becomes_a_session_whose_repetition_asks_for_the_same(desk, people):
    wish = thursday.wish(people)
    asked = replace(
        wish,
        samples=(
            WantedSample(None, None, glasses=0),
            WantedSample("diacetyl", Decimal(1), method="3afc"),
            WantedSample("diacetyl", Decimal(2), method="3afc"),
        ),
    )
    session_id = record_plan(desk, asked)
    facts = thursday.facts_of(desk, session_id)
    assert all(len(glass.parts) == 3 for glass in facts.glasses)
    assert facts.spares == ()
    verify(desk)
    again = [(s.compound, s.glasses, s.method) for s in wish_again(desk, session_id).samples]
    assert again == [(s.compound, s.glasses, s.method) for s in asked.samples]


def test_a_sheet_of_sets_alone_asks_for_the_codes_that_were_picked(desk, people):
    session_id = planned_sets.planned(desk, people, names=False)
    view = sheet(desk, session_id)
    assert view.answer == "Type the code that was picked in each set"
    assert "sets still wait" in view.catch
