"""Words that are right for any of several compounds: stated, read, taken back, told."""

from datetime import timedelta

import pytest
import thursday

from seatworthy.errors import FileRefused, PanelError
from seatworthy.steps.accepted_words import (
    accept_words,
    group_of,
    read_anew,
    take_words_back,
    waiting_words,
    word_groups,
)
from seatworthy.steps.answers import enter_answer
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.facts_text import (
    FORM,
    FORM_ACCEPTED,
    FORM_PREPARED,
    facts_digest,
    facts_text,
)
from seatworthy.steps.feedback import feedback
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.shelf_history import shelf_history
from seatworthy.steps.shelf_words import add_compound, give_meaning
from seatworthy.steps.shelf_writing import NOTHING_NEW
from seatworthy.steps.words import map_words, open_words

GROUP = ("h2s", "dms")
BOTH = "right for DMS or hydrogen sulfide"


def outcomes(desk, words="drains"):
    """Outcome by compound of every answer that was this wording."""
    with desk.store.reading() as cursor:
        rows = cursor.execute(
            "select distinct coalesce(compound, 'blank'), outcome from answered_glass where words = ?",
            [words],
        ).fetchall()
    return dict(rows)


def said_drains(desk, people):
    """A closed session in which everybody said "drains" to dimethyl sulphide, diacetyl and blanks."""
    return thursday.a_session(desk, people, {"dms": "drains", "diacetyl": "drains", None: "drains"})


# What these tests ask for, and the fixture whose store has it already; see conftest.
STARTS = {"closed": "with_drains"}


@pytest.fixture(scope="module")
def with_drains(made_from, with_people):
    return made_from(with_people, lambda desk: said_drains(desk, with_people.found))


@pytest.fixture
def closed(desk, with_drains):
    return with_drains.found


def test_a_wording_is_right_for_each_of_its_compounds_and_wrong_elsewhere(desk, closed):
    assert set(outcomes(desk).values()) == {"open"}
    accept_words(desk, "Drains!", GROUP)
    assert outcomes(desk) == {"dms": "right", "diacetyl": "wrong", "blank": "wrong"}


def test_words_with_a_meaning_are_right_for_that_and_for_what_they_are_accepted_for(desk, closed):
    map_words(desk, "drains", "h2s")
    assert outcomes(desk)["dms"] == "wrong"
    accept_words(desk, "drains", ["dms"])
    assert outcomes(desk)["dms"] == "right"
    map_words(desk, "drains", "diacetyl", again=True)
    assert outcomes(desk) == {"dms": "right", "diacetyl": "right", "blank": "wrong"}
    take_words_back(desk, "drains", ["dms"])
    assert outcomes(desk) == {"dms": "wrong", "diacetyl": "right", "blank": "wrong"}


def test_what_is_taken_back_altogether_waits_again(desk, closed):
    accept_words(desk, "drains", GROUP)
    assert open_words(desk) == []
    told = take_words_back(desk, "drains", GROUP)
    assert told == ("“drains” is accepted for no compound any more; it waits for a meaning again.")
    assert [own.words for own in open_words(desk)] == ["drains"]
    assert outcomes(desk)["dms"] == "open"


@pytest.mark.parametrize(
    ("meaning", "told"),
    [
        (None, f"“drains” is {BOTH}, in answers past and to come."),
        (
            "diacetyl",
            f"“drains” stands for diacetyl and is {BOTH} too, in answers past and to come.",
        ),
        ("none", f"“drains” is {BOTH}, and a wrong name elsewhere."),
    ],
)
def test_what_holds_is_told_in_a_sentence(desk, meaning, told):
    if meaning:
        map_words(desk, "drains", meaning)
    assert accept_words(desk, "drains", GROUP) == told
    assert accept_words(desk, "drains", ["hydrogen sulfide"]) == NOTHING_NEW
    assert word_groups(desk) == (group_of(desk, "Drains"),)


