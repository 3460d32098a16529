"""The talk: what was said before it stands, what is said after it stands beside, and nobody votes."""

import shutil

import pytest
import release_sittings as release
import thursday
from handed_out import say, secrets_of, stored

from seatworthy.errors import PanelError
from seatworthy.steps.accepted_words import waiting_words
from seatworthy.steps.answers import correct_answer
from seatworthy.steps.ballot_feedback import own_feedback
from seatworthy.steps.ballot_views import HANDED_IN, OPEN, TALK, FormAnswer
from seatworthy.steps.ballots import answer, ballot
from seatworthy.steps.closing import call_off, close_session
from seatworthy.steps.desk import open_desk
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.release_answers import release_samples, tasted_of
from seatworthy.steps.table import sitting_over
from seatworthy.steps.talk import open_talk, say_after, take_talk_back
from seatworthy.steps.talk_sentences import talk
from seatworthy.steps.words import map_words

BO = "Bo Larsen"


def place_of(desk, session_id, secret, first_name, label):
    code = release.glass_of(thursday.facts_of(desk, session_id), first_name, label).blind_code
    return next(g.place for g in ballot(desk, secret).glasses if g.codes == (code,))


def after(desk, secret, place, choice="", words="", seen=None):
    """Send a form that says what somebody says after the talk."""
    if seen is None:
        seen = next(g.afters for g in ballot(desk, secret).glasses if g.place == place)
    return answer(desk, secret, place, FormAnswer(choice, words, seen=seen, is_after=True))


def beer_of(desk, session_id, label="Tank 12"):
    view = talk(desk, session_id)
    return next(b for b in view.sittings[0].beers if b.label.startswith(label))


def test_nothing_of_what_was_said_is_told_before_the_talk(desk, tasted):
    view = talk(desk, tasted)
    assert [s.beers for s in view.sittings] == [()]
    assert [s.glasses for s in view.sittings] == [()]
    assert "dms" not in str(view).lower()


def test_from_the_talk_on_a_phone_changes_nothing_that_was_said(desk, people):
    session_id = release.planned(desk, people)
    secret = secrets_of(desk, session_id)[BO]
    assert say(desk, secret, 1, "dms").outcome == "kept"
    release.tell_all(desk, session_id, {"Ada": "dms"})
    sitting = release.early(desk, session_id)
    open_talk(desk, sitting, without_missing=True)
    assert ballot(desk, secret).state == TALK
    assert say(desk, secret, 1, "nothing").outcome == "closed"  # a form drawn before the talk
    assert say(desk, secret, 2, "nothing").outcome == "closed"
    assert ballot(desk, secret).glasses[0].answer.words == "DMS"
    assert after(desk, secret, 2, "nothing").fault == "not_before"
    assert stored(desk, "talk_answer") == 0


def test_an_answer_after_the_talk_stands_beside_the_one_before(desk, tasted):
    secret = secrets_of(desk, tasted)[BO]
    open_talk(desk, release.early(desk, tasted))
    place = place_of(desk, tasted, secret, "Bo", "Tank 12")
    before = stored(desk)
    assert after(desk, secret, place, "nothing").outcome == "kept"
    assert after(desk, secret, place, "nothing").outcome == "known"
    assert after(desk, secret, place, "nothing", seen=0).outcome == "known"
    assert after(desk, secret, place, "dms", seen=0).outcome == "meanwhile"
    assert stored(desk, "talk_answer") == 1
    assert after(desk, secret, place, "dms").outcome == "kept"
    assert stored(desk) == before
    glass = next(g for g in ballot(desk, secret).glasses if g.place == place)
    assert (glass.answer.words, glass.after.words, glass.afters) == ("dms", "DMS", 2)


def test_a_form_of_after_the_talk_counts_for_nothing_before_it(desk, people):
    session_id = release.planned(desk, people)
    secret = secrets_of(desk, session_id)[BO]
    say(desk, secret, 1, "dms")
    assert after(desk, secret, 1, "nothing").outcome == "closed"
    assert stored(desk, "talk_answer") == 0


def test_an_acknowledged_answer_after_the_talk_is_there_when_the_store_is_opened_again(
    desk, tasted, tmp_path
):
    secret = secrets_of(desk, tasted)[BO]
    open_talk(desk, release.early(desk, tasted))
    assert after(desk, secret, 1, "", "wet dog").outcome == "kept"
    for path in desk.store.path.parent.glob(f"{desk.store.path.name}*"):  # as a kill would leave it
        shutil.copyfile(path, tmp_path / f"copy{path.name.removeprefix(desk.store.path.name)}")
    (tmp_path / "copy").rename(tmp_path / "copy.duckdb")
    if (tmp_path / "copy.wal").exists():
        (tmp_path / "copy.wal").rename(tmp_path / "copy.duckdb.wal")
    again = open_desk(tmp_path / "copy.duckdb")
    assert stored(again, "talk_answer") == 1
    again.close()


