"""What somebody got right is for them: on their link, on their page of paper, and nowhere of others."""

import io
import shutil
from dataclasses import asdict

import pytest
import thursday
from handed_out import secrets_of
from pypdf import PdfReader

from seatworthy.paper import feedback_pdf
from seatworthy.steps import anonymous_people
from seatworthy.steps.ballot_feedback import own_feedback
from seatworthy.steps.desk import open_desk
from seatworthy.steps.feedback import feedback, feedback_people


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    """A closed Thursday with everybody's link: store, people, session, secrets."""
    folder = tmp_path_factory.mktemp("told")
    desk = open_desk(folder / "panel.duckdb")
    people = thursday.set_up(desk, folder)
    session_id = thursday.planned(desk, people)
    secrets = secrets_of(desk, session_id)
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    desk.close()
    return desk.store.path, people, session_id, secrets


@pytest.fixture
def desk(told, tmp_path):
    path = tmp_path / "panel.duckdb"
    shutil.copyfile(told[0], path)
    opened = open_desk(path)
    opened.today = lambda: thursday.TODAY
    yield opened
    opened.close()


def others(person):
    return [name for name in thursday.NAMES if name != person]


def test_a_link_shows_its_own_person_alone(desk, told):
    _, _, _, secrets = told
    for person, secret in secrets.items():
        shown = str(asdict(own_feedback(desk, secret)))
        assert person in shown
        assert not [name for name in others(person) if name in shown]


def test_a_link_opens_nothing_once_its_person_is_anonymous(desk, told):
    _, people, _, secrets = told
    bos = own_feedback(desk, secrets["Bo Larsen"])
    assert own_feedback(desk, secrets["Ada Moran"]) is not None
    anonymous_people.make_anonymous(desk, people["Ada"])
    assert own_feedback(desk, secrets["Ada Moran"]) is None
    assert own_feedback(desk, secrets["Bo Larsen"]) == bos


def test_feedback_of_several_is_a_page_each_with_one_name(desk, told):
    _, people, session_id, _ = told
    views = [feedback(desk, session_id, people[who]) for who in ("Ada", "Bo")]
    pages = PdfReader(io.BytesIO(feedback_pdf(views, "A4"))).pages
    said = [page.extract_text() for page in pages]
    for text in said:
        assert len([name for name in thursday.NAMES if name in text]) == 1
        assert "only; the panel leader can see it too" in text.replace("\n", " ")
    assert {name for name in thursday.NAMES for text in said if name in text} == {
        "Ada Moran", "Bo Larsen",
    }  # fmt: skip


def test_the_paper_of_somebody_anonymous_bears_no_name(desk, told):
    _, people, session_id, _ = told
    anonymous_people.make_anonymous(desk, people["Ada"])
    view = feedback(desk, session_id, people["Ada"])
    text = PdfReader(io.BytesIO(feedback_pdf([view], "A4"))).pages[0].extract_text()
    assert "Ada" not in text
    assert "Somebody made anonymous" in text
    assert "Ada Moran" not in [one.label for one in feedback_people(desk, session_id)]
