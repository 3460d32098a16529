"""From a release sitting to the weighing: sealed until the talk, and then word for word."""

import pytest
import release_sittings as release
import thursday
from handed_out import say, secrets_of

from seatworthy.errors import PanelError
from seatworthy.steps.asides import set_sample_aside
from seatworthy.steps.ballots import ballot
from seatworthy.steps.release_answers import tasted_of
from seatworthy.steps.talk import open_talk, take_talk_back
from seatworthy.steps.weigh import weigh_call
from seatworthy.steps.weigh_sittings import beers_to_weigh, choices_of, question_of_sample


def sample_id(desk, session_id, label="Tank 12"):
    return release.sample_of(thursday.facts_of(desk, session_id), label).sample_id


def test_what_was_said_is_sealed_until_the_talk(desk, tasted):
    with pytest.raises(PanelError, match="sealed until the talk is opened"):
        question_of_sample(desk, sample_id(desk, tasted))


def test_from_the_talk_on_it_is_weighed_as_it_was_said_before(desk, tasted):
    open_talk(desk, release.early(desk, tasted))
    sample = sample_id(desk, tasted)
    question = question_of_sample(desk, sample)
    assert question.words == tasted_of(desk, sample)
    assert (question.family, question.label) == ("pale_lager", "Tank 12")
    assert question.is_blind
    assert [word.compound for word in question.words] == ["dms", "dms", None, None, None]
    view = weigh_call(desk, question)
    assert "no chance is given" in view.answer  # nobody here was ever tested on anything


def test_who_answers_anew_after_a_talk_that_was_taken_back_is_not_blind(desk, tasted):
    sitting, sample = release.early(desk, tasted), sample_id(desk, tasted)
    other = sample_id(desk, tasted, "Tank 13")
    code = release.glass_of(thursday.facts_of(desk, tasted), "Carmen", "Tank 12").blind_code
    secret = secrets_of(desk, tasted)["Carmen Ruiz"]
    place = next(g.place for g in ballot(desk, secret).glasses if g.codes == (code,))
    open_talk(desk, sitting)
    take_talk_back(desk, sitting)
    assert say(desk, secret, place, "dms").outcome == "kept"
    open_talk(desk, sitting)
    assert not question_of_sample(desk, sample).is_blind
    assert question_of_sample(desk, other).is_blind


def test_a_batch_set_aside_is_called_by_its_name_and_weighed_no_more(desk, tasted, people):
    open_talk(desk, release.early(desk, tasted))
    said = set_sample_aside(desk, sample_id(desk, tasted), "Wrong tap.", people["Ada"])
    assert "(Tank 12, House Pils) is set aside" in said
    with pytest.raises(PanelError, match="Nobody tasted it yet"):
        weigh_call(desk, question_of_sample(desk, sample_id(desk, tasted)))


def test_a_check_glass_is_not_weighed(desk, tasted):
    open_talk(desk, release.early(desk, tasted))
    with pytest.raises(PanelError, match="no beer to be released"):
        question_of_sample(desk, sample_id(desk, tasted, "dms"))


def test_the_form_offers_everybody_and_every_compound(desk, people):
    choices = choices_of(desk)
    assert {one.key for one in choices.people} == set(people.values())
    assert [one.key for one in choices.families] == ["pale_lager"]
    labels = [one.label.casefold() for one in choices.compounds]
    assert labels == sorted(labels)


def test_beers_wait_to_be_weighed_from_the_talk_on(desk, tasted):
    assert beers_to_weigh(desk) == ()
    open_talk(desk, release.early(desk, tasted))
    waiting = beers_to_weigh(desk)
    assert sample_id(desk, tasted) in {one.sample_id for one in waiting}
    check = sample_id(desk, tasted, "dms")
    assert check not in {one.sample_id for one in waiting}
