"""Ballots on phones as the leader handles them: links, cards, and who has answered."""

import re
from datetime import timedelta
from urllib.parse import unquote

import bench_session
import pytest
from invented_session import button, choice, html_of, started

from seatworthy.network.settings import ADDRESS_VARIABLE, COMMAND_VARIABLE
from seatworthy.pages import session_ballots, session_live, source
from seatworthy.pages.qr_code import qr_picture
from seatworthy.steps import ballot_links, ballot_presence, ballots, table
from seatworthy.steps import sessions as session_steps
from seatworthy.steps.ballot_views import FormAnswer
from seatworthy.steps.closing import close_session
from seatworthy.steps.live_table import live_table
from seatworthy.steps.live_views import LiveGlass, LiveSeat, LiveSitting, LiveView
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.sheets import sheet_key

LAN = "http://192.0.2.20:8501"
HOSTILE = "<img src=x onerror=alert(1)> & ![x](http://outside.example/a.png)"


@pytest.fixture(scope="module")
def made(tmp_path_factory, stocked):
    """A closed store with a session of today for four people, and the session's id."""
    path = bench_session.made(tmp_path_factory.mktemp("ballots"), stocked)
    desk = bench_session.opened(path)
    session_id = bench_session.planned(desk)
    desk.close()
    return path, session_id


@pytest.fixture
def desk(made, tmp_path, monkeypatch):
    opened = bench_session.copied(made[0], tmp_path)
    monkeypatch.setattr(source, "the_desk", lambda: opened)
    monkeypatch.delenv(ADDRESS_VARIABLE, raising=False)
    monkeypatch.delenv(COMMAND_VARIABLE, raising=False)
    yield opened
    opened.close()


@pytest.fixture
def session_id(made):
    return made[1]


def opened_page(session_id):
    return started("session", session=session_id)


def with_links(session_id):
    return button(opened_page(session_id), "Make the links").click().run()


def forget_secrets(desk):
    """What starting the program again does: nobody knows the links any more."""
    ballot_links._secrets.pop(desk.store, None)
    ballot_presence._opened.pop(desk.store, None)


def lines_of(desk, session_id):
    return ballot_links.links(desk, session_id)


def words_of(html):
    """The page without its tags."""
    return re.sub("<[^>]*>", "", html)


def labels_of(page):
    return [found.label for found in page.button]


def test_nothing_is_made_until_it_is_asked_for(desk, session_id):
    page = opened_page(session_id)
    html = html_of(page)
    assert "Each person answers on their own phone" in html
    assert 'class="qr"' not in html
    assert 'class="live"' not in html
    assert all(not line.handed_out_at for line in lines_of(desk, session_id))


def test_one_click_makes_all_links_and_shows_nobodys(desk, session_id):
    html = html_of(with_links(session_id))
    assert "Made 4 links." in html
    assert 'class="qr"' not in html
    assert "hand each card to its owner" in html


def whose(page, session_id):
    return page.selectbox(key=f"whose_link_{session_id}")


def choose(page, session_id, line):
    return whose(page, session_id).set_value(line.key).run()


def test_one_link_at_a_time_is_on_the_screen(desk, session_id):
    page = with_links(session_id)
    lines = lines_of(desk, session_id)
    for line in (lines[2], lines[0]):
        html = html_of(choose(page, session_id, line))
        assert html.count('class="qr"') == 1
        assert f"<b>{line.name}</b>" in html


def test_next_walks_through_everybody_and_ends_with_nobody(desk, session_id):
    page = with_links(session_id)
    lines = lines_of(desk, session_id)
    for place, line in enumerate(lines):
        button(page, "Next person" if place else "First person").click().run()
        html = html_of(page)
        assert html.count('class="qr"') == 1
        assert f"<b>{line.name}</b>" in html
    button(page, "Hide it").click().run()
    assert 'class="qr"' not in html_of(page)
    assert whose(page, session_id).value is None


def test_a_link_stands_in_no_words_of_the_page(desk, session_id):
    page = with_links(session_id)
    for line in lines_of(desk, session_id):
        assert line.secret
        assert line.secret not in html_of(choose(page, session_id, line))


def test_links_are_hidden_from_a_screen_that_others_see_until_one_is_chosen(desk, session_id):
    choose(with_links(session_id), session_id, lines_of(desk, session_id)[0])
    page = opened_page(session_id)
    assert 'class="qr"' not in html_of(page)


