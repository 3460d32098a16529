import zipfile
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from io import BytesIO

import pytest
from invented_session import (
    HOSTILE,
    NAMES,
    TODAY,
    button,
    choice,
    html_of,
    invented_desk,
    invented_session,
    started,
    without_answers,
)

from seatworthy.errors import PanelError
from seatworthy.pages import going, session_papers, source
from seatworthy.pages.telling import NO_COPY
from seatworthy.steps import (
    accepted_words,
    asides,
    ballot_links,
    closing,
    last_copy,
    live_table,
    papers,
    table,
)
from seatworthy.steps import sessions as session_steps
from seatworthy.steps.ballot_views import LinkLine

AT_TABLE = (
    "absent", "as_planned", "back", "came_late", "left", "not_recoded", "put_codes_on",
    "seat_latecomer", "short", "sitting_goes_on", "sitting_over", "spilled", "state_level", "swapped",
)  # fmt: skip
ASIDE = ("put_own_back", "put_sample_back", "set_own_aside", "set_sample_aside")


@pytest.fixture
def steps(monkeypatch):
    """Every step that the page may take, written down instead of taken."""
    taken = []

    def written(name):
        def step(desk, *what, **more):
            taken.append((name, *what, *more.values()))
            return f"{name} was recorded & kept."

        return step

    for module, names in ((table, AT_TABLE), (asides, ASIDE)):
        for name in names:
            monkeypatch.setattr(module, name, written(name))
    for name in ("close_session", "call_off"):
        monkeypatch.setattr(closing, name, written(name))
    monkeypatch.setattr(last_copy, "copy_after_close", lambda desk: None)
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(ballot_links, "links", lambda desk, session_id: ())
    monkeypatch.setattr(accepted_words, "waiting_words", lambda desk, session_id: ())
    monkeypatch.setattr(live_table, "live_table", lambda desk, session_id: None)
    monkeypatch.setattr(
        going, "go_to", lambda page, **asked: taken.append(("go_to", page, *asked.values()))
    )
    return taken


@pytest.fixture
def opened(steps, monkeypatch):
    """Open the page on an invented session."""

    def open_page(view):
        monkeypatch.setattr(session_steps, "session", lambda desk, session_id: view)
        return started("session", session=view.session_id)

    return open_page


def test_the_page_opens_with_its_sentence_and_the_lines_of_care(opened):
    html = html_of(opened(invented_session()))
    assert "Thursday panel is planned for today; <em>print the papers.</em>" in html
    assert "Łucja Wrzos is not to be served isovaleric acid." in html


def test_an_address_without_a_session_leads_to_the_list(steps, monkeypatch):
    monkeypatch.setattr(session_steps, "session", lambda desk, session_id: None)
    assert "Which session shall it be?" in html_of(started("session"))
    html = html_of(started("session", session="x"))
    assert "No session goes by that address." in html
    assert '<a href="sessions"' in html


def test_letters_are_the_key_and_hidden_until_they_are_asked_for(opened):
    page = opened(invented_session())
    assert "jug </span>" not in html_of(page)
    page.checkbox(key="show_letters").check().run()
    assert "jug </span>" in html_of(page)


@pytest.mark.parametrize(
    ("what", "key", "chosen", "taken", "undone"),
    [
        ("late", "late_early", "p2", ("came_late", "early", "p2"), ("back", "early", "p2")),
        ("absent", "absent_late", "p5", ("absent", "late", "p5"), ("back", "late", "p5")),
        ("left", "left_early", "p1", ("left", "early", "p1"), ("back", "early", "p1")),
        ("spilled", "spilled_late_p5", "late-5-2", ("spilled", "late-5-2"), ("as_planned", "late-5-2")),
        ("short", "short_early_p1", "early-1-6", ("short", "early-1-6"), ("as_planned", "early-1-6")),
        ("other", "other_late", "p9", ("seat_latecomer", "late", "p9"), ("absent", "late", "p9")),
        ("cold", "cold", "p3", ("set_own_aside", "p3"), ("put_own_back", "p3")),
    ],
)  # fmt: skip
def test_two_clicks_record_what_happened_and_one_undoes_it(
    opened, steps, what, key, chosen, taken, undone
):
    page = opened(invented_session())
    choice(page, "what_happened").set_value(what).run()
    choice(page, key).set_value(chosen).run()
    assert steps == [taken]
    assert f"{taken[0]} was recorded &amp; kept." in html_of(page)
    button(page, "Undo").click().run()
    assert steps == [taken, undone]
    assert not any(found.label == "Undo" for found in page.button)


def test_two_swapped_glasses_are_recorded_once_the_second_is_named(opened, steps):
    page = opened(invented_session())
    choice(page, "what_happened").set_value("swapped").run()
    choice(page, "swapped_early_p1").set_value("early-1-2").run()
    assert steps == []
    choice(page, "swapped_early_p2").set_value("early-2-3").run()
    assert steps == [("swapped", "early-1-2", "early-2-3")]


