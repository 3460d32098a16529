"""Weighing a call by what is on record: sentences, refusals, and what is kept of it."""

import re
import shutil
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from hashlib import sha256

import pytest
import thursday

from seatworthy.errors import PanelError
from seatworthy.rules.texts import rulebook_text
from seatworthy.shipped import shipped
from seatworthy.steps.batches import state_batch
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.demo import moved_to
from seatworthy.steps.desk import open_desk
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.judging import judge_day
from seatworthy.steps.noses import noses_of
from seatworthy.steps.people import merge_people, split_people
from seatworthy.steps.rulebooks import adopt_rulebook
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.signers import appoint_signer
from seatworthy.steps.tasted import Tasted
from seatworthy.steps.weigh import weigh_call
from seatworthy.steps.weigh_priors import known_before, one_in, read_share, shares_of, state_share
from seatworthy.steps.weigh_views import Question
from seatworthy.steps.weigh_words import confirmed_sentence
from seatworthy.steps.weighings_kept import (
    keep_weighing,
    kept_weighing,
    state_outcome,
    weighed_text_of,
)
from seatworthy.steps.weighings_list import kept_weighings
from seatworthy.store.checks import impossible_facts

PALE = "pale_lager"
WHO = ("Aoife", "Márta", "Renée", "Inês")


@pytest.fixture(scope="module")
def sample_store(tmp_path_factory):
    """Four people of the sample brewery; judged once."""
    path = tmp_path_factory.mktemp("weighed") / "panel.duckdb"
    desk = open_desk(path)
    bring_in_shelf(desk, shipped("sample_data/shelf.toml"))
    bring_in_results(
        desk,
        shipped("sample_data/results.csv"),
        arrange=lambda rows: tuple(
            row for row in moved_to(rows, desk.today()) if row.panellist in WHO
        ),
    )
    judged = judge_day(desk)
    noses_of(desk, judged, PALE)
    desk.close()
    return path, judged, desk


@pytest.fixture
def desk(sample_store, tmp_path):
    path = tmp_path / "panel.duckdb"
    shutil.copyfile(sample_store[0], path)
    opened = open_desk(path)
    assert opened.counted_version == sample_store[2].counted_version
    opened.judged.update(sample_store[2].judged)
    opened.noses.update(sample_store[2].noses)
    yield opened
    opened.close()


@pytest.fixture
def ask(sample_store):
    """A question from words by name."""
    ids = {name: person for person, name in sample_store[1].people.items()}

    def asked(is_blind=True, label="Tank 12", **said):
        words = []
        for name, word in said.items():
            kind = word if word in ("nothing", "something") else "named"
            words.append(Tasted(ids[name], name, kind, word if kind == "named" else None))
        return Question(PALE, label, tuple(words), is_blind)

    return asked


def test_a_call_is_one_sentence_with_what_to_do(desk, ask):
    view = weigh_call(desk, ask(Aoife="dms", Márta="nothing", Inês="nothing", Renée="nothing"))
    assert view.answer.startswith("DMS in tank 12: about ")
    assert view.catch
    assert "Aoife said DMS." in view.lead
    assert "Renée doesn't smell DMS, so silence there means nothing." in view.lead
    assert view.rungs[-1].head == "Renée said nothing"
    assert view.rungs[-1].mark == "nowhere"
    assert view.rungs[-1].chance == pytest.approx(view.rungs[-2].chance, abs=0.02)
    assert sum(one.chance for one in view.possibilities) == pytest.approx(1)
    assert sum(chance for _, chance in view.chances) == pytest.approx(1)
    leading = view.possibilities[0]
    assert leading.chance == pytest.approx(view.rungs[-1].chance)
    assert leading.limits[0] <= leading.chance <= leading.limits[1]
    assert any("never releases beer" in line for line in view.assumptions)