@pytest.mark.parametrize(
    ("words", "compounds", "told"),
    [
        ("diacetyl", ["dms"], "is the name of a compound"),
        ("DMS", ["h2s"], "is the name of a compound"),
        ("nothing", GROUP, "means nothing in every results file"),
        ("  ", GROUP, "No words were written"),
        ("drains", [], "Choose what the words are right for"),
        ("drains", ["old boots"], "is not a compound on the shelf"),
    ],
)
def test_what_cannot_be_accepted_is_refused_and_nothing_stored(desk, words, compounds, told):
    before = desk.version
    with pytest.raises(PanelError, match=told):
        accept_words(desk, words, compounds)
    assert desk.version == before


def test_a_synonym_may_be_accepted_for_another_compound(desk):
    told = accept_words(desk, "vinegar", ["lactic_acid"])
    assert told.startswith("“vinegar”")
    assert group_of(desk, "vinegar").compounds == ("lactic_acid",)


@pytest.mark.parametrize("words", ["drains", "mould"])
def test_what_is_not_accepted_cannot_be_taken_back(desk, words):
    accept_words(desk, "drains", ["h2s"])
    with pytest.raises(PanelError, match="is not accepted for DMS"):
        take_words_back(desk, words, ["dms"])


def test_the_waiting_words_of_a_session_are_told_without_their_glasses(desk, people, session_id):
    thursday.answer_all(desk, session_id, {"dms": "drains", None: "old boots"})
    waiting = waiting_words(desk, session_id)
    assert [own.words for own in waiting] == ["old boots", "drains"]
    assert set(vars(waiting[0])) == {"words", "answers"}
    accept_words(desk, "drains", GROUP)
    assert [own.words for own in waiting_words(desk, session_id)] == ["old boots"]


def test_before_the_close_a_group_reads_the_same_in_every_glass(desk, people, session_id):
    accept_words(desk, "drains", GROUP)
    thursday.answer_all(desk, session_id, dict.fromkeys((None, "dms", "diacetyl"), "drains"))
    facts = thursday.facts_of(desk, session_id)
    drains = [glass for glass in facts.glasses if glass.words == "drains"]
    assert {facts.samples[glass.sample_id].compound for glass in drains} >= {
        None,
        "dms",
        "diacetyl",
    }
    assert {facts.read_as(glass) for glass in drains} == {"DMS or hydrogen sulfide"}
    assert {(glass.named_compound, glass.is_known, glass.right_for) for glass in drains} == {
        (None, True, ("dms", "h2s"))
    }


def test_a_typed_group_is_taken_without_asking(desk, people, session_id):
    key, code = thursday.code_of(desk, session_id, people["Ada"], "dms")
    assert enter_answer(desk, session_id, key, code, "drains").outcome == "asks"
    accept_words(desk, "drains", GROUP)
    entered = enter_answer(desk, session_id, key, code, "drains")
    assert (entered.outcome, entered.read_as) == ("kept", "DMS or hydrogen sulfide")


def test_the_feedback_shows_the_words_and_no_name_that_was_not_said(desk, people, closed):
    accept_words(desk, "drains", GROUP)
    page = feedback(desk, closed, people["Ada"])
    said = {(glass.said, glass.outcome) for glass in page.glasses if glass.said == "drains"}
    assert said == {("drains", "right"), ("drains", "wrong")}
    assert "passed for" not in page.answer


def test_answers_that_would_be_read_anew_are_counted_in_closed_sessions_only(desk, people, closed):
    said = sum(glass.words == "drains" for glass in thursday.facts_of(desk, closed).glasses)
    told = f"“drains” stands in {said} answers of 1 closed session."
    assert read_anew(desk, "drains").startswith(told)
    thursday.answer_all(desk, thursday.planned(desk, people, label="Another"), {"dms": "drains"})
    assert read_anew(desk, "drains").startswith(told)
    assert read_anew(desk, "old boots") == ""
    assert read_anew(desk, "old boots", ("dms",)) == ""


@pytest.mark.parametrize(
    ("compounds", "how"),
    [
        (None, "anew"),
        ((), "as naming no compound"),
        (("dms",), "as DMS"),
        (("dms", "h2s"), "as right for DMS or hydrogen sulfide"),
    ],
)
def test_what_the_answers_would_be_read_as_is_named(desk, people, closed, compounds, how):
    assert f" would be read {how}, so verdicts may change;" in read_anew(desk, "drains", compounds)