def test_the_same_glass_twice_is_no_swap(opened, steps):
    page = opened(invented_session())
    choice(page, "what_happened").set_value("swapped").run()
    for _ in range(2):
        choice(page, "swapped_early_p1").set_value("early-1-2").run()
    assert steps == []


def test_whoever_came_late_can_be_expected_again(opened, steps):
    page = opened(invented_session("in_hand"))
    choice(page, "what_happened").set_value("back").run()
    choice(page, "back_early").set_value("p2").run()
    choice(page, "back_late_glasses").set_value("late-5-2").run()
    assert steps == [("back", "early", "p2"), ("as_planned", "late-5-2")]


def test_own_glasses_that_are_set_aside_are_put_back_by_the_same_two_clicks(opened, steps):
    view = invented_session()
    first = view.sittings[0]
    seats = (replace(first.seated[0], own_aside=True), *first.seated[1:])
    page = opened(replace(view, sittings=(replace(first, seated=seats), view.sittings[1])))
    assert "own glasses set aside" in html_of(page)
    choice(page, "what_happened").set_value("cold").run()
    choice(page, "cold").set_value("p1").run()
    assert steps == [("put_own_back", "p1")]


def test_a_refusal_is_shown_in_its_own_words_without_undo(opened, monkeypatch):
    def refuse(desk, serving_id):
        message = "Glass 117 is answered already (“wet dog”)."
        raise PanelError(message)

    page = opened(invented_session())
    monkeypatch.setattr(table, "spilled", refuse)
    choice(page, "what_happened").set_value("spilled").run()
    choice(page, "spilled_early_p1").set_value("early-1-1").run()
    assert "Glass 117 is answered already" in html_of(page)
    assert not any(found.label == "Undo" for found in page.button)


def test_levels_are_stated_for_the_jugs_that_were_typed_and_no_others(opened, steps):
    page = opened(invented_session())
    page.checkbox(key="show_jugs").check().run()
    page.number_input(key="level_early-A").set_value(2.8)
    page.number_input(key="age_early-A").set_value(25)
    page.number_input(key="age_early-B").set_value(40)
    next(b for b in page.button if b.label == "Record the levels").click().run()
    assert steps == [
        ("state_level", "early-A", Decimal("2.8"), 25),
        ("state_level", "early-B", None, 40),
    ]


def test_whoever_put_the_codes_on_is_recorded_by_choosing_them(opened, steps):
    page = opened(invented_session())
    page.selectbox(key="recoded_s9").set_value("p4").run()
    page.selectbox(key="recoded_s9").set_value("somebody").run()
    assert steps == [("put_codes_on", "s9", "p4"), ("put_codes_on", "s9", None)]


def test_the_preparer_is_not_offered_as_the_one_who_put_the_codes_on(opened):
    options = opened(invented_session()).selectbox(key="recoded_s9").options
    assert "Iker Solana" not in options
    assert "Maren Thode" in options


def test_a_jug_is_set_aside_with_a_reason_and_an_author(opened, steps):
    page = opened(invented_session())
    page.selectbox(key="aside_jug").set_value("late-C")
    page.text_input(key="aside_reason").set_value("wrong stock")
    page.selectbox(key="aside_by").set_value("p2")
    button(page, "Set it aside, or put it back").click().run()
    assert steps == [("set_sample_aside", "late-C", "wrong stock", "p2")]


def test_a_refused_reason_stays_in_the_form(opened, monkeypatch):
    def refuse(desk, sample_id, reason, by):
        message = "Say who you are."
        raise PanelError(message)

    page = opened(invented_session())
    monkeypatch.setattr(asides, "set_sample_aside", refuse)
    page.selectbox(key="aside_jug").set_value("late-C")
    page.text_input(key="aside_reason").set_value("wrong stock")
    button(page, "Set it aside, or put it back").click().run()
    assert "Say who you are." in html_of(page)
    assert page.text_input(key="aside_reason").value == "wrong stock"


def test_everybodys_sheet_is_one_link_away(opened):
    html = html_of(opened(invented_session("in_hand")))
    assert "answers?session=s9&amp;sheet=early-p2" in html
    assert "0 answered, 6 to come" in html


def test_a_sitting_is_over_with_one_click(opened, steps):
    button(opened(invented_session()), "Early shift is over").click().run()
    assert steps == [("sitting_over", "early")]


def test_what_stands_in_the_way_is_listed_and_nothing_can_be_closed(opened):
    page = opened(invented_session())
    assert "Early shift is not over yet." in html_of(page)
    assert button(page, "Close and reveal").disabled


def test_a_complete_session_closes_and_leads_to_its_reveal(opened, steps):
    page = opened(invented_session("over"))
    page.selectbox(key="closed_by").set_value("p1").run()
    button(page, "Close and reveal").click().run()
    assert steps == [("close_session", "s9", False, "p1"), ("go_to", "reveal", "s9")]