def test_scores_are_left_out_where_the_leader_has_not_given_leave(desk, ask):
    question = ask(Aoife="dms", Márta="nothing", Renée="nothing")
    shown, words = weigh_call(desk, question), weigh_call(desk, question, in_words=True)
    assert any(" of " in note for rung in shown.rungs for note in rung.notes)
    notes = [rung.notes for rung in words.rungs[1:]]
    assert notes == [("finds it well",), ("finds it well",), ("doesn't count here",)]
    assert not any(c.isdigit() for rung in words.rungs[1:] for note in rung.notes for c in note)
    assert [rung.chance for rung in words.rungs] == [rung.chance for rung in shown.rungs]


def test_two_who_agree_say_more_than_one(desk, ask):
    one = weigh_call(desk, ask(Aoife="dms", Márta="nothing"))
    two = weigh_call(desk, ask(Aoife="dms", Márta="dms"))
    assert dict(two.chances)["dms"] > dict(one.chances)["dms"]
    assert two.catch == "hold it"


def test_who_heard_one_another_get_an_upper_bound(desk, ask):
    said = {"Aoife": "dms", "Márta": "nothing", "Inês": "dms"}
    blind, talked = weigh_call(desk, ask(**said)), weigh_call(desk, ask(is_blind=False, **said))
    assert "at most" in talked.answer
    assert "at most" not in blind.answer
    assert "upper bound" in talked.if_talked
    assert "at most" in blind.if_talked
    assert dict(talked.chances)["dms"] < dict(blind.chances)["dms"]


def test_nobody_who_called_anything_is_an_answer_too(desk, ask):
    view = weigh_call(desk, ask(Aoife="nothing", Márta="nothing", Inês="nothing"))
    assert view.answer.startswith("Nobody called anything in tank 12")
    assert view.catch == ""
    assert view.step.kind == "nothing"


def test_something_without_a_name_is_weighed_as_a_fault(desk, ask):
    view = weigh_call(desk, ask(Aoife="something", Márta="nothing"))
    assert view.answer.startswith("Something wrong in tank 12, without a name:")
    assert [one.label for one in view.possibilities][-1] == "Nothing wrong"
    assert all("laboratory" not in step.kind for step in (view.step, *view.others))


def test_contradictory_calls_are_said_to_be_so(desk, ask):
    view = weigh_call(desk, ask(Aoife="dms", Márta="t2n"))
    assert "They contradict one another" in view.answer
    labels = [one.label for one in view.possibilities]
    assert {"DMS is there", "Papery is there"} <= set(labels)


def test_one_taster_alone_is_told_so(desk, ask):
    view = weigh_call(desk, ask(Aoife="dms"))
    assert "One taster alone" in view.lead
    assert view.step.kind == "retaste"


def test_the_next_step_is_told_in_lines_with_their_chances(desk, ask):
    view = weigh_call(desk, ask(Aoife="dms", Márta="nothing"))
    assert 2 <= len(view.step.lines) <= 4
    assert sum(line.chance for line in view.step.lines) == pytest.approx(1)
    assert view.step.sentence.startswith(
        "Pour tank 12 again among one blank and one glass with DMS"
    )
    assert "Renée" not in view.step.sentence


def test_only_who_is_there_is_asked_to_taste_again(desk, ask):
    question = ask(Aoife="dms", Márta="nothing")
    aoife = question.words[0].person_id
    view = weigh_call(desk, question, present=frozenset({aoife}))
    retaste = next(step for step in (view.step, *view.others) if step.kind == "retaste")
    assert retaste.people == (aoife,)


def test_a_compound_that_nobody_was_tested_on_gets_no_chance(desk, ask):
    view = weigh_call(desk, ask(Aoife="catty", Márta="nothing"))
    assert "nobody who tasted it was ever tested on" in view.refusal
    assert "no chance is given" in view.answer
    assert view.catch == "hold it and ask a laboratory"
    assert view.possibilities == ()
    with pytest.raises(PanelError, match="nothing to keep"):
        keep_weighing(desk, ask(Aoife="catty", Márta="nothing"))