def test_a_talk_is_opened_once_and_not_while_answers_are_missing(desk, people):
    session_id = release.planned(desk, people)
    release.tell_all(desk, session_id, {"Ada": "dms", "Bo": "nothing"})
    sitting = release.early(desk, session_id)
    with pytest.raises(
        PanelError, match="12 glasses have no answer: Carmen Ruiz 4, .* stay missing"
    ):
        open_talk(desk, sitting)
    assert "What was said before it stands" in open_talk(desk, sitting, without_missing=True)
    with pytest.raises(PanelError, match="open already"):
        open_talk(desk, sitting, without_missing=True)
    assert stored(desk, "talk") == 1


def test_a_talk_needs_a_beer_and_two_people(desk, people):
    session_id = release.planned(desk, people)
    sitting = release.early(desk, session_id)
    with pytest.raises(PanelError, match="Nobody at Early has said anything yet"):
        open_talk(desk, sitting, without_missing=True)
    release.tell(desk, session_id, "Bo", "Tank 12", "dms")
    with pytest.raises(PanelError, match="Bo Larsen alone has said anything"):
        open_talk(desk, sitting, without_missing=True)
    other = thursday.planned(desk, people)
    with pytest.raises(PanelError, match="judges no beer"):
        open_talk(desk, release.early(desk, other))
    assert talk(desk, other) is None


def test_a_session_that_is_over_takes_no_word_any_more(desk, tasted):
    sitting = release.early(desk, tasted)
    secret = secrets_of(desk, tasted)[BO]
    open_talk(desk, sitting)
    thursday.close(desk, tasted)
    assert after(desk, secret, 1, "nothing", seen=0).outcome == "closed"
    glass = release.glass_of(thursday.facts_of(desk, tasted), "Bo", "Tank 12")
    with pytest.raises(PanelError, match="closed"):
        say_after(desk, glass.serving_id, "dms")
    with pytest.raises(PanelError, match="closed"):
        open_talk(desk, sitting)


def test_a_talk_that_was_called_off_is_none(desk, tasted):
    call_off(desk, tasted)
    assert talk(desk, tasted) is None


def test_opening_is_taken_back_until_somebody_speaks(desk, tasted):
    sitting = release.early(desk, tasted)
    secret = secrets_of(desk, tasted)[BO]
    with pytest.raises(PanelError, match="is not open"):
        take_talk_back(desk, sitting)
    open_talk(desk, sitting)
    take_talk_back(desk, sitting)
    assert ballot(desk, secret).state == OPEN
    open_talk(desk, sitting)
    after(desk, secret, 1, "nothing")
    with pytest.raises(PanelError, match="said something after the talk"):
        take_talk_back(desk, sitting)


def test_over_or_not_the_talk_takes_words_until_the_close(desk, tasted):
    sitting = release.early(desk, tasted)
    secret = secrets_of(desk, tasted)[BO]
    sitting_over(desk, sitting)
    assert ballot(desk, secret).state == HANDED_IN
    open_talk(desk, sitting)
    assert ballot(desk, secret).state == TALK
    assert after(desk, secret, 1, "nothing").outcome == "kept"


def test_the_leader_types_what_is_said_after_it(desk, tasted):
    glass = release.glass_of(thursday.facts_of(desk, tasted), "Bo", "Tank 12")
    with pytest.raises(PanelError, match="The talk is not open yet"):
        say_after(desk, glass.serving_id, "0")
    open_talk(desk, release.early(desk, tasted))
    assert "as it should be" in say_after(desk, glass.serving_id, "as it should be")
    say_after(desk, glass.serving_id, "0")
    assert stored(desk, "talk_answer") == 1
    with pytest.raises(PanelError, match="names nothing on the shelf"):
        say_after(desk, glass.serving_id, "wet dog")
    with pytest.raises(PanelError, match="0 stands for as it should be"):
        say_after(desk, glass.serving_id, "")
    say_after(desk, glass.serving_id, "wet dog", keep_own_words=True)
    assert stored(desk, "talk_answer") == 2


def test_late_answers_from_paper_stay_before(desk, people):
    session_id = release.planned(desk, people)
    release.tell_all(desk, session_id, {"Ada": "dms", "Bo": "nothing"})
    open_talk(desk, release.early(desk, session_id), without_missing=True)
    glass = release.glass_of(thursday.facts_of(desk, session_id), "Carmen", "Tank 12")
    with pytest.raises(PanelError, match="Nothing was said of .* before the talk"):
        say_after(desk, glass.serving_id, "dms")
    release.tell(desk, session_id, "Carmen", "Tank 12", "dms")
    sample = release_samples(desk, session_id)[0]
    (carmen,) = [one for one in tasted_of(desk, sample.sample_id) if one.name == "Carmen Ruiz"]
    assert (carmen.kind, carmen.compound, carmen.after) == ("named", "dms", None)


