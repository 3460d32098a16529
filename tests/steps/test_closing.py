from datetime import timedelta

import pytest
import thursday

from seatworthy.errors import PanelError
from seatworthy.steps.answers import correct_answer, enter_answer
from seatworthy.steps.asides import set_sample_aside
from seatworthy.steps.boards import board
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.closing import call_off, close_session, reveal
from seatworthy.steps.planning import record_plan, wish_again
from seatworthy.steps.sessions import session, sessions
from seatworthy.steps.table import sitting_over


def test_a_session_is_closed_only_after_its_last_sitting(desk, people):
    session_id = thursday.planned(desk, people)
    thursday.answer_all(desk, session_id)
    sitting_over(desk, thursday.facts_of(desk, session_id).sittings[0].sitting_id)
    with pytest.raises(PanelError, match="Late is not over yet"):
        close_session(desk, session_id)


def test_missing_answers_are_named_and_may_be_left_missing_on_purpose(desk, people):
    session_id = thursday.planned(desk, people)
    key, code = thursday.code_of(desk, session_id, people["Ada"], "dms")
    enter_answer(desk, session_id, key, code, "dms")
    for sitting in thursday.facts_of(desk, session_id).sittings:
        sitting_over(desk, sitting.sitting_id)
    with pytest.raises(PanelError, match=r"71 glasses have no answer: Ada Moran 7"):
        close_session(desk, session_id)
    close_session(desk, session_id, without_missing=True)
    assert session(desk, session_id).state == "closed"


def test_a_session_without_any_answer_cannot_be_closed(desk, people):
    session_id = thursday.planned(desk, people)
    for sitting in thursday.facts_of(desk, session_id).sittings:
        sitting_over(desk, sitting.sitting_id)
    with pytest.raises(PanelError, match="No answer has come in"):
        close_session(desk, session_id, without_missing=True)


def test_nothing_is_evidence_before_the_close(desk, people):
    session_id = thursday.planned(desk, people)
    thursday.answer_all(desk, session_id)
    assert "under way; its glasses count once it is closed." in board(desk).start_here
    assert board(desk).start_here.startswith("No glasses yet")
    assert reveal(desk, session_id) is None
    thursday.close(desk, session_id)
    assert len(board(desk).people) == 9


def test_first_glasses_alone_change_no_standing(desk, people):
    view = reveal(desk, thursday.a_session(desk, people))
    assert (view.answer, view.changes) == ("No standings changed", ())


def test_the_reveal_names_every_standing_that_changed(desk, people):
    second = thursday.a_month_later(desk, thursday.a_session(desk, people))
    view = reveal(desk, second)
    moved = {(change.name, change.label, change.before, change.after) for change in view.changes}
    assert view.answer == "Nine standings changed"
    assert ("Ada Moran", "Diacetyl", "too_little", "met") in moved


def test_a_sample_that_all_missed_and_usually_find_is_the_bottles_fault(desk, people):
    first = thursday.a_session(desk, people)
    second = thursday.a_month_later(desk, first)
    view = reveal(desk, thursday.a_month_later(desk, second, {"dms": "nothing"}))
    suspects = {sample.label for sample in view.samples if sample.is_suspect}
    assert suspects == {"DMS"}
    assert view.catch.startswith("look at the bottle first: B (DMS)")


def test_a_sample_found_as_usual_is_not_suspect(desk, people):
    view = reveal(desk, thursday.a_month_later(desk, thursday.a_session(desk, people)))
    assert view.catch == ""


def test_a_session_called_off_counts_for_nothing_and_frees_its_codes(desk, people):
    session_id = thursday.planned(desk, people)
    thursday.answer_all(desk, session_id)
    call_off(desk, session_id)
    assert board(desk).start_here.startswith("No glasses yet")
    assert session(desk, session_id).state == "called_off"
    with pytest.raises(PanelError, match="was called off"):
        close_session(desk, session_id)


def test_a_closed_session_stays_closed(desk, people):
    session_id = thursday.a_session(desk, people)
    with pytest.raises(PanelError, match="is closed"):
        call_off(desk, session_id)


def test_the_record_as_it_stood_before_the_close_has_none_of_it(desk, people):
    session_id = thursday.a_session(desk, people)
    ended = thursday.facts_of(desk, session_id).head.ended_at
    with desk.store.reading(ended - timedelta(microseconds=1)) as cursor:
        assert cursor.execute("select count(*) from scored_answer").fetchone() == (0,)


def test_a_results_file_about_a_planned_session_is_refused(desk, people, tmp_path):
    thursday.planned(desk, people)
    path = tmp_path / "late.csv"
    path.write_text(
        "date,session,sitting,panellist,code,compound,level,answer,base beer\n"
        f"{thursday.TODAY},Thursday panel,Early,Ada Moran,999,dms,3,dms,House Pils\n",
        encoding="utf-8",
    )
    with pytest.raises(PanelError, match="line 2: this session was planned here"):
        bring_in_results(desk, path)


def test_the_list_puts_what_is_open_first(desk, people):
    first = thursday.a_session(desk, people)
    day = desk.today() + timedelta(weeks=4)
    desk.today = lambda: day
    second = record_plan(desk, wish_again(desk, first))
    assert [line.session_id for line in sessions(desk).sessions] == [second, first]


def test_the_reveal_shows_every_correction_with_old_answer_new_answer_reason_and_author(
    desk, people
):
    session_id = thursday.a_session(desk, people)
    facts = thursday.facts_of(desk, session_id)
    glass = next(g for g in facts.glasses if g.words == "dms")
    correct_answer(desk, glass.serving_id, "geosmin", "misread the sheet", people["Bo"])
    set_sample_aside(desk, glass.sample_id, "old stock", people["Ada"])
    first, second = reveal(desk, session_id).corrections
    assert (first.before, first.after, first.reason, first.by) == (
        "dms",
        "geosmin",
        "misread the sheet",
        "Bo Larsen",
    )
    assert (second.kind, second.reason, second.by) == ("set aside", "old stock", "Ada Moran")