def test_everybody_insensitive_gets_no_chance(desk, ask):
    view = weigh_call(desk, ask(Renée="dms"))
    assert "everybody who tasted it and has glasses of DMS doesn't smell it" in view.refusal
    assert view.possibilities == ()


def test_a_name_that_cannot_be_weighed_is_left_out_beside_one_that_can(desk, ask):
    view = weigh_call(desk, ask(Aoife="dms", Márta="catty"))
    assert view.about == "DMS"
    assert "so no chance is given for it" in view.lead


def test_nobody_tasted_is_refused(desk, ask):
    with pytest.raises(PanelError, match="Nobody tasted it yet"):
        weigh_call(desk, ask())


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"family": "no_such"}, "Say which beer family"),
        ({"words": (Tasted("x", "A stranger", "nothing"),)}, "A stranger is not on record"),
    ],
)
def test_what_is_not_on_record_is_refused(desk, ask, changed, message):
    with pytest.raises(PanelError, match=message):
        weigh_call(desk, replace(ask(Aoife="dms"), **changed))


def test_one_person_twice_and_an_unknown_compound_are_refused(desk, ask):
    question = ask(Aoife="dms")
    with pytest.raises(PanelError, match="stands there twice"):
        weigh_call(desk, replace(question, words=question.words * 2))
    odd = replace(question.words[0], compound="no_such")
    with pytest.raises(PanelError, match="no compound of the vocabulary"):
        weigh_call(desk, replace(question, words=(odd,)))


def test_somebody_without_a_single_answer_moves_nothing(desk, ask):
    from seatworthy.steps.panel import add_people, people_of_panel

    add_people(desk, ["Nora New"], since_on=None)
    nora = next(p.person_id for p in people_of_panel(desk) if p.name == "Nora New")
    question = ask(Aoife="dms", Márta="nothing")
    with_her = replace(question, words=(*question.words, Tasted(nora, "Nora New", "nothing")))
    alone, beside = weigh_call(desk, question), weigh_call(desk, with_her)
    assert dict(beside.chances)["dms"] == pytest.approx(dict(alone.chances)["dms"], abs=1e-9)
    assert "Nora never had a glass with DMS" in beside.lead
    said = replace(question, words=(*question.words, Tasted(nora, "Nora New", "named", "dms")))
    assert (
        "Nora never had a glass with DMS, so that call doesn't count here."
        in weigh_call(desk, said).lead
    )


def test_a_kept_call_is_the_same_when_it_is_opened_again(desk, ask):
    question = ask(Aoife="dms", Márta="nothing", Renée="nothing")
    weighing_id = keep_weighing(desk, question)
    first = weigh_call(desk, question)
    kept = kept_weighing(desk, weighing_id)
    assert kept.view.answer == first.answer
    assert dict(kept.chances_then) == pytest.approx(dict(first.chances), abs=1e-8)
    assert kept.differs == ""
    assert kept_weighing(desk, "no-such") is None


def test_what_is_learnt_later_does_not_change_a_kept_call(desk, ask):
    question = ask(Aoife="dms", Márta="nothing")
    weighing_id = keep_weighing(desk, question)
    before = kept_weighing(desk, weighing_id)
    state_outcome(desk, weighing_id, "dms", "laboratory")
    state_share(desk, PALE, "dms", "1 in 3")
    after = kept_weighing(desk, weighing_id)
    assert after.view.possibilities == before.view.possibilities
    assert dict(weigh_call(desk, question).chances)["dms"] > dict(before.view.chances)["dms"]


def test_the_sealed_text_holds_ids_and_decimals_and_no_name(desk, ask):
    question = ask(Aoife="dms", Márta="nothing")
    weighing_id = keep_weighing(desk, question)
    text, digest = weighed_text_of(desk, weighing_id)
    assert len(digest) == 64
    assert "Aoife" not in text
    assert "Tank" not in text
    assert f"word {question.words[0].person_id} named dms" in text
    assert "chance nothing 0." in text
    assert sha256(text.encode()).hexdigest() == digest
    with desk.store.reading() as cursor:
        assert list(impossible_facts(cursor, datetime.now(UTC).replace(tzinfo=None))) == []


