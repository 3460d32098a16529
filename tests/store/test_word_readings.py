"""Whatever is stated of words, in whatever order: what an answer comes to, by SQL and by ten lines."""

import pytest
from given import DAY, beer, glass, person, session, vocabulary
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

COMPOUNDS = ("diacetyl", "dms", "acetic_acid")
STATED = st.lists(
    st.one_of(
        st.tuples(st.just("means"), st.sampled_from([*COMPOUNDS, None])),
        st.tuples(st.sampled_from(["accepted", "not accepted"]), st.sampled_from(COMPOUNDS)),
    ),
    max_size=6,
)


@pytest.fixture
def lab(store):
    vocabulary(store)
    with store.recording("results") as act:
        beer(act)
        sitting, who = session(act), person(act, "ada")
        for number, compound in enumerate([*COMPOUNDS, None], start=1):
            glass(act, sitting, who, compound, "odd words", number=number)
    return store


def state(store, statement, number):
    """One statement in an act of its own; the words are made new for each example."""
    kind, compound = statement
    row = {"words_key": f"odd words {number}", "words": "odd words", "compound": compound}
    with store.recording("words") as act:
        if kind == "means":
            act.add("synonym", row)
        else:
            act.add("accepted_words", {**row, "is_accepted": kind == "accepted"})


def understood(statements):
    """What the words mean ("" where nobody said), and what they are accepted for."""
    meaning, accepted = "", set()
    for kind, compound in statements:
        if kind == "means":
            meaning = compound
        elif kind == "accepted":
            accepted.add(compound)
        else:
            accepted.discard(compound)
    return meaning, accepted


def expected(statements, compound):
    """Outcome and the compound named."""
    meaning, accepted = understood(statements)
    if meaning == "" and not accepted:
        return "open", None
    right_for = accepted | ({meaning} if meaning else set())
    if compound in right_for:
        return "right", compound
    is_one = len(right_for) == 1 and meaning is not None
    return "wrong", next(iter(right_for)) if is_one else None


def found(store, moment=None):
    cursor = store.cursor(moment)
    rows = cursor.execute("select compound, outcome, named_compound from scored_answer").fetchall()
    cursor.close()
    return {compound: (outcome, named) for compound, outcome, named in rows}


def last_moment(store):
    cursor = store.cursor()
    (moment,) = cursor.execute("select max(recorded_at) from history").fetchone()
    cursor.close()
    return moment


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(statements=STATED)
def test_an_answer_comes_to_what_the_statements_say_at_every_moment(lab, statements):
    number = last_moment(lab).isoformat()
    lab.cursor().execute("update answer set words_key = ?", [f"odd words {number}"])
    moments = [last_moment(lab)]
    for statement in statements:
        state(lab, statement, number)
        moments.append(last_moment(lab))
    for count, moment in enumerate(moments):
        wanted = {
            compound: expected(statements[:count], compound) for compound in [*COMPOUNDS, None]
        }
        assert found(lab, moment) == wanted
    assert found(lab) == wanted


def blank_said(store, accepted=(), meaning=None):
    """One blank called with words of several meanings; what its line says."""
    with store.recording("results") as act:
        glass(act, session(act), person(act, "ada"), None, "odd words")
    with store.recording("words") as act:
        row = {"words_key": "odd words", "words": "odd words"}
        if meaning:
            act.add("synonym", {**row, "compound": meaning})
        for compound in accepted:
            act.add("accepted_words", {**row, "compound": compound, "is_accepted": True})
    rows = store.rows("blank_counts", after_on="2026-01-01", until_on=DAY)
    return rows[0]["false_calls"], rows[0]["possible_background"]


@pytest.fixture
def shelf(store):
    vocabulary(store)
    with store.recording("shelf") as act:
        beer(act)
        row = {"family": "pale", "item_no": 0, "compound": "dms", "role": "expected"}
        act.add("family_compound", row)
    return store


def test_a_call_that_may_mean_several_is_no_false_call_where_the_beer_explains_one(shelf):
    assert blank_said(shelf, ["acetic_acid", "dms"]) == (0, 1)


def test_one_that_the_beer_explains_in_no_sense_is_a_false_call(shelf):
    assert blank_said(shelf, ["acetic_acid", "diacetyl"]) == (1, 0)


def test_accepting_more_makes_no_false_call_of_what_was_none(shelf):
    assert blank_said(shelf, ["acetic_acid"], meaning="dms") == (0, 1)


def test_a_wrong_answer_that_may_mean_several_is_no_mix_up(shelf):
    with shelf.recording("results") as act:
        glass(act, session(act), person(act, "ada"), "diacetyl", "odd words")
    with shelf.recording("words") as act:
        for compound in ("dms", "acetic_acid"):
            row = {"words_key": "odd words", "words": "odd words", "compound": compound}
            act.add("accepted_words", {**row, "is_accepted": True})
    who = shelf.rows("scored_answers", until_on=DAY)[0]["person_id"]
    window = {"after_on": "2026-01-01", "until_on": DAY}
    assert shelf.rows("mixups", person_id=who, **window) == []
