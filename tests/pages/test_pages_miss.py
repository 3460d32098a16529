"""What we would miss: moved, taken, kept, told again."""

import pytest
from invented_session import HOSTILE, button, choice, html_of, started
from sampled import PALE, person_id

from seatworthy.pages import source
from seatworthy.steps.batches import batches, state_batch
from seatworthy.steps.panels_kept import panels_kept

KEPT_SENTENCE = "Kept, with the figures of "


@pytest.fixture
def aoife(brewery):
    return person_id(brewery, "Aoife")


def press(page, label):
    button(page, label).click().run()
    assert not page.exception


def test_before_the_first_glasses_the_page_says_what_to_do(empty_desk):
    page = started("miss")
    assert "No glasses yet. Plan the first session" in html_of(page)
    assert not page.get("button_group")


def test_the_sentence_names_the_catch_and_the_table_has_its_numbers(brewery):
    words = html_of(started("miss"))
    assert "<h1" in words
    assert "<em>" in words
    assert "Would slip past,<br>in 100 such tanks" in words
    assert "strongest nose away" in words
    assert "Today: two for pale lagers" in words
    assert "two independent callers make a fault call" in words


def test_the_assumptions_and_the_limits_of_the_tool_stand_there(brewery):
    words = html_of(started("miss"))
    assert "given the level they are taken to call independently" in words
    assert "what leaves the brewery is a person&#x27;s decision" in words


def test_a_tick_taken_away_changes_the_page_at_once(brewery, aoife):
    page = started("miss", sits=aoife)
    assert "One person makes no fault call" in html_of(page)
    choice(page, "miss_callers").set_value(1).run()
    assert not page.exception
    assert "One person makes no fault call" not in html_of(page)
    assert page.query_params["callers"] == "1"


def test_who_sits_is_ticked_in_place(brewery, aoife):
    page = started("miss")
    choice(page, "miss_sits").set_value([aoife]).run()
    assert not page.exception
    assert page.query_params["sits"] == aoife
    assert "Today: one for pale lagers" in html_of(page)


def test_nobody_here_is_an_honest_sentence_and_nothing_is_kept(brewery):
    page = started("miss", here="nobody")
    assert "Nobody sits for the pale lagers" in html_of(page)
    assert "Keep this panel" not in [b.label for b in page.button]
    assert "<table" not in html_of(page)


def test_words_in_the_address_that_say_nothing_are_passed_over(brewery):
    page = started("miss", callers="many", limit="nan", size="-1", family="nothing")
    assert "Rule: two independent callers" in html_of(page)
    assert choice(page, "miss_limit").value in ("0.20", ["0.20"])


def test_a_proposal_is_taken_with_one_click(brewery, aoife):
    page = started("miss", sits=aoife)
    label = next(b.label for b in page.button if b.label == "Seat the best panel")
    press(page, label)
    assert aoife in page.query_params["sits"].split(".")
    assert len(page.query_params["sits"].split(".")) == 2
    assert "The best panel sits" in [b.label for b in page.button]


def test_a_panel_is_kept_and_stands_in_the_list(brewery):
    page = started("miss")
    press(page, "Keep this panel")
    assert KEPT_SENTENCE in html_of(page)
    (one,) = panels_kept(brewery)
    assert f'href="miss?panel={one.panel_id}"' in html_of(page)


def test_the_way_to_a_release_sitting_takes_the_batch_and_the_people_along(brewery, aoife):
    batch_id = state_batch(brewery, "Tank 7", "quillmere pils", [])
    words = html_of(started("miss", batch=batch_id, sits=aoife))
    assert f'href="plan?kind=release&amp;batch={batch_id}&amp;who={aoife}"' in words


def test_a_kept_panel_opens_by_its_address(brewery):
    page = started("miss")
    press(page, "Keep this panel")
    (one,) = panels_kept(brewery)
    words = html_of(started("miss", panel=one.panel_id))
    assert "Panel kept" in words
    assert "Chosen: Aoife and Márta." in words
    assert "Digest of what was kept" in words


def test_a_batch_is_put_on_record_with_its_crew(brewery, aoife):
    page = started("miss")
    page.text_input(key="batch_label_new").set_value(f"Tank 12 {HOSTILE[:28]}")
    page.multiselect(key="batch_crew_new").set_value([aoife])
    press(page, "Put it on record")
    (batch,) = batches(brewery)
    assert (batch.crew, batch.family) == ((aoife,), PALE)
    words = html_of(page)
    assert "Whoever made it is not independent of it." in words
    assert "<img" not in words
    assert "made Tank 12" in words


def test_the_crew_of_a_batch_is_said_anew_in_place(brewery, aoife):
    batch_id = state_batch(brewery, "Tank 7", "quillmere pils", [aoife])
    page = started("miss", batch=batch_id)
    assert "made Tank 7" in html_of(page)
    assert page.text_input(key=f"batch_label_{batch_id}").value == "Tank 7"
    page.multiselect(key=f"batch_crew_{batch_id}").set_value([])
    press(page, "Put it on record")
    assert batches(brewery)[0].crew == ()
    assert "Nobody is named as crew of Tank 7, so all count as independent." in html_of(page)


def test_a_batch_without_a_name_is_refused_beside_the_click(brewery):
    page = started("miss")
    press(page, "Put it on record")
    assert "The batch has no name" in html_of(page)
    assert batches(brewery) == ()


def test_the_choices_read_nothing_more_from_the_store(brewery, aoife, monkeypatch):
    """What is read is kept by the store's version, so that a slider only computes."""
    page = started("miss")
    asked = []
    rows = brewery.store.rows
    monkeypatch.setattr(
        brewery.store, "rows", lambda query, *a, **k: asked.append(query) or rows(query, *a, **k)
    )
    choice(page, "miss_callers").set_value(1).run()
    assert not page.exception
    assert "Rule: one caller makes a fault call" in html_of(page)
    assert not {"decisions", "seat_people", "tasted_today", "named_glasses"} & set(asked)
    assert source.the_desk() is brewery