def test_an_outcome_is_stated_once_and_can_be_mended(desk, ask):
    weighing_id = keep_weighing(desk, ask(Aoife="dms", Márta="nothing"))
    assert state_outcome(desk, weighing_id, "dms", "laboratory", "31 µg/l") == (
        "Tank 12 turned out to have DMS, by a laboratory."
    )
    assert state_outcome(desk, weighing_id, "dms", "laboratory", "31 µg/l").startswith(
        "That is what"
    )
    state_outcome(desk, weighing_id, "nothing", "retaste")
    assert kept_weighings(desk).lines[0].outcome == "nothing wrong"
    told = [line.what for line in history_lines(desk).lines]
    assert any("Tank 12" in sentence and "weighed" in sentence for sentence in told)
    assert any("turned out to have DMS" in sentence for sentence in told)


@pytest.mark.parametrize(
    ("what", "how", "message"),
    [
        ("no_such", "laboratory", "nothing a beer can have here"),
        ("dms", "hearsay", "Say how it is known"),
    ],
)
def test_an_outcome_that_says_nothing_is_refused(desk, ask, what, how, message):
    weighing_id = keep_weighing(desk, ask(Aoife="dms", Márta="nothing"))
    with pytest.raises(PanelError, match=message):
        state_outcome(desk, weighing_id, what, how)
    with pytest.raises(PanelError, match="not on record"):
        state_outcome(desk, "no-such", "dms", "laboratory")


def test_calls_are_counted_against_the_truth_once_there_is_a_handful(desk, ask):
    question = ask(Aoife="dms", Márta="dms")
    for number in range(6):
        weighing_id = keep_weighing(desk, replace(question, label=f"Tank {number}"))
        if number < 5:
            state_outcome(desk, weighing_id, "nothing" if number == 4 else "dms", "laboratory")
        view = kept_weighings(desk)
        if number < 4:
            assert "too few yet" in view.sentence
    band = next(band for band in view.bands if band.calls)
    assert (band.calls, band.confirmed) == (5, 4)
    assert band.sentence.startswith("Of 5 calls given about ")
    assert "4 were confirmed (80%, " in band.sentence
    assert [line.is_confirmed for line in view.lines] == [None, False, True, True, True, True]


def test_nothing_kept_says_so(desk):
    view = kept_weighings(desk)
    assert view.lines == ()
    assert view.sentence == "No weighed call is kept yet."


def test_shares_are_stated_in_words_and_used(desk, ask):
    question = ask(Aoife="dms", Márta="nothing")
    before = dict(weigh_call(desk, question).chances)["dms"]
    assert state_share(desk, PALE, "dms", "1 in 8") == "DMS: 1 in 8 of these beers from now on."
    assert state_share(desk, PALE, "dms", "1 in 8").startswith("That is what")
    after = weigh_call(desk, question)
    assert dict(after.chances)["dms"] > before
    assert after.rungs[0].notes == ("1 in 8 has some,", "stated here")
    line = next(line for line in shares_of(desk, PALE) if line.what == "dms")
    assert (line.words, line.origin) == ("1 in 8", "stated here")


def test_shares_that_do_not_add_up_are_refused_with_what_to_change(desk):
    state_share(desk, PALE, "dms", "1 in 3")
    state_share(desk, PALE, "diacetyl", "1 in 3")
    with pytest.raises(
        PanelError, match="leaves no room for a sound one.*smaller: diacetyl .* and DMS"
    ):
        state_share(desk, PALE, "t2n", "1 in 3")
    assert {line.what for line in shares_of(desk, PALE) if line.origin == "stated here"} == {
        "dms",
        "diacetyl",
    }


