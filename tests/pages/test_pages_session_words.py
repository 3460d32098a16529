"""Own words that wait, on the pages of one session: said once what they mean, without their glasses."""

import pytest
from streamlit.testing.v1 import AppTest

from seatworthy.pages import source
from seatworthy.steps.accepted_words import group_of
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.shelf_history import shelf_history
from seatworthy.steps.shelf_words import meaning_now

ROWS = """
2026-03-02,Ada,dms,3,drains
2026-03-02,Ada,diacetyl,3,drains
2026-03-02,Bo,dms,3,<b>old</b> boots
"""


def _form():
    from seatworthy.pages import source
    from seatworthy.pages.session_words import offer_meanings

    desk = source.the_desk()
    offer_meanings(desk, desk.store.rows("session_list")[0]["session_id"])


def _words():
    from seatworthy.pages import shelf

    shelf.show()


@pytest.fixture
def told(desk, tmp_path, monkeypatch):
    """A store with a closed session in which two wordings wait."""
    add_people(desk, ["Ada", "Bo"], since_on=None)
    path = tmp_path / "march.csv"
    path.write_text(f"date,panellist,compound,level,answer\n{ROWS.strip()}\n", encoding="utf-8")
    bring_in_results(desk, path)
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    return desk


def run(page):
    page.run()
    assert not page.exception
    return page


@pytest.fixture
def form(told):
    return run(AppTest.from_function(_form, default_timeout=20))


@pytest.fixture
def shelf_page(told):
    page = AppTest.from_function(_words, default_timeout=20)
    page.query_params["part"] = "words"
    return run(page)


def html_of(page):
    return "\n".join(element.proto.body for element in page.get("html"))


def press(page, label):
    (button,) = [button for button in page.button if button.label == label]
    button.click()
    return run(page)


def choose(page, words, *compounds):
    page.selectbox(key="session_words_said").set_value(words)
    page.multiselect(key="session_words_mean").set_value(list(compounds))


def test_each_wording_stands_with_how_often_it_was_said(form):
    assert "2 wordings wait for a meaning" in html_of(form)
    assert form.selectbox(key="session_words_said").options == [
        "“drains”, in 2 answers", "“<b>old</b> boots”, in one answer",
    ]  # fmt: skip


def test_nothing_of_the_glasses_stands_there(form):
    assert "Ada" not in html_of(form)
    assert "DMS" not in html_of(form)


def test_one_compound_is_what_the_words_mean(form, told):
    choose(form, "drains", "dms")
    press(form, "Say so")
    press(form, "Read them so")
    assert meaning_now(told, "drains") == "dms"
    assert group_of(told, "drains") is None
    assert form.multiselect(key="session_words_mean").value == []


def test_several_are_what_they_are_right_for(form, told):
    choose(form, "drains", "dms", "h2s")
    press(form, "Say so")
    asked = "“drains” stands in 2 answers of 1 closed session. They would be read as right for "
    assert f"{asked}DMS or hydrogen sulfide, so verdicts may change" in html_of(form)
    assert group_of(told, "drains") is None
    press(form, "Read them so")
    assert group_of(told, "drains").compounds == ("dms", "h2s")
    assert "“drains” is right for DMS or hydrogen sulfide" in html_of(form)


def test_words_may_name_none(form, told):
    choose(form, "drains")
    press(form, "They name no compound")
    assert "They would be read as naming no compound, so" in html_of(form)
    press(form, "Read them so")
    assert meaning_now(told, "drains") == "none"


def test_the_last_wording_leaves_its_sentence(form, told):
    for words in ("<b>old</b> boots", "drains"):
        choose(form, words, "dms")
        press(form, "Say so")
        press(form, "Read them so")
    assert "“drains” stands for DMS" in html_of(form)
    assert not form.selectbox


@pytest.mark.parametrize(
    ("compounds", "label", "refusal"),
    [((), "Say so", "Choose what the words mean"),
     (("dms",), "They name no compound", "Compounds were chosen, and that")],
)  # fmt: skip
def test_an_unclear_choice_is_refused_and_nothing_stored(form, told, compounds, label, refusal):
    before = told.version
    choose(form, "drains", *compounds)
    press(form, label)
    assert refusal in html_of(form)
    assert told.version == before


def test_whoever_says_it_is_kept_with_it(form, told):
    who = next(person.person_id for person in people_of_panel(told) if person.name == "Bo")
    choose(form, "drains", "dms")
    form.selectbox(key="shelf_by").set_value(who)
    press(form, "Say so")
    press(form, "Read them so")
    assert shelf_history(told)[0].who == "Bo"


def accept(page, words, *compounds):
    page.text_input(key="accept_words_said").set_value(words)
    page.multiselect(key="accept_words_mean").set_value(list(compounds))
    return press(page, "Accept them")


def test_the_shelf_shows_what_words_are_right_for_and_takes_it_back(shelf_page, told):
    accept(shelf_page, "mercaptan", "ethanethiol", "methanethiol")
    assert "ethanethiol or methanethiol</td>" in html_of(shelf_page)
    shelf_page.selectbox(key="words_back_pair").set_value(("mercaptan", "ethanethiol"))
    press(shelf_page, "Take it back")
    assert group_of(told, "mercaptan").compounds == ("methanethiol",)


def test_the_shelf_tells_first_how_many_answers_would_be_read_anew(shelf_page, told):
    accept(shelf_page, "drains", "dms", "h2s")
    assert "“drains” stands in 2 answers of 1 closed session" in html_of(shelf_page)
    assert group_of(told, "drains") is None
    press(shelf_page, "Accept them all the same")
    assert group_of(told, "drains").compounds == ("dms", "h2s")


def test_taking_words_back_names_what_they_would_not_be_right_for_any_more(shelf_page, told):
    accept(shelf_page, "drains", "dms", "h2s")
    press(shelf_page, "Accept them all the same")
    shelf_page.selectbox(key="words_back_pair").set_value(("drains", "h2s"))
    press(shelf_page, "Take it back")
    assert "read as not right for hydrogen sulfide any more, so" in html_of(shelf_page)


def test_the_shelf_asks_before_it_reads_closed_answers_as_none(shelf_page, told):
    shelf_page.selectbox(key="open_words_mean").set_value("none")
    shelf_page.button(key="FormSubmitter:open_words-Say so").click()
    run(shelf_page)
    assert "read as naming no compound, so" in html_of(shelf_page)
    press(shelf_page, "Leave it")
    assert meaning_now(told, "drains") is None


def test_what_was_accepted_can_be_undone_and_leaves_what_was_before(shelf_page, told):
    accept(shelf_page, "mercaptan", "ethanethiol")
    accept(shelf_page, "mercaptan", "ethanethiol", "methanethiol")
    press(shelf_page, "Undo")
    assert group_of(told, "mercaptan").compounds == ("ethanethiol",)


def test_a_compounds_own_name_is_not_accepted_for_another(shelf_page, told):
    accept(shelf_page, "Ethanethiol", "methanethiol")
    assert "is the name of a compound" in html_of(shelf_page)
    assert group_of(told, "ethanethiol") is None


def test_markup_in_own_words_stays_words(shelf_page):
    accept(shelf_page, "<b>old</b> boots", "dms", "h2s")
    page = press(shelf_page, "Accept them all the same")
    assert "<b>old</b>" not in html_of(page)
