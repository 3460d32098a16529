import pytest
import thursday

from seatworthy.errors import PanelError
from seatworthy.steps.answers import correct_answer, enter_answer, sheet
from seatworthy.steps.asides import (
    put_glass_back,
    put_own_back,
    set_glass_aside,
    set_own_aside,
    set_sample_aside,
)
from seatworthy.steps.table import absent, spilled


@pytest.fixture
def ada(desk, session_id, people):
    """Sheet key and code of Ada's first DMS glass."""
    return thursday.code_of(desk, session_id, people["Ada"], "dms")


def stored(desk):
    return desk.store.rows("record_size")[0]["answers"]


def test_an_answer_is_kept_and_read_as_a_compound(desk, session_id, ada):
    done = enter_answer(desk, session_id, *ada, "Dimethyl sulfide")
    assert (done.outcome, done.read_as) == ("kept", "DMS")
    assert stored(desk) == 1


@pytest.mark.parametrize(
    ("said", "read_as"),
    [
        ("0", "nothing"),
        ("nothing", "nothing"),
        ("?", "something, no name"),
        ("DIACETYL", "Diacetyl"),
    ],
)
def test_short_words_are_understood(desk, session_id, ada, said, read_as):
    assert enter_answer(desk, session_id, *ada, said).read_as == read_as


def test_a_code_of_no_glass_is_refused_and_the_near_one_named(desk, session_id, ada):
    key, code = ada
    typed = code[1] + code[0] + code[2]
    done = enter_answer(desk, session_id, key, typed if typed != code else "999", "dms")
    assert done.outcome == "refused"
    assert stored(desk) == 0


def test_a_code_of_somebody_else_is_refused_with_their_name(desk, session_id, ada, people):
    _, code = thursday.code_of(desk, session_id, people["Bo"], "dms")
    done = enter_answer(desk, session_id, ada[0], code, "dms")
    assert done.outcome == "refused"
    assert "Bo Larsen's sheet" in done.sentence


def test_own_words_are_asked_about_once_and_then_kept(desk, session_id, ada):
    asked = enter_answer(desk, session_id, *ada, "butterscoch")
    assert asked.outcome == "asks"
    assert stored(desk) == 0
    kept = enter_answer(desk, session_id, *ada, "butterscoch", keep_own_words=True)
    assert (kept.outcome, kept.read_as) == ("kept", "own words")


def test_two_leaders_entering_the_same_answer_make_one_fact(desk, session_id, ada):
    enter_answer(desk, session_id, *ada, "dms")
    assert enter_answer(desk, session_id, *ada, "DMS").outcome == "known"
    assert stored(desk) == 1


def test_two_leaders_who_disagree_are_told_and_the_first_stands(desk, session_id, ada):
    enter_answer(desk, session_id, *ada, "dms")
    done = enter_answer(desk, session_id, *ada, "diacetyl")
    assert done.outcome == "refused"
    assert "on record as “dms”" in done.sentence


def test_an_answer_to_a_spilled_glass_is_refused(desk, session_id, ada, people):
    glass = next(g for g in thursday.facts_of(desk, session_id).glasses if g.blind_code == ada[1])
    spilled(desk, glass.serving_id)
    assert "recorded as spilled" in enter_answer(desk, session_id, *ada, "dms").sentence


def test_an_answer_of_somebody_who_was_not_there_is_refused(desk, session_id, ada, people):
    sitting = thursday.facts_of(desk, session_id).sittings[0]
    absent(desk, sitting.sitting_id, people["Ada"])
    assert "recorded as not there" in enter_answer(desk, session_id, *ada, "dms").sentence