@pytest.mark.parametrize(
    "words",
    ["", "1 in 1", "often", "1 in -3", "1 in ٣", "0.5", "1 in 1000000", "1 in 00000003099999"],
)
def test_a_share_that_says_nothing_is_refused(words):
    with pytest.raises(PanelError, match="whole number from 2 to 100000"):
        read_share(words, "DMS")


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.125, "1 in 8"), (0.01, "1 in 100"), (0.0196, "1 in 50"), (0.0005, "fewer than 1 in 1000"),
     (0.0, "none"), (0.75, "75 in 100"), (1 / 3, "1 in 3"), (0.002, "1 in 500")],
)  # fmt: skip
def test_a_share_is_said_as_one_in_so_many(share, words):
    assert one_in(share) == words


def test_a_family_and_a_compound_that_are_not_there_have_no_share(desk):
    with pytest.raises(PanelError, match="not on the shelf"):
        state_share(desk, "no_such", "dms", "1 in 8")
    with pytest.raises(PanelError, match="no compound of the vocabulary"):
        state_share(desk, PALE, "no_such", "1 in 8")


def test_the_default_is_weak_and_critical_compounds_come_first(desk):
    known = known_before(desk, PALE, ("dms", "other"), frozenset({"dms"}), {})
    assert known.beers == 0
    assert known.prior.shares.tolist() == [0.01, 0.002]
    assert {line.origin for line in known.lines} == {"a weak default"}


def test_an_empty_brewery_has_nothing_to_weigh(empty_brewery):
    desk, people = empty_brewery
    word = Tasted(people["Ada"], "Ada Moran", "named", "dms")
    view = weigh_call(desk, Question(PALE, "Tank 1", (word,)))
    assert view.refusal.startswith("Nobody who tasted it was ever tested on anything")
    assert view.possibilities == ()


@pytest.fixture
def empty_brewery(tmp_path, stocked):
    path = tmp_path / "empty.duckdb"
    shutil.copyfile(stocked, path)
    desk = open_desk(path)
    people = thursday.set_up(desk, tmp_path)
    yield desk, people
    desk.close()


def test_a_batch_is_kept_with_its_call(desk, ask):
    beer = desk.store.rows("beers_with_family")[0]
    batch = state_batch(desk, "Tank 9", beer["beer"])
    question = replace(ask(Aoife="dms", Márta="nothing"), batch_id=batch)
    kept = kept_weighing(desk, keep_weighing(desk, question))
    assert kept.view.question.batch_id == batch


def test_what_a_family_is_expected_to_have_is_no_fault(desk, ask):
    said = replace(ask(Aoife="vinylguaiacol", Márta="nothing"), family="wheat_beer")
    silent = replace(ask(Aoife="nothing", Márta="nothing"), family="wheat_beer")
    view = weigh_call(desk, said)
    assert view.chances == weigh_call(desk, silent).chances
    assert dict(view.chances)["vinylguaiacol"] < 1e-12
    assert "which is expected in wheat beers: no fault, and no call." in view.lead
    assert view.question == said
    assert (
        dict(weigh_call(desk, ask(Aoife="vinylguaiacol", Márta="nothing")).chances)["vinylguaiacol"]
        > 0
    )


def test_a_kept_call_is_read_by_the_rulebook_of_its_own_day(desk, ask):
    weighing_id = keep_weighing(desk, ask(Aoife="dms", Márta="nothing"))
    before, tomorrow = kept_weighing(desk, weighing_id), desk.today() + timedelta(days=1)
    signer = before.view.question.words[0].person_id
    appoint_signer(desk, signer, "4711")
    text = re.sub("(?m)^counts_from.*$", f"counts_from = {tomorrow}", rulebook_text("strict"))
    lists = f'\n[family.{PALE}]\ncritical = ["diacetyl"]\nexpected = ["dms"]\n'
    adopt_rulebook(desk, text + lists, signer=signer, pin="4711")
    desk.today = lambda: tomorrow
    assert "no fault, and no call" in weigh_call(desk, ask(Aoife="dms", Márta="nothing")).lead
    after = kept_weighing(desk, weighing_id)
    assert after.differs == ""
    assert "no fault, and no call" not in after.view.lead