def test_a_results_file_with_a_group_is_brought_in_and_read_by_it(desk, people, tmp_path):
    accept_words(desk, "drains", GROUP)
    path = tmp_path / "march.csv"
    rows = "2026-03-02,Ada Moran,dms,3,drains\n2026-03-02,Ada Moran,diacetyl,3,drains\n"
    path.write_text(f"date,panellist,compound,level,answer\n{rows}", encoding="utf-8")
    brought = bring_in_results(desk, path)
    assert (brought.added, dict(brought.open_words)) == (2, {})
    assert outcomes(desk) == {"dms": "right", "diacetyl": "wrong"}


def test_a_new_compound_cannot_take_a_wording_that_is_accepted_for_others(desk, tmp_path):
    accept_words(desk, "mercaptan", GROUP)
    with pytest.raises(PanelError, match=f"“Mercaptan” is {BOTH} already"):
        add_compound(desk, "Mercaptan", "", "µg/l")
    path = tmp_path / "shelf.toml"
    path.write_text('[[compounds]]\nkey = "mercaptan"\nlabel = "Mercaptan"\n', encoding="utf-8")
    with pytest.raises(FileRefused, match="accepted for other compounds already"):
        bring_in_shelf(desk, path)


def test_who_said_what_a_wording_is_right_for_stands_in_the_history(desk, people):
    give_meaning(desk, "drains", "h2s", by=people["Bo"])
    accept_words(desk, "drains", ["dms", "diacetyl"], by=people["Ada"])
    take_words_back(desk, "drains", ["dms"], by=people["Bo"])
    lines = history_lines(desk, kinds=["shelf"]).lines[:3]
    assert [(line.what, line.who) for line in lines] == [
        ("“drains” is not accepted for DMS any more.", "Bo Larsen"),
        ("“drains” is accepted for diacetyl or DMS.", "Ada Moran"),
        ("“drains” means hydrogen sulfide.", "Bo Larsen"),
    ]
    told = [(line.what, line.value, line.who) for line in shelf_history(desk)[:2]]
    assert told == [
        ("Words not accepted for DMS any more", "“drains”", "Bo Larsen"),
        ("Words accepted for diacetyl", "“drains”", "Ada Moran"),
    ]


def text_of(desk, people, known_at=None):
    return facts_text(desk, people["Ada"], "pale_lager", thursday.TODAY, known_at)


def test_a_digest_covers_what_own_words_are_accepted_for_and_stays_as_it_was_then(
    desk, people, closed
):
    before = text_of(desk, people)
    assert before.split("\x1f")[0] in (FORM, FORM_PREPARED)
    moment = max(row["recorded_at"] for row in desk.store.rows("history_acts"))
    accept_words(desk, "old boots", GROUP)
    assert text_of(desk, people) == before
    accept_words(desk, "drains", ["dms"])
    one = text_of(desk, people)
    accept_words(desk, "drains", ["acetaldehyde"])
    two = text_of(desk, people)
    assert len({before, one, two}) == 3
    assert two.split("\x1f")[0] == FORM_ACCEPTED
    assert "drains" not in two
    assert text_of(desk, people, moment) == before
    assert facts_digest(desk, people["Ada"], "pale_lager", thursday.TODAY - timedelta(days=1))
    take_words_back(desk, "drains", ["dms", "acetaldehyde"])
    assert text_of(desk, people) == before


def test_a_threshold_of_what_a_call_may_mean_is_in_the_text(desk, people, closed):
    accept_words(desk, "drains", ["h2s"])
    lines = [line.split("\x1f") for line in text_of(desk, people).splitlines()]
    assert {line[1] for line in lines if line[0] == "threshold of accepted"} == {"h2s"}
    own = {line[1] for line in lines if line[0] == "accepted"}
    facts = thursday.facts_of(desk, closed)
    assert own == {
        glass.serving_id
        for glass in facts.glasses
        if glass.words == "drains" and glass.person_id == people["Ada"]
    }