def test_a_correction_stands_in_the_place_of_the_answer_and_both_stay(
    desk, session_id, ada, people
):
    enter_answer(desk, session_id, *ada, "diacetyl")
    glass = next(g for g in thursday.facts_of(desk, session_id).glasses if g.kind)
    said = correct_answer(desk, glass.serving_id, "dms", "misread the sheet", people["Bo"])
    assert "was corrected to “dms”" in said
    now = next(g for g in thursday.facts_of(desk, session_id).glasses if g.kind)
    assert now.said == "dms"
    with desk.store.reading() as cursor:
        assert cursor.execute("select count(*) from answer").fetchone() == (2,)


def test_a_correction_without_a_reason_or_an_author_is_refused(desk, session_id, ada, people):
    enter_answer(desk, session_id, *ada, "diacetyl")
    glass = next(g for g in thursday.facts_of(desk, session_id).glasses if g.kind)
    with pytest.raises(PanelError, match="Say why"):
        correct_answer(desk, glass.serving_id, "dms", "  ", people["Bo"])
    with pytest.raises(PanelError, match="Say who you are"):
        correct_answer(desk, glass.serving_id, "dms", "misread", None)


def test_a_glass_set_aside_counts_for_nothing_until_it_is_put_back(desk, session_id, ada, people):
    thursday.answer_all(desk, session_id)
    glass = next(g for g in thursday.facts_of(desk, session_id).glasses if g.blind_code == ada[1])
    set_glass_aside(desk, glass.serving_id, "beer was warm", people["Bo"])
    thursday.close(desk, session_id)
    assert scored(desk) == 71
    put_glass_back(desk, glass.serving_id, "it was not", people["Bo"])
    assert scored(desk) == 72


def test_a_sample_set_aside_takes_its_glasses_along(desk, session_id, people):
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    facts = thursday.facts_of(desk, session_id)
    dms = next(s for s in facts.samples.values() if s.compound == "dms")
    tasters = sum(g.sample_id == dms.sample_id for g in facts.glasses)
    set_sample_aside(desk, dms.sample_id, "the stock was old", people["Bo"])
    assert scored(desk) == 72 - tasters


def test_own_glasses_are_set_aside_before_the_reveal_without_a_reason(desk, session_id, people):
    thursday.answer_all(desk, session_id)
    assert set_own_aside(desk, people["Ada"]).startswith("8 glasses set aside")
    put_own_back(desk, people["Ada"])
    set_own_aside(desk, people["Ada"])
    thursday.close(desk, session_id)
    assert scored(desk) == 64


def test_own_glasses_cannot_be_set_aside_after_the_reveal(desk, session_id, people):
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    with pytest.raises(PanelError, match="Once a session is closed"):
        set_own_aside(desk, people["Ada"])


def test_the_first_sheet_shown_is_the_first_that_waits(desk, session_id, ada):
    first = sheet(desk, session_id)
    assert first.name == "Ada Moran"
    for row in first.rows:
        enter_answer(desk, session_id, first.key, row.code, "nothing")
    assert sheet(desk, session_id).name == "Bo Larsen"


def test_a_closed_session_takes_no_more_answers(desk, session_id, ada, people):
    sitting = thursday.facts_of(desk, session_id).sittings[1]
    absent(desk, sitting.sitting_id, people["Hana"])
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    key, code = thursday.code_of(desk, session_id, people["Hana"], "dms")
    assert "takes no more answers" in enter_answer(desk, session_id, key, code, "dms").sentence


def scored(desk):
    with desk.store.reading() as cursor:
        return cursor.execute("select count(*) from scored_answer").fetchone()[0]


def test_a_correction_to_words_that_name_nothing_must_be_meant_so(desk, session_id, ada, people):
    enter_answer(desk, session_id, *ada, "diacetyl")
    glass = next(g for g in thursday.facts_of(desk, session_id).glasses if g.kind)
    with pytest.raises(PanelError, match="“pap” names nothing on the shelf"):
        correct_answer(desk, glass.serving_id, "pap", "misread", people["Bo"])
    said = correct_answer(
        desk, glass.serving_id, "pap", "misread", people["Bo"], keep_own_words=True
    )
    assert "was corrected to “pap”" in said