def test_a_copy_that_could_not_be_kept_is_said_and_the_close_stands(opened, steps, monkeypatch):
    monkeypatch.setattr(last_copy, "copy_after_close", lambda desk: "No copy could be kept.")
    page = opened(invented_session("over"))
    button(page, "Close and reveal").click().run()
    told = page.session_state["told"]
    assert (told.place, told.sentence) == (NO_COPY, "No copy could be kept.")
    assert steps == [("close_session", "s9", False, None), ("go_to", "reveal", "s9")]


def test_missing_answers_ask_for_a_second_explicit_click(opened, steps):
    page = opened(without_answers(invented_session("over")))
    button(page, "Close and reveal").click().run()
    assert steps == []
    assert "3 glasses have no answer: Maren Thode 3." in html_of(page)
    button(page, "Close with 3 glasses unanswered").click().run()
    assert steps == [("close_session", "s9", True, None), ("go_to", "reveal", "s9")]


def test_links_ask_for_a_second_click_that_names_what_follows(opened, steps, monkeypatch):
    monkeypatch.setattr(ballot_links, "links", lambda desk, session_id: (linked(),))
    page = opened(invented_session("over"))
    assert "From then on every link" not in html_of(page)
    button(page, "Close and reveal").click().run()
    assert steps == []
    assert "shows its owner what was in the glasses. This can&#x27;t be taken back." in html_of(
        page
    )
    button(page, "Not yet").click().run()
    assert "From then on every link" not in html_of(page)
    button(page, "Close and reveal").click().run()
    button(page, "Yes, close it now").click().run()
    assert steps == [("close_session", "s9", False, None), ("go_to", "reveal", "s9")]


def test_links_and_missing_answers_are_asked_about_in_one_question(opened, steps, monkeypatch):
    monkeypatch.setattr(ballot_links, "links", lambda desk, session_id: (linked(),))
    page = opened(without_answers(invented_session("over")))
    button(page, "Close and reveal").click().run()
    html = html_of(page)
    assert "3 glasses have no answer: Maren Thode 3." in html
    assert "From then on every link" in html
    button(page, "Close with 3 glasses unanswered").click().run()
    assert steps == [("close_session", "s9", True, None), ("go_to", "reveal", "s9")]


def linked():
    """A seat whose link was handed out before the program was started."""
    return LinkLine(
        key="early-p1", sitting_id="early", person_id="p1", name=NAMES[0], sitting="Early shift",
        language="en", secret="", handed_out_at=datetime(2026, 11, 25, 9), expires_on=TODAY,
        opened=False,
    )  # fmt: skip


def test_calling_off_takes_two_steps(opened, steps):
    page = opened(invented_session())
    button(page, "Call it off").click().run()
    assert steps == []
    button(page, "Yes, call it off").click().run()
    assert steps == [("call_off", "s9")]


@pytest.mark.parametrize("state", ["closed", "called_off", "brought_in"])
def test_what_is_done_can_only_be_read(opened, state):
    page = opened(invented_session(state))
    assert not page.button
    assert not page.get("button_group")


def test_a_closed_session_leads_to_reveal_feedback_and_its_repetition(opened):
    html = html_of(opened(invented_session("closed")))
    assert "reveal?session=s9" in html
    assert "feedback?session=s9" in html
    assert "plan?again=s9" in html


def test_five_papers_and_labels_are_offered(opened):
    labels = [found.label for found in opened(invented_session()).get("download_button")]
    papers_offered = ["Preparation list", "Pouring sheet", "Key", "Ballots", "All four"]
    assert labels == [*papers_offered, "Labels for bottles"]


def test_all_papers_come_in_one_archive_of_the_chosen_size(monkeypatch):
    made = []

    def draw(view, size):
        made.append((view, size))
        return b"%PDF"

    names = ("preparation_pdf", "pouring_pdf", "key_pdf", "ballots_pdf")
    for name in names:
        monkeypatch.setattr(session_papers.papers_made, name, draw, raising=False)
    monkeypatch.setattr(papers, "papers", lambda desk, session_id: f"papers of {session_id}")
    box = session_papers.papers_zip(invented_desk(), "s9", "Letter", "2026-11-26")
    assert zipfile.ZipFile(BytesIO(box)).namelist() == [
        "2026-11-26-preparation-list.pdf",
        "2026-11-26-pouring-sheet.pdf",
        "2026-11-26-key.pdf",
        "2026-11-26-ballots.pdf",
    ]
    assert made == [("papers of s9", "Letter")] * 4


def test_a_hostile_name_stays_plain_words_and_is_escaped_in_labels(opened):
    page = opened(invented_session(names=(HOSTILE, *NAMES[1:])))
    choice(page, "what_happened").set_value("late").run()
    assert "<img" not in html_of(page)
    assert r"\!\[x\]" in choice(page, "late_early").options[0]