def test_a_new_link_for_one_person_ends_the_earlier_one_and_no_other(desk, session_id):
    page = with_links(session_id)
    before = {line.key: line.secret for line in lines_of(desk, session_id)}
    first = lines_of(desk, session_id)[0]
    choose(page, session_id, first)
    page.button(key=f"new_link_{first.key}").click().run()
    after = {line.key: line.secret for line in lines_of(desk, session_id)}
    assert {key for key in before if before[key] != after[key]} == {first.key}
    assert ballots.ballot(desk, before[first.key]) is None
    html = html_of(page)
    assert f"{first.name} has a new link" in html
    assert html.count('class="qr"') == 1


def test_a_link_that_was_opened_is_ended_only_when_that_is_meant(desk, session_id):
    page = with_links(session_id)
    first, second, *_ = lines_of(desk, session_id)
    assert ballots.ballot(desk, first.secret)
    choose(page, session_id, first)
    page.button(key=f"new_link_{first.key}").click().run()
    assert f"{first.name} has opened theirs. A new one ends it" in html_of(page)
    assert page.button(key=f"new_link_{first.key}").disabled
    assert ballots.ballot(desk, first.secret)
    assert "has opened theirs" not in html_of(choose(page, session_id, second))
    choose(page, session_id, first)
    button(page, "Leave it").click().run()
    assert ballots.ballot(desk, first.secret)
    page.button(key=f"new_link_{first.key}").click().run()
    button(page, "End it and make a new one").click().run()
    assert ballots.ballot(desk, first.secret) is None
    assert f"{first.name} has a new link" in html_of(page)


def test_after_a_restart_an_answer_by_phone_still_tells_that_a_link_is_in_use(desk, session_id):
    with_links(session_id)
    first = lines_of(desk, session_id)[0]
    ballots.answer(desk, first.secret, 1, FormAnswer(choice="nothing", seen=0))
    forget_secrets(desk)
    page = choose(opened_page(session_id), session_id, first)
    button(page, "Make a new one").click().run()
    assert f"{first.name} has opened theirs." in html_of(page)
    assert ballots.ballot(desk, first.secret)


def test_a_server_that_listens_to_itself_says_that_no_phone_reaches_it(desk, session_id):
    html = html_of(with_links(session_id))
    assert "Phones can&#x27;t reach this computer now" in html
    assert "seatworthy open --lan" in words_of(html)
    assert "the address must be the same on the day" in html


def test_the_invented_brewery_is_told_its_own_command(desk, session_id, monkeypatch):
    monkeypatch.setenv(COMMAND_VARIABLE, "seatworthy demo --lan")
    for page in (with_links(session_id), started("reach")):
        words = words_of(html_of(page))
        assert "seatworthy demo --lan" in words
        assert "seatworthy open" not in words


def test_a_server_in_the_network_says_how_to_see_whether_it_is_reached(
    desk, session_id, monkeypatch
):
    monkeypatch.setenv(ADDRESS_VARIABLE, LAN)
    html = html_of(with_links(session_id))
    assert "--lan" not in html
    assert '<a href="phones"' in html
    assert f"The cards hold the address {LAN}." in html


def test_after_a_restart_handed_out_links_still_work_and_are_not_replaced_in_one_go(
    desk, session_id
):
    with_links(session_id)
    secrets = {line.name: line.secret for line in lines_of(desk, session_id)}
    forget_secrets(desk)
    page = opened_page(session_id)
    assert "Make the links" not in labels_of(page)
    first = lines_of(desk, session_id)[0]
    choose(page, session_id, first)
    assert "This link still works if it was handed out." in html_of(page)
    button(page, "Make a new one").click().run()
    assert html_of(page).count('class="qr"') == 1
    working = [name for name, secret in secrets.items() if ballots.ballot(desk, secret)]
    assert len(working) == 3
    assert first.name not in working


