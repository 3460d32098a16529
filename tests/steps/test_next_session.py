"""What to pour next, from the record: what is proposed, what is refused, and that a plan comes of it."""

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest
import thursday

from seatworthy.decide.gaps import find_gaps
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.steps import next_session as next_steps
from seatworthy.steps.bench_facts import stocks
from seatworthy.steps.bench_states import use_up
from seatworthy.steps.desk import InForce
from seatworthy.steps.judging import judge_day
from seatworthy.steps.next_ahead import NOT_TOLD
from seatworthy.steps.next_ground import panel_ground
from seatworthy.steps.next_session import Question, next_session
from seatworthy.steps.next_session_words import COUNTS_INSTEAD, NO_LIST, NOBODY_SITS
from seatworthy.steps.panel import add_people
from seatworthy.steps.planning import preview, record_plan
from seatworthy.steps.preparation import preparation
from seatworthy.steps.shelf_writing import add_beer, set_brewery


def asked(desk, **question):
    return next_session(desk, Question(**question))


def poured(view):
    """Compounds of the wish, with their glasses."""
    return {sample.compound: sample.glasses for sample in view.wish.samples}


def test_an_empty_store_says_where_to_begin(desk):
    view = asked(desk)
    assert "No base beer is on the shelf yet" in view.answer
    assert view.start_at == "shelf"
    assert view.wish is None


def test_nobody_on_the_panel_is_a_sentence(desk):
    set_brewery(desk, "Millrace Brewery", "Europe/Dublin")
    add_beer(desk, "House Pils", "Pale lagers", "4,8")
    view = asked(desk)
    assert "Nobody is on the panel yet" in view.answer
    assert view.start_at == "people"


def test_without_a_working_threshold_nothing_can_be_poured(desk):
    set_brewery(desk, "Millrace Brewery", "Europe/Dublin")
    add_beer(desk, "House Pils", "Pale lagers", "4,8")
    add_people(desk, ["Ada Moran"], since_on=None)
    view = asked(desk)
    assert "working thresholds" in view.answer
    assert view.start_at == "shelf"


def test_a_brewery_without_results_starts_with_what_nobody_was_tested_on(desk, people):
    view = asked(desk, tells=1.0)
    assert set(poured(view)) - {None} <= set(thursday.THRESHOLDS)
    assert {gap.kind for gap in view.dearest} == {"no glass that counts yet"}
    assert {gap.chance for gap in view.dearest} == {""}
    assert view.all_alike.startswith("Nobody has had a glass that counts yet")
    assert {gaps.noses for gaps in view.gaps if gaps.is_critical} == {"no nose yet"}
    assert view.wish.container is None  # no bench is kept
    assert sum(poured(view).values()) == view.glasses == 8
    preview(desk, view.wish)


def test_one_click_makes_a_plan_with_those_glasses_and_doses(desk, people, bench):
    view = asked(desk, tells=1.0)
    assert view.wish.container is not None
    assert set(poured(view)) - {None} <= set(bench)
    session_id = record_plan(desk, view.wish)
    facts = thursday.facts_of(desk, session_id)
    recorded = {
        (facts.samples[g.sample_id].compound, facts.samples[g.sample_id].given_level)
        for g in facts.glasses
    }
    assert recorded == {(s.compound, s.level) for s in view.wish.samples}
    letters = preparation(desk, session_id).letters
    dosed = [letter.take for letter in letters if "shot" in letter.take]
    assert len(dosed) == len([s for s in view.wish.samples if s.compound])


def test_what_the_bench_cannot_dose_is_said_and_not_proposed(desk, people, bench):
    for compound in ("diacetyl", "dms"):
        use_up(desk, bench[compound])
    view = asked(desk, tells=1.0)
    assert not {"diacetyl", "dms"} & set(poured(view))
    assert any("diacetyl can't be poured" in line and "used up" in line for line in view.missing)
    assert any("hydrogen sulfide can't be poured: no stock" in line for line in view.missing)
    assert "can't be poured" in view.catch


def test_a_bench_on_which_nothing_is_left_proposes_nothing(desk, people, bench):
    for stock in stocks(desk):
        use_up(desk, stock.stock_id)
    view = asked(desk)
    assert "Nothing can be poured" in view.answer
    assert view.wish is None
    assert view.jugs == ()
    assert view.dearest


def test_for_one_person_only_that_person_comes(desk, people):
    view = asked(desk, who=people["Carmen"])
    assert view.who == people["Carmen"]
    assert view.wish.sittings[0].people == (people["Carmen"],)
    assert {gap.name for gap in view.dearest} == {"Carmen Ruiz"}
    assert [line.who for line in view.ahead] == ["Carmen Ruiz"]
    assert view.gaps == ()


def test_an_address_of_nobody_is_the_panel(desk, people):
    assert asked(desk, who="nobody").who is None
    assert asked(desk, family="none").family.key == "pale_lager"


@pytest.mark.parametrize(("glasses", "expected"), [(3, 3), (5, 5), (8, 8), (99, 8), (None, 8)])
def test_glasses_stay_within_the_limits(desk, people, glasses, expected):
    view = asked(desk, glasses=glasses)
    assert view.glasses == expected
    assert sum(poured(view).values()) <= expected