def test_two_spellings_merged_since_stay_two_tasters_of_a_kept_call(desk, ask):
    weighing_id = keep_weighing(desk, ask(Aoife="dms", Márta="nothing", Renée="nothing"))
    before = kept_weighing(desk, weighing_id)
    merge_people(desk, "Márta", "Renée")
    after = kept_weighing(desk, weighing_id)
    assert after.chances_then == before.chances_then
    assert after.differs == ""
    assert sorted(word.name for word in after.view.question.words) == ["Aoife", "Renée", "Renée"]
    split_people(desk, "Márta")
    assert kept_weighing(desk, weighing_id).view.question == before.view.question
    assert verify(desk)


def test_the_same_weighing_kept_twice_is_one_fact(desk, ask):
    question = ask(Aoife="dms", Márta="nothing")
    weighing_id = keep_weighing(desk, question)
    assert keep_weighing(desk, question) == weighing_id
    assert keep_weighing(desk, replace(question, label="Tank 13")) != weighing_id
    assert len(kept_weighings(desk).lines) == 2


def test_a_batch_weighed_twice_is_one_beer_of_its_family(desk, ask):
    batch_id = state_batch(desk, "Tank 12", desk.store.rows("beers_with_family")[0]["beer"])
    of_batch = replace(ask(Aoife="dms", Márta="nothing"), batch_id=batch_id)
    again = replace(of_batch, words=ask(Aoife="dms", Márta="dms").words)
    for question, found in ((of_batch, "nothing"), (again, "dms"), (ask(Aoife="dms"), "dms")):
        state_outcome(desk, keep_weighing(desk, question), found, "laboratory")
    rows = desk.store.rows("family_outcomes", family=PALE)
    assert rows == [{"what": "dms", "beers": 2}]


@pytest.mark.parametrize("said", ["nothing", "something", "dms"])
def test_each_step_averages_to_the_chance_that_the_page_shows(desk, ask, said):
    view = weigh_call(desk, ask(Aoife=said, Márta="nothing"))
    shown = dict(view.chances)
    chance = shown["dms"] if said == "dms" else 1 - shown["nothing"]
    assert view.rungs[-1].chance == pytest.approx(chance, rel=1e-9)
    for step in (view.step, *view.others):
        if step.lines:
            assert sum(line.chance for line in step.lines) == pytest.approx(1)
            after = sum(line.chance * line.after for line in step.lines)
            assert after == pytest.approx(chance, rel=1e-9)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (0.998, "given more than 99%"),
        (0.002, "given less than 1%"),
        (0.71, "given about 71%"),
    ],
)
def test_no_mean_of_chances_is_said_to_be_certain(given, words):
    assert words in confirmed_sentence(8, given, 8, (0.79, 1.0))


def test_who_has_not_come_for_long_is_not_asked_to_taste_it_again(desk, ask):
    question = ask(Aoife="dms", Márta="nothing")
    judged = judge_day(desk)
    away = {p for p, own in judged.attended.items() if desk.today() - own.last_on > timedelta(60)}
    assert away
    view = weigh_call(desk, question)
    steps = [step for step in (view.step, *view.others) if step is not None]
    assert any(step.people for step in steps)
    assert not away & {person for step in steps for person in step.people}
    with_them = weigh_call(desk, question, present=frozenset(judged.people))
    everybody = {p for step in (with_them.step, *with_them.others) for p in step.people}
    assert everybody - {p for step in steps for p in step.people} <= away


def test_where_nobody_named_anything_the_ladder_is_about_any_fault(desk, ask):
    assert weigh_call(desk, ask(Aoife="nothing", Márta="nothing")).about == ""
    assert weigh_call(desk, ask(Aoife="dms", Márta="nothing")).about == "DMS"