def test_what_was_said_before_is_corrected_with_a_reason_alone(desk, tasted, people):
    open_talk(desk, release.early(desk, tasted))
    glass = release.glass_of(thursday.facts_of(desk, tasted), "Bo", "Tank 12")
    correct_answer(desk, glass.serving_id, "0", "misread the sheet", people["Ada"])
    assert "One of five called DMS" in beer_of(desk, tasted).sentence


def test_disagreement_is_told_and_nobody_counts_heads(desk, tasted):
    sitting = release.early(desk, tasted)
    open_talk(desk, sitting)
    first = beer_of(desk, tasted)
    assert first.sentence == (
        "Two of five called DMS before the talk; three found it as it should be. Nobody has said "
        "anything after it yet. Weigh it."
    )
    secret = secrets_of(desk, tasted)["Carmen Ruiz"]
    after(desk, secret, place_of(desk, tasted, secret, "Carmen", "Tank 12"), "dms")
    told = beer_of(desk, tasted)
    assert "After it Carmen Ruiz says DMS. Weigh it." in told.sentence
    lines = {line.name: line for line in told.lines}
    assert (lines["Carmen Ruiz"].before, lines["Carmen Ruiz"].after) == ("as it should be", "DMS")
    assert lines["Carmen Ruiz"].is_changed
    assert lines["Ada Moran"].is_crew
    quiet = beer_of(desk, tasted, "Tank 13")
    assert quiet.sentence.startswith("All five found it as it should be before the talk.")
    assert "says nothing" in quiet.sentence


def test_the_same_said_again_is_no_change(desk, tasted):
    open_talk(desk, release.early(desk, tasted))
    secrets = secrets_of(desk, tasted)
    for name, choice in (("Ada", "dms"), ("Bo", "dms"), ("Carmen", "nothing")):
        secret = next(s for n, s in secrets.items() if n.startswith(name))
        after(desk, secret, place_of(desk, tasted, secret, name, "Tank 12"), choice)
    assert "After it three say the same." in beer_of(desk, tasted).sentence


def test_everybodys_word_is_handed_over_as_it_is_read(desk, people):
    session_id = release.planned(desk, people)
    said = {"Ada": "dms", "Bo": "nothing", "Carmen": "?", "Dilek": "wet dog"}
    for name, words in said.items():
        release.tell(desk, session_id, name, "Tank 12", words, own=True)
    sample = release_samples(desk, session_id)[0]
    assert (sample.label, sample.sitting, sample.mark) == ("Tank 12, House Pils", "Early", "A")
    tasted = {one.name.split()[0]: one for one in tasted_of(desk, sample.sample_id)}
    assert [(n, t.kind, t.compound, t.words) for n, t in tasted.items()] == [
        ("Ada", "named", "dms", "dms"),
        ("Bo", "nothing", None, ""),
        ("Carmen", "something", None, ""),
        ("Dilek", "something", None, "wet dog"),
    ]
    map_words(desk, "wet dog", "t2n")
    named = next(t for t in tasted_of(desk, sample.sample_id) if t.name == "Dilek Aksoy")
    assert (named.kind, named.compound, named.words) == ("named", "t2n", "wet dog")


def test_a_batch_of_which_nobody_said_anything_is_told_so(desk, people):
    session_id = release.planned(desk, people)
    for name in ("Ada", "Bo"):
        release.tell(desk, session_id, name, "Tank 13", "nothing")
    open_talk(desk, release.early(desk, session_id), without_missing=True)
    assert beer_of(desk, session_id).sentence == "Nobody has said anything of it."
    assert tasted_of(desk, release_samples(desk, session_id)[0].sample_id) == ()
    with pytest.raises(PanelError, match="There is no such sample"):
        tasted_of(desk, "nowhere")


def test_both_answers_stand_on_ones_own_page_and_in_the_history(desk, tasted):
    secret = secrets_of(desk, tasted)[BO]
    sitting = release.early(desk, tasted)
    open_talk(desk, sitting)
    after(desk, secret, place_of(desk, tasted, secret, "Bo", "Tank 12"), "nothing")
    sitting_over(desk, sitting)
    close_session(desk, tasted)
    glass = next(g for g in own_feedback(desk, secret).glasses if g.beer.startswith("Tank 12"))
    assert (glass.said.words, glass.after.kind, glass.outcome) == ("dms", "nothing", "judged")
    assert "The talk was opened: Early" in str(history_lines(desk))
    assert "after the talk" in str(history_lines(desk))


def test_own_words_wait_for_a_meaning_only_once_the_talk_is_open(desk, people):
    session_id = release.planned(desk, people)
    for name in ("Ada", "Bo"):
        release.tell(desk, session_id, name, "Tank 12", "wet cellar", own=True)
    assert waiting_words(desk, session_id) == ()
    open_talk(desk, release.early(desk, session_id), without_missing=True)
    assert [(own.words, own.answers) for own in waiting_words(desk, session_id)] == [
        ("wet cellar", 2)
    ]


def test_after_the_close_nobody_is_waited_for(desk, closed_release):
    assert "Nobody said anything after it." in beer_of(desk, closed_release).sentence