def test_with_hardly_a_glass_allowed_nothing_is_proposed(desk, people, monkeypatch):
    found = next_steps.pourable
    monkeypatch.setattr(next_steps, "pourable", lambda *args: replace(found(*args), most_glasses=2))
    view = asked(desk)
    assert view.wish is None
    assert "Nothing can be poured" in view.answer


def grounded(desk, monkeypatch, **changed):
    """Let the ground be another one than the record's."""
    found = next_steps.panel_ground

    def other(*args):
        panel = found(*args)
        shape = panel.ground.is_met.shape
        parts = {name: np.full(shape, value) for name, value in changed.items()}
        ground = replace(panel.ground, **parts)
        return replace(panel, ground=ground, gaps=find_gaps(ground))

    monkeypatch.setattr(next_steps, "panel_ground", other)


def test_everyone_insensitive_is_said_and_nobody_is_trained(desk, people, monkeypatch):
    grounded(desk, monkeypatch, is_insensitive=True)
    view = asked(desk)
    assert view.wish is None
    assert view.jugs == ()
    assert {gap.kind for gap in view.dearest} == {"doesn't smell it"}
    assert all("find another nose" in gap.ahead for gap in view.dearest)
    assert view.answer == "No glass would teach or decide anything now"
    assert view.catch.startswith("nobody smells diacetyl")
    assert "find other noses" in view.catch
    alone = asked(desk, who=people["Ada"])
    assert alone.catch.startswith("Ada doesn't smell diacetyl")


def test_everything_decided_says_how_long_it_stays_so(desk, people, monkeypatch):
    grounded(desk, monkeypatch, is_met=True, days_left=50.0, glasses=9)
    view = asked(desk)
    assert "every critical compound is decided" in view.answer
    assert "it stays so for 50 days, until" in view.answer
    assert [line.decided for line in view.ahead] == ["covered now"]


def test_without_a_critical_list_all_compounds_weigh_alike(desk, people, monkeypatch):
    found = next_steps.panel_ground

    def other(*args):
        panel = found(*args)
        ground = replace(panel.ground, items=())
        return replace(panel, critical=(), ground=ground, gaps=find_gaps(ground))

    monkeypatch.setattr(next_steps, "panel_ground", other)
    view = asked(desk)
    assert NO_LIST in view.notes
    assert view.wish is not None
    assert view.ahead == ()


def test_a_rulebook_that_counts_foretells_nothing_and_says_so(desk, people, monkeypatch):
    book = replace(desk.rulebooks()[0].rulebook, compound=rulebook_on_menu("plain").compound)
    plain = InForce(book, "counting", "", datetime.now(UTC))
    monkeypatch.setattr(next_steps, "judge_day", lambda desk: judge_day(desk, supposed_book=plain))
    view = asked(desk)
    assert COUNTS_INSTEAD in view.notes
    assert view.ahead == ()
    assert {gap.ahead for gap in view.dearest} == {""}
    assert view.wish is not None


def test_where_nobody_sits_everybodys_nose_counts_and_it_is_said(desk, people):
    view = asked(desk)
    assert NOBODY_SITS in view.notes
    assert view.ahead[0].who.startswith("The panel covers its list")


def test_glasses_beside_the_asked_level_foretell_nothing(desk, people, monkeypatch):
    monkeypatch.setattr(next_steps._Proposal, "_per_session", lambda self: 0)
    assert {line.decided for line in asked(desk).ahead} == {NOT_TOLD}


def test_somebody_who_is_not_to_be_served_a_compound_is_not_poured_it(desk, people, monkeypatch):
    grounded(desk, monkeypatch, may_taste=False)
    view = asked(desk, who=people["Ada"])
    assert view.wish is None
    assert view.answer == "No glass would teach or decide anything now"
    assert view.catch == ""


def test_answers_change_what_is_proposed_and_told_apart(desk, people):
    thursday.a_session(desk, people, said={"dms": "nothing", "diacetyl": "butyric acid"})
    judged = judge_day(desk)
    panel = panel_ground(desk, judged, "pale_lager")
    assert panel.ground.glasses.sum() > 0
    assert panel.sessions == 1
    view = asked(desk, tells=1.0)
    kinds = {(gap.label, gap.kind, gap.count) for gap in asked(desk, who=people["Ada"]).dearest}
    assert ("DMS", "too little evidence", "0 of 1") in kinds
    assert view.wish is not None


def test_the_ground_is_kept_until_something_is_recorded(desk, people):
    judged = judge_day(desk)
    before = panel_ground(desk, judged, "pale_lager")
    assert panel_ground(desk, judged, "pale_lager") is before
    add_people(desk, ["Zoe Quill"], since_on=None)
    after = panel_ground(desk, judge_day(desk), "pale_lager")
    assert len(after.people) == len(before.people) + 1


def test_nothing_is_recorded_by_asking(desk, people):
    version = desk.version
    for tells in (0.0, 0.5, 1.0):
        asked(desk, tells=tells)
    assert desk.version == version