def test_whoever_comes_besides_is_offered_a_link_at_once(desk, session_id):
    with_links(session_id)
    add_people(desk, ["Zora Lind"], since_on=None)
    zora = next(p.person_id for p in people_of_panel(desk) if p.name == "Zora Lind")
    sitting = session_steps.session(desk, session_id).sittings[0]
    page = opened_page(session_id)
    assert not any(group.key == "links_missing" for group in page.get("button_group"))
    table.seat_latecomer(desk, sitting.sitting_id, zora)
    page = opened_page(session_id)
    choice(page, "links_missing").set_value(sheet_key(sitting.sitting_id, zora)).run()
    html = html_of(page)
    assert "Zora Lind has a link." in html
    assert html.count('class="qr"') == 1


def test_without_any_link_nobody_is_asked_to_make_a_single_one(desk, session_id):
    page = opened_page(session_id)
    assert not any(group.key == "links_missing" for group in page.get("button_group"))


def test_every_card_leads_to_its_persons_ballot(desk, session_id, monkeypatch):
    monkeypatch.setenv(ADDRESS_VARIABLE, f"{LAN}/")
    ballot_links.hand_out(desk, session_id)
    view, lines = session_steps.session(desk, session_id), lines_of(desk, session_id)
    cards = session_ballots.cards(view, lines)
    assert [card.address for card in cards] == [f"{LAN}/b/{line.secret}" for line in lines]
    assert {f"{card.starts_at:%H:%M}" for card in cards} == {"14:00"}
    assert {card.expires_on for card in cards} == {line.expires_on for line in lines}


def test_cards_are_offered_once_there_are_links(desk, session_id):
    offered = "Cards with the links as PDF"
    page = opened_page(session_id)
    assert offered not in [found.label for found in page.get("download_button")]
    page = with_links(session_id)
    assert offered in [found.label for found in page.get("download_button")]


def test_a_picture_is_dark_on_white_with_its_quiet_zone_and_words_for_who_cant_see_it():
    html = qr_picture(f"{LAN}/b/secret", "Link of Bo, to scan")
    assert 'alt="Link of Bo, to scan"' in html
    assert "secret" not in html
    drawn = unquote(html)
    assert "fill='#fff'" in drawn
    assert "stroke='#000'" in drawn
    # Version 3 has 29 modules a side; the standard (ISO/IEC 18004) asks for 4 more of white all round.
    assert "viewBox='0 0 37 37'" in drawn


# ---------- who has answered ----------


def test_the_block_says_how_many_are_in_and_marks_each_glass_with_a_word(desk, session_id):
    with_links(session_id)
    first = lines_of(desk, session_id)[0]
    ballots.answer(desk, first.secret, 1, FormAnswer(choice="nothing", seen=0))
    html = html_of(opened_page(session_id))
    assert "1 of 24 answers are in; Bo, Carmen and Dilek have not opened theirs.</p>" in html
    assert "1 of 24 answers are in; <em>Bo, Carmen and Dilek have not opened theirs.</em>" in (
        html.replace("\N{NO-BREAK SPACE}", " ")
    )
    assert html.count(">answered: </span>") == 1
    assert html.count(">waits: </span>") == 23
    assert "<b>1</b> of 6" in html


def test_one_click_asks_for_what_is_missing(desk, session_id):
    with_links(session_id)
    first = lines_of(desk, session_id)[0]
    ballots.ballot(desk, first.secret)
    page = opened_page(session_id)
    assert choice(page, f"nudge_{session_id}").options == [first.name]
    seat = f"{first.sitting_id} {first.person_id}"
    choice(page, f"nudge_{session_id}").set_value(seat).run()
    assert ballots.ballot(desk, first.secret).is_nudged
    html = html_of(page)
    assert "<i>asked</i>" in html
    assert "with the next page that it loads" in html


def test_a_session_on_paper_alone_shows_no_block(desk, session_id):
    assert "live-answer" not in html_of(opened_page(session_id))


def test_a_closed_session_shows_no_block(desk, session_id):
    with_links(session_id)
    sitting = live_table(desk, session_id).sittings[0]
    for line in lines_of(desk, session_id):
        for place in range(1, 7):
            ballots.answer(desk, line.secret, place, FormAnswer(choice="nothing", seen=0))
    assert "live-answer" in html_of(opened_page(session_id))
    table.sitting_over(desk, sitting.sitting_id)
    close_session(desk, session_id)
    page = opened_page(session_id)
    assert "live-answer" not in html_of(page)
    assert 'class="qr"' not in html_of(page)
    assert f'href="answers?session={session_id}"' in html_of(page)
    line = lines_of(desk, session_id)[0]
    assert html_of(choose(page, session_id, line)).count('class="qr"') == 1


