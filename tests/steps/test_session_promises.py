"""What must hold of planned sessions however people, glasses and moments are mixed up."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from decimal import Decimal

import pytest
import thursday

from seatworthy.errors import PanelError
from seatworthy.steps.answers import correct_answer
from seatworthy.steps.asides import set_glass_aside, set_own_aside, set_sample_aside
from seatworthy.steps.closing import call_off, close_session, reveal
from seatworthy.steps.feedback import feedback
from seatworthy.steps.panel import add_people, not_to_serve, people_of_panel
from seatworthy.steps.people import merge_people
from seatworthy.steps.planning import preview
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.sessions import session, sessions
from seatworthy.steps.table import (
    absent,
    put_codes_on,
    seat_latecomer,
    sitting_over,
    spilled,
    state_level,
    swapped,
)
from seatworthy.steps.words import open_words


def glasses(desk, session_id, person):
    return [g for g in thursday.facts_of(desk, session_id).glasses if g.person_id == person]


def later(people, days):
    """A plan like the first, so many days on."""
    return {
        "session_on": thursday.TODAY + timedelta(days=days),
        "sittings": tuple(
            thursday.WantedSitting(s.label, s.starts_at + timedelta(days=days), s.people)
            for s in thursday.wish(people).sittings
        ),
        "seed": 8,
    }


def test_a_planned_session_is_no_fault_of_the_record(desk, session_id, people):
    thursday.planned(desk, people, **later(people, 14))
    assert verify(desk).sessions == 2


def test_a_closed_session_with_a_spilled_glass_is_no_fault_of_the_record(desk, session_id, people):
    spilled(desk, glasses(desk, session_id, people["Ada"])[0].serving_id)
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    assert verify(desk).answers == 71


@pytest.mark.parametrize("table", ["sample_aside", "correction", "addition"])
def test_changed_free_text_is_found(desk, session_id, people, table):
    thursday.answer_all(desk, session_id)
    facts = thursday.facts_of(desk, session_id)
    set_sample_aside(desk, next(iter(facts.samples)), "old stock", people["Bo"])
    correct_answer(desk, facts.glasses[0].serving_id, "geosmin", "misread", people["Bo"])
    column = "addition" if table == "addition" else "reason"
    with desk.store.reading() as cursor:
        cursor.execute(f"update {table} set {column} = 'forged'")
    with pytest.raises(PanelError, match="changed"):
        verify(desk)


def test_a_cold_sets_aside_nothing_of_sessions_to_come(desk, session_id, people):
    later_id = thursday.planned(desk, people, **later(people, 14))
    assert set_own_aside(desk, people["Ada"]).startswith("8 glasses")
    assert not any(g.is_aside for g in glasses(desk, later_id, people["Ada"]))


def test_nothing_at_the_table_is_recorded_after_the_close(desk, session_id, people):
    """Eight threads and a close at once: each act is before the close, or refused."""
    thursday.answer_all(desk, session_id)
    facts = thursday.facts_of(desk, session_id)
    for sitting in facts.sittings:
        sitting_over(desk, sitting.sitting_id)
    sample = next(s for s in facts.samples.values() if s.compound == "dms")
    pair = glasses(desk, session_id, people["Bo"])[:2]

    def quiet(act, *words):
        try:
            act(desk, *words)
        except PanelError:
            return

    with ThreadPoolExecutor(8) as pool:
        for level in range(2, 6):
            pool.submit(quiet, state_level, sample.sample_id, Decimal(level), None)
        pool.submit(quiet, close_session, session_id)
        for _ in range(3):
            pool.submit(quiet, swapped, pair[0].serving_id, pair[1].serving_id)
    with desk.store.reading() as cursor:
        kinds = cursor.execute("select kind from history order by entry_no").fetchall()
    assert kinds[-1] == ("session closed",)


def test_the_reveal_names_no_change_of_another_session_of_that_day(desk, people):
    only_dms = (thursday.WantedSample("dms", Decimal(3)), thursday.WantedSample(None, None))
    only_diacetyl = (thursday.WantedSample("diacetyl", Decimal(3), glasses=2),)
    first = thursday.planned(desk, people)
    thursday.answer_all(desk, first)
    thursday.close(desk, first)
    day = thursday.TODAY + timedelta(days=1)
    desk.today = lambda: day
    one = thursday.planned(desk, people, label="One", **later(people, 1) | {"samples": only_dms})
    other = thursday.planned(
        desk, people, label="Other", **later(people, 1) | {"samples": only_diacetyl}
    )
    for session_id in (one, other):
        thursday.answer_all(desk, session_id)
        thursday.close(desk, session_id)
    assert "Diacetyl" not in {change.label for change in reveal(desk, one).changes}


def test_two_people_of_one_planned_session_are_not_merged(desk, session_id):
    with pytest.raises(PanelError, match="both have glasses in “Thursday panel”"):
        merge_people(desk, "Bo Larsen", "Ada Moran")


def test_a_merge_lifts_nothing_that_somebody_is_not_to_be_served(desk, people):
    add_people(desk, ["Ines Prado"], since_on=None)
    ines = next(p.person_id for p in people_of_panel(desk) if p.name == "Ines Prado")
    not_to_serve(desk, people["Ada"], ["dms"], [])
    not_to_serve(desk, ines, ["dms"], [])
    not_to_serve(desk, ines, [], [])
    merge_people(desk, "Ines Prado", "Ada Moran")
    ada = next(p for p in people_of_panel(desk) if p.name == "Ada Moran")
    assert ada.refused_compounds == {"dms"}


def test_a_refusal_stated_after_planning_stands_among_the_cautions(desk, session_id, people):
    not_to_serve(desk, people["Ada"], [], ["house pils"])
    care = session(desk, session_id).care
    assert "Ada Moran is not to be served House Pils." in care


def test_the_cautions_do_not_tell_what_is_poured(desk, session_id, people):
    not_to_serve(desk, people["Ada"], ["geosmin"], [])
    assert any("Earthy" in line for line in session(desk, session_id).care)


def test_a_swapped_glass_is_no_longer_half_of_a_hidden_pair(desk, session_id, people):
    facts = thursday.facts_of(desk, session_id)
    own = glasses(desk, session_id, people["Ada"])
    pair = next(g for g in own if facts.samples[g.sample_id].compound == "diacetyl")
    single = next(g for g in own if facts.samples[g.sample_id].compound == "dms")
    swapped(desk, pair.serving_id, single.serving_id)
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    with desk.store.reading() as cursor:
        pairs = cursor.execute(
            "select compound from duplicate_pair where person_id = ?", [people["Ada"]]
        ).fetchall()
    assert pairs == [(None,)]


def test_feedback_praises_nothing_that_does_not_count(desk, session_id, people):
    thursday.answer_all(desk, session_id)
    set_own_aside(desk, people["Ada"])
    thursday.close(desk, session_id)
    view = feedback(desk, session_id, people["Ada"])
    assert view.answer == "None of these glasses counts. Here is what was in them."
    assert {row.now_glasses for row in view.progress} == {0}


def test_glasses_set_aside_are_not_among_the_others(desk, session_id, people):
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    for glass in glasses(desk, session_id, people["Bo"]):
        set_glass_aside(desk, glass.serving_id, "a cold", people["Bo"])
    assert {g.others for g in feedback(desk, session_id, people["Ada"]).glasses} == {7}


def test_own_words_of_an_open_session_wait_for_its_close(desk, session_id):
    thursday.answer_all(desk, session_id, {"dms": "old socks"})
    assert open_words(desk) == []
    thursday.close(desk, session_id)
    assert [words.words for words in open_words(desk)] == ["old socks"]


def test_who_misses_the_early_sitting_can_come_to_the_late_one(desk, session_id, people):
    early, late = thursday.facts_of(desk, session_id).sittings
    absent(desk, early.sitting_id, people["Ada"])
    assert "takes spare order 1" in seat_latecomer(desk, late.sitting_id, people["Ada"])


def test_nobody_is_seated_at_a_sitting_that_is_over(desk, session_id, people):
    early, late = thursday.facts_of(desk, session_id).sittings
    absent(desk, early.sitting_id, people["Ada"])
    sitting_over(desk, late.sitting_id)
    with pytest.raises(PanelError, match="Late is over"):
        seat_latecomer(desk, late.sitting_id, people["Ada"])


def test_the_list_counts_what_is_waited_for(desk, session_id, people):
    early = thursday.facts_of(desk, session_id).sittings[0]
    absent(desk, early.sitting_id, people["Ada"])
    thursday.answer_all(desk, session_id)
    assert sessions(desk).sessions[0].sentence == "Say that the sittings are over."


def test_a_bottle_bad_at_one_sitting_is_suspect_there_alone(desk, people):
    first = thursday.planned(desk, people)
    thursday.answer_all(desk, first)
    thursday.close(desk, first)
    day = thursday.TODAY + timedelta(days=28)
    desk.today = lambda: day
    second = thursday.planned(desk, people, **later(people, 28))
    facts = thursday.facts_of(desk, second)
    late = facts.sittings[1].sitting_id
    dms = {s.sample_id for s in facts.samples_at(late) if s.compound == "dms"}
    diacetyl = {s.sample_id for s in facts.samples_at(late) if s.compound == "diacetyl"}
    thursday.answer_all(desk, second, by_sample=dict.fromkeys(dms | diacetyl, "nothing"))
    thursday.close(desk, second)
    suspects = {(s.sitting, s.label) for s in reveal(desk, second).samples if s.is_suspect}
    assert ("Late", "Diacetyl") in suspects
    assert not any(sitting == "Early" for sitting, _ in suspects)


@pytest.mark.parametrize("level", ["NaN", "1e-10", "0", "101"])
def test_a_level_that_is_none_is_refused_in_a_sentence(desk, session_id, level):
    sample = next(
        s for s in thursday.facts_of(desk, session_id).samples.values() if s.compound == "dms"
    )
    with pytest.raises(PanelError, match="A level lies from"):
        state_level(desk, sample.sample_id, Decimal(level), None)


def test_a_seed_beyond_the_store_is_refused_with_the_plan(desk, people):
    with pytest.raises(PanelError, match="The seed is"):
        thursday.planned(desk, people, seed=2**63)


def test_the_same_preparation_twice_is_seen_after_rounding(desk, people):
    samples = tuple(thursday.WantedSample("dms", Decimal(v)) for v in ("3", "3.0000000000001"))
    with pytest.raises(PanelError, match="stands in samples"):
        thursday.planned(desk, people, samples=samples)
    preview(desk, thursday.wish(people))


def test_an_author_who_is_nobody_is_refused_and_the_store_is_not_blamed(desk, session_id):
    with pytest.raises(PanelError, match="cannot be recorded") as refused:
        call_off(desk, session_id, by="nobody")
    assert "backup" not in str(refused.value)
    assert session(desk, session_id).state == "planned"


def test_whoever_prepared_cannot_be_the_one_who_recoded_by_a_later_merge(desk, people):
    session_id = thursday.planned(desk, people, preparers=(people["Ada"],))
    add_people(desk, ["Ines Prado"], since_on=None)
    ines = next(p.person_id for p in people_of_panel(desk) if p.name == "Ines Prado")
    put_codes_on(desk, session_id, ines)
    merge_people(desk, "Ines Prado", "Ada Moran")
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    with desk.store.reading() as cursor:
        counted = cursor.execute(
            "select count(*) from scored_answer where person_id = ?", [people["Ada"]]
        ).fetchone()
    assert counted == (0,)
