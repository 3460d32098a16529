import pytest
from invented_session import (
    HOSTILE,
    PEOPLE,
    html_of,
    invented_desk,
    invented_feedback,
    started,
)

from seatworthy.pages import source
from seatworthy.pages.feedback_tables import range_bar
from seatworthy.steps import feedback
from seatworthy.steps.reveal_views import ProgressRow


@pytest.fixture
def own_pages(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(
        feedback, "feedback", lambda desk, session_id, person: invented_feedback(person)
    )
    monkeypatch.setattr(feedback, "feedback_people", lambda desk, session_id: PEOPLE[:8])


@pytest.mark.usefixtures("own_pages")
def test_a_page_opens_with_the_persons_own_sentence():
    html = html_of(started("feedback", session="s7", who="p1"))
    assert "You named DMS, which got past you last time." in html
    assert "Maren Thode" in html


@pytest.mark.usefixtures("own_pages")
def test_each_kind_of_answer_has_its_own_mark_and_its_word():
    html = html_of(started("feedback", session="s7", who="p1"))
    table = html.split("<tbody>")[1].split("</tbody>")[0]
    counts = [table.count(f"seen-{kind}") for kind in ("right", "wrong", "missed", "open")]
    assert counts == [3, 1, 1, 1]
    assert '<span class="unseen">not noticed</span>' in table


@pytest.mark.usefixtures("own_pages")
def test_others_are_counts_and_left_out_where_they_are_not_given():
    html = html_of(started("feedback", session="s7", who="p1"))
    assert "4 of 7 others right" in html
    assert html.count("others right") == 5


@pytest.mark.usefixtures("own_pages")
def test_the_page_compares_with_the_own_past_and_names_one_thing_to_smell():
    html = html_of(started("feedback", session="s7", who="p1"))
    assert "in the 12 months before: 21 of 30." in html
    assert "Smell ethyl hexanoate and isoamyl acetate side by side" in html


@pytest.mark.usefixtures("own_pages")
def test_choosing_somebody_else_moves_page_and_address():
    page = started("feedback", session="s7", who="p1")
    page.selectbox[0].set_value("p3").run()
    assert page.query_params["who"] == "p3"
    assert "Łucja Wrzos" in html_of(page)


@pytest.mark.usefixtures("own_pages")
def test_without_a_person_everybody_is_offered():
    html = html_of(started("feedback", session="s7"))
    assert "Whose page shall it be?" in html
    assert "feedback?session=s7&amp;who=p8" in html


def test_before_the_close_there_is_no_feedback(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(feedback, "feedback", lambda desk, session_id, person: None)
    monkeypatch.setattr(feedback, "feedback_people", lambda desk, session_id: ())
    html = html_of(started("feedback", session="s9", who="p1"))
    assert "Feedback is written once the session is closed." in html
    assert "Glasses that ask about a beer have no page" in html


@pytest.mark.usefixtures("own_pages")
def test_a_hostile_name_on_the_own_page_stays_plain_words(monkeypatch):
    view = invented_feedback("p1", name=HOSTILE)
    monkeypatch.setattr(feedback, "feedback", lambda desk, session_id, person: view)
    html = html_of(started("feedback", session="s7", who="p1"))
    assert "<img" not in html


def test_nothing_known_draws_no_bar():
    row = ProgressRow("DMS", "no_glasses", 0, 1, 0, 0, None, None, None, "")
    assert range_bar(row, 0.7) == ""


def test_the_bar_spans_the_range_and_ticks_the_best_guess():
    row = ProgressRow("DMS", "met", 1, 1, 9, 9, 0.93, 0.83, 0.99, "")
    bar = range_bar(row, 0.7)
    assert "left:83.0%;width:16.0%" in bar
    assert "left:93.0%" in bar
    assert 'aria-label="93%, 70% needed"' in bar