def test_a_closed_session_whose_links_have_ended_offers_none(desk, session_id):
    with_links(session_id)
    line = lines_of(desk, session_id)[0]
    ballots.answer(desk, line.secret, 1, FormAnswer(choice="nothing", seen=0))
    table.sitting_over(desk, line.sitting_id)
    close_session(desk, session_id, without_missing=True)
    today = desk.today()
    desk.today = lambda: line.expires_on
    assert f"whose_link_{session_id}" in [box.key for box in opened_page(session_id).selectbox]
    desk.today = lambda: line.expires_on + timedelta(days=1)
    assert f"whose_link_{session_id}" not in [box.key for box in opened_page(session_id).selectbox]
    assert today < line.expires_on


def test_marks_differ_by_shape_and_words():
    seat = LiveSeat(
        "early", "p1", HOSTILE, "late",
        (
            LiveGlass(("117",), "answered", True),
            LiveGlass(("228",), "answered", False),
            LiveGlass(("339",), "waiting", False),
            LiveGlass(("441",), "spilled", False),
            LiveGlass(("552", "663", "774"), "gone", False),
        ),
        has_link=True, is_opened=True, is_nudged=True,
    )  # fmt: skip
    sitting = LiveSitting("early", HOSTILE, True, (seat,))
    view = LiveView("s9", True, True, "2 of 3 are in", "Bo has a glass to go.", (sitting, sitting))
    html = session_live.live_block(view)
    assert "<img" not in html
    assert html.count("answered: ") == 4
    for shape, words in (("got", "answered"), ("not-yet", "waits"), ("lost", "spilled")):
        mark = f'<span class="{shape}" aria-hidden="true"></span><span class="unseen">{words}: '
        assert mark in html
    assert "not awaited: " in html
    assert '<span class="code">552</span><span class="code">663</span>' in html
    assert "opened<i>1 on paper, asked</i>" in html
    assert "<i>came late</i>" in html


@pytest.mark.parametrize(
    ("states", "is_all_in"), [("answered spilled gone", True), ("answered waiting", False)]
)
def test_all_is_in_once_no_glass_waits(states, is_all_in):
    glasses = tuple(LiveGlass(("117",), state, True) for state in states.split())
    seat = LiveSeat("early", "p1", "Bo", "expected", glasses, True, True, False)
    view = LiveView("s9", True, True, "", "", (LiveSitting("early", "Early", False, (seat,)),))
    assert view.is_all_in is is_all_in


def test_somebody_who_is_not_here_is_not_counted_as_missing():
    seat = LiveSeat("early", "p1", "Bo", "absent", (LiveGlass(("117",), "gone", False),),
                    has_link=False, is_opened=False, is_nudged=False)  # fmt: skip
    view = LiveView(
        "s9", True, True, "No answer is awaited", "", (LiveSitting("e", "E", False, (seat,)),)
    )
    html = session_live.live_block(view)
    assert "not tasting" in html
    assert "no link" not in html


# ---------- whether phones reach it, and the language of ballots ----------


def test_the_page_of_phones_shows_a_picture_and_what_stands_in_the_way(monkeypatch):
    monkeypatch.setenv(ADDRESS_VARIABLE, LAN)
    html = html_of(started("reach"))
    assert html.count('class="qr"') == 1
    assert f"{LAN}/reach" in html
    assert "8501" in html
    assert "guest network" in html


def test_the_page_of_phones_says_how_to_let_them_in(monkeypatch):
    monkeypatch.delenv(ADDRESS_VARIABLE, raising=False)
    html = html_of(started("reach"))
    assert "No phone can reach this computer now; <em>open it with --lan.</em>" in html
    assert 'class="qr"' not in html


def test_the_language_of_a_ballot_is_stated_with_one_click_and_taken_back(desk):
    page = started("people")
    person = people_of_panel(desk)[0]
    key = f"language_{person.person_id}"
    assert choice(page, key).value == "en"
    choice(page, key).set_value("es").run()
    assert f"{person.name}&#x27;s ballot speaks Español." in html_of(page)
    assert choice(page, key).value == "es"
    button(page, "Undo").click().run()
    assert choice(page, key).value == "en"
