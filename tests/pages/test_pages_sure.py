"""How sure are we? The page over a small sample brewery, an empty store and hostile words."""

import pytest
import sampled
from invented_session import html_of

from seatworthy.steps.tasted import Tasted
from seatworthy.steps.weigh_views import Question
from seatworthy.steps.weighings_kept import keep_weighing


def question(desk, *named, label="Tank 12"):
    words = [
        Tasted(sampled.person_id(desk, name), name, "named" if name in named else "nothing",
               "dms" if name in named else None)
        for name in sampled.PEOPLE
    ]  # fmt: skip
    return Question(sampled.PALE, label, tuple(words))


@pytest.fixture
def run_sure():
    """Start the page alone, under an address."""
    from streamlit.testing.v1 import AppTest

    def run(**address):
        test = AppTest.from_function(_sure, default_timeout=40)
        for name, value in address.items():
            test.query_params[name] = value
        test.run()
        assert not test.exception
        return test

    return run


def _sure():
    from seatworthy.pages import sure

    sure.show()


@pytest.mark.usefixtures("empty_desk")
def test_an_empty_store_says_what_to_do_first(run_sure):
    html = html_of(run_sure())
    assert "Nothing can be weighed yet" in html
    assert 'href="shelf"' in html


@pytest.mark.usefixtures("brewery")
def test_the_form_asks_before_anything_is_said(run_sure):
    html = html_of(run_sure())
    assert "Say who tasted which beer" in html
    assert "it never releases beer" in html
    assert "No weighed call is kept yet." in html


def test_a_call_typed_in_is_weighed_kept_and_its_truth_stated(run_sure, brewery):
    page = run_sure()
    ids = [sampled.person_id(brewery, name) for name in sampled.PEOPLE]
    page.text_input(key="sure_label").set_value("Tank 12")
    page.multiselect(key="sure_who").set_value(ids).run()
    page.selectbox(key=f"sure_said_{ids[0]}").set_value("dms").run()
    html = html_of(page)
    assert "DMS in tank 12" in html
    assert "The next step" in html
    assert "Aoife said DMS." in html
    page.button(key="sure_keep").click().run()
    assert not page.exception
    assert "Kept. State what the beer really had" in html_of(page)
    call = page.query_params["call"]
    assert call
    page.selectbox(key="outcome_what").set_value("dms")
    page.button(key="outcome_record").click().run()
    assert "turned out to have DMS" in html_of(page)
    assert "It had DMS, known by a laboratory" in html_of(page)


def test_a_kept_call_has_an_address_of_its_own(run_sure, brewery):
    weighing_id = keep_weighing(brewery, question(brewery, "Aoife"))
    html = html_of(run_sure(call=weighing_id))
    assert "kept under" in html
    assert f'href="sure?call={weighing_id}"' in html
    assert "not known yet" in html


def test_scores_can_be_left_out(run_sure, brewery, monkeypatch):
    from seatworthy.pages import sure_shown

    drawn, spec = [], sure_shown._ladder_spec
    monkeypatch.setattr(
        sure_shown, "_ladder_spec", lambda rungs, shade: drawn.append(rungs) or spec(rungs, shade)
    )
    weighing_id = keep_weighing(brewery, question(brewery, "Aoife"))
    page = run_sure(call=weighing_id)
    assert "false call" in str(drawn[-1])
    page.toggle(key="sure_in_words").set_value(True).run()
    assert "false call" not in str(drawn[-1])
    assert "finds it well" in str(drawn[-1])


@pytest.mark.usefixtures("brewery")
@pytest.mark.parametrize(
    ("address", "words"),
    [({"call": "no-such"}, "not on record"), ({"sample": "no-such"}, "There is no such sample")],
)
def test_what_is_not_there_is_said_and_the_page_stands(run_sure, address, words):
    assert words in html_of(run_sure(**address))


def test_hostile_words_stay_plain(run_sure, brewery):
    hostile = "<img src=x onerror=alert(1)>"
    weighing_id = keep_weighing(brewery, question(brewery, "Aoife", label=hostile))
    html = html_of(run_sure(call=weighing_id))
    assert "<img" not in html
    assert "&lt;img" in html


def test_a_share_is_stated_on_the_page(run_sure, brewery):
    page = run_sure()
    page.multiselect(key="sure_who").set_value([sampled.person_id(brewery, "Aoife")]).run()
    page.selectbox(key="share_what").set_value("dms")
    page.selectbox(key="share_words").set_value("1 in 8")
    page.button(key="share_state").click().run()
    assert "DMS: 1 in 8 of these beers from now on." in html_of(page)


def test_the_weighing_prints(brewery):
    from seatworthy.pages.sure import printed
    from seatworthy.steps.weigh import weigh_call

    view = weigh_call(brewery, question(brewery, "Aoife"))
    assert printed(brewery, view, "A4").startswith(b"%PDF")


def test_the_paper_that_was_chosen_is_the_paper_that_is_printed(run_sure, brewery, monkeypatch):
    import streamlit as st

    from seatworthy.pages import sure

    made, sizes = [], []
    monkeypatch.setattr(st, "download_button", lambda *args, data, **more: made.append(data))
    monkeypatch.setattr(sure, "printed", lambda desk, view, size: sizes.append(size) or b"%PDF")
    page = run_sure(call=keep_weighing(brewery, question(brewery, "Aoife")))
    page.get("button_group")[0].set_value("Letter").run()
    made[-1]()
    assert sizes == ["Letter"]
