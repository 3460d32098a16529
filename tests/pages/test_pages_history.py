"""The page of the history, on an empty store and on one with acts of every kind."""

import re
from datetime import date

import pytest
from invented_session import HOSTILE, html_of, started

from seatworthy.pages import source
from seatworthy.steps.desk import open_desk
from seatworthy.steps.panel import add_people


@pytest.fixture
def kept(desk, monkeypatch):
    """The desk that the page reads."""
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    return desk


@pytest.fixture
def peopled(kept):
    add_people(kept, ["Maren Thode", "Iker Solana"], since_on=None)
    return kept


def entries(test):
    return [int(number) for number in re.findall(r'<th scope="row">(\d+)</th>', html_of(test))]


def test_a_new_store_tells_what_it_was_stocked_with(kept):
    html = html_of(started("happened"))
    assert "compounds: " in html
    assert "The chain adds up" in html


def test_the_newest_act_stands_first(peopled):
    found = entries(started("happened"))
    assert found == list(range(peopled.version, 0, -1))


def test_what_somebody_wrote_is_never_markup(peopled):
    with peopled.store.reading() as cursor:
        cursor.execute(
            "update person_name set spelling = ? where spelling <> 'Maren Thode'", [HOSTILE[:40]]
        )
    html = html_of(started("happened"))
    assert "&lt;img src=x onerror=alert(1)&gt;" in html
    assert "<img" not in html


def test_a_kind_of_act_can_be_chosen(peopled):
    test = started("happened")
    group = next(group for group in test.get("button_group") if group.key == "history_kinds")
    group.set_value(["people"]).run()
    assert not test.exception
    assert entries(test) == [peopled.version]


def test_words_and_days_can_be_asked_for(peopled):
    test = started("happened")
    test.text_input(key="history_words").set_value("MAREN").run()
    assert entries(test) == [peopled.version]
    test.date_input(key="history_until").set_value(date(2020, 1, 1)).run()
    assert "Nothing on record answers to that." in html_of(test)


def test_a_person_can_be_chosen(peopled):
    test = started("happened")
    person = next(row for row in peopled.store.rows("people") if row["spelling"] == "Maren Thode")
    test.selectbox(key="history_who").set_value(person["person_id"]).run()
    assert entries(test) == [peopled.version]


def test_a_record_that_was_changed_is_told_in_the_sentence_on_top(peopled):
    with peopled.store.reading() as cursor:
        cursor.execute("update panellist set is_panellist = false")
    html = html_of(started("happened"))
    assert "<em>1 thing does not add up.</em>" in html.replace("\N{NO-BREAK SPACE}", " ")


def test_the_page_opens_on_the_sample_brewery(tmp_path, monkeypatch):
    from seatworthy.steps.demo import set_up_demo

    set_up_demo(tmp_path / "panel.duckdb", date(2026, 11, 25))
    sample = open_desk(tmp_path / "panel.duckdb")
    monkeypatch.setattr(source, "the_desk", lambda: sample)
    html = html_of(started("happened"))
    sample.close()
    assert "Results file “results.csv” brought in" in html
