from datetime import date

import pytest
from invented_session import HOSTILE, button, html_of, invented_desk, invented_reveal, started

from seatworthy.pages import jugs, source
from seatworthy.steps import asides, supposing
from seatworthy.steps.doubtful import DoubtfulJug, DoubtfulJugs
from seatworthy.steps.people import Known

JUGS = (
    DoubtfulJug("s-d", "planned", date(2026, 10, 29), "Thursday Late", "D", True, "Papery", 3.0, 0, 8, False,
                "Everybody missed it. By the answers alone 40 to 1 that nothing was added."),
    DoubtfulJug("s-x", "file", date(2026, 3, 5), HOSTILE, "", False, HOSTILE, None, 4, 8, False,
                "Four of 8 called something."),
)  # fmt: skip


ASIDE = DoubtfulJug(
    "s-a", "file", date(2026, 2, 5), "Panel", "C", False, "DMS", 3.0, 1, 8, True, "Set aside."
)
VIEW = DoubtfulJugs(351, 12, JUGS, (ASIDE,))


@pytest.fixture
def doubted(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(source, "doubtful", lambda: VIEW)
    monkeypatch.setattr(jugs, "everybody", lambda desk: [Known("p9", "Hana", ())])
    monkeypatch.setattr(supposing, "if_set_aside", lambda desk, s: invented_reveal().changes[:1])


@pytest.mark.usefixtures("doubted")
def test_every_doubtful_jug_stands_there_with_its_reason_and_a_way():
    html = html_of(started("jugs"))
    assert "Two jugs to doubt among 351\N{NO-BREAK SPACE}of the last twelve months." in html
    assert "D: Papery, 3×" in html
    assert "40 to 1 that nothing was added" in html
    assert 'href="reveal?session=planned"' in html
    assert 'href="session?session=file"' in html


@pytest.mark.usefixtures("doubted")
def test_hostile_words_stay_plain():
    html = html_of(started("jugs"))
    assert "<img" not in html
    assert "&lt;img src=x onerror=alert(1)&gt;" in html


@pytest.mark.usefixtures("doubted")
def test_a_jug_is_set_aside_after_its_effect_was_shown(monkeypatch):
    taken = []
    monkeypatch.setattr(
        asides, "set_sample_aside", lambda desk, *what: taken.append(what) or "Set aside."
    )
    page = started("jugs")
    page.selectbox(key="aside_jug").set_value("s-d").run()
    assert "Without it these standings of today would change:" in html_of(page)
    page.text_input(key="aside_reason").set_value("no stock was added")
    page.selectbox(key="aside_by").set_value("p9")
    button(page, "Set it aside, or put it back").click().run()
    assert taken == [("s-d", "no stock was added", "p9")]


def test_nothing_to_doubt_says_so_and_leads_back(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(source, "doubtful", lambda: DoubtfulJugs(9, 12, (), ()))
    html = html_of(started("jugs"))
    assert "No jugs to doubt among 9\N{NO-BREAK SPACE}of the last twelve months." in html
    assert "<table" not in html


def test_before_any_glass_there_is_nothing_to_doubt(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(source, "doubtful", lambda: DoubtfulJugs(0, 12, (), ()))
    assert "No jug has been tasted yet" in html_of(started("jugs"))


@pytest.mark.usefixtures("doubted")
def test_a_jug_that_was_set_aside_can_be_put_back(monkeypatch):
    taken = []
    monkeypatch.setattr(
        asides, "put_sample_back", lambda desk, *what: taken.append(what) or "It counts again."
    )
    page = started("jugs")
    assert "<h2>Set aside</h2>" in html_of(page)
    page.selectbox(key="aside_jug").set_value("s-a").run()
    page.text_input(key="aside_reason").set_value("the bottle was found")
    page.selectbox(key="aside_by").set_value("p9")
    button(page, "Set it aside, or put it back").click().run()
    assert taken == [("s-a", "the bottle was found", "p9")]
