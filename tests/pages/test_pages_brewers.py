"""What a brewer sees, and that no byte of it is a score."""

import re

import brewers_seen
import pytest
import sampled
import streamlit as st
from brewers_seen import counts, messages, sent_by
from invented_session import html_of

from seatworthy.pages import board, role, source
from seatworthy.steps import brewer_passphrase, brewer_sight
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.passphrase import set_passphrase

LEADERS, BREWERS = "barley wine in winter", "mash tun at dawn"


@pytest.fixture(scope="session")
def fewer(tmp_path_factory):
    """The sample brewery on fewer glasses, closed."""
    return brewers_seen.made_with_fewer(tmp_path_factory.mktemp("fewer"))


@pytest.fixture
def other_brewery(fewer, tmp_path):
    """A desk at a copy of it."""
    (tmp_path / "other").mkdir()
    desk = sampled.copied(fewer, tmp_path / "other")
    yield desk
    desk.close()


@pytest.fixture
def as_brewer(monkeypatch):
    """A browser in which the brewers' passphrase was typed."""
    monkeypatch.setattr(role, "role_now", lambda: "brewer")


def fit():
    from seatworthy.pages import fit_today

    fit_today.show()


def table():
    from seatworthy.pages import around_table

    around_table.show()


def sure():
    from seatworthy.pages import how_sure

    how_sure.show()


def brewers():
    from seatworthy.pages import people_brewers

    people_brewers.show_brewers()


def chosen(page, *who):
    """What the page sends once these are said to have tasted, or to be here."""
    page.multiselect[-1].set_value(list(who)).run()
    assert not page.exception
    return messages(page)


def said_dms(page, desk, *, who=("Aoife", "Márta")):
    """What is sent once both named DMS."""
    ids = [sampled.person_id(desk, name) for name in who]
    chosen(page, *ids)
    for person in ids:
        page.selectbox(f"sure_said_{person}").set_value("dms")
    page.run()
    assert not page.exception
    return messages(page)


def everything_of(desk, monkeypatch):
    """All that the brewers' pages send of a store."""
    st.cache_resource.clear()
    monkeypatch.setattr(source, "_the_desk", lambda path: desk)
    found = sent_by(fit)[0] + sent_by(fit, family="wheat_beer")[0]
    sent, page = sent_by(table)
    found += sent + chosen(page, sampled.person_id(desk, "Aoife"))
    sent, page = sent_by(sure)
    return found + sent + said_dms(page, desk)


def test_no_byte_tells_a_score(brewery, other_brewery, monkeypatch):
    """Two stores, as fit and with other counts: whatever is sent is the same, byte by byte."""
    assert counts(brewery, sampled.PALE) != counts(other_brewery, sampled.PALE)
    one, other = everything_of(brewery, monkeypatch), everything_of(other_brewery, monkeypatch)
    ids = [
        (sampled.person_id(brewery, name), sampled.person_id(other_brewery, name))
        for name in sampled.PEOPLE
    ]
    assert len(one) > 20
    for mine, theirs in zip(one, other, strict=True):
        for own, others in ids:  # a widget is known by its key, in which an id may stand
            theirs = theirs.replace(others.encode(), own.encode())
        assert _without_keys(mine) == _without_keys(theirs)


def _without_keys(sent):
    return re.sub(rb"\$\$ID-[0-9a-f]+-", b"", sent)


def test_with_the_leaders_leave_the_same_pages_show_counts(brewery):
    aoife = counts(brewery, sampled.PALE)["Aoife", "acetic_acid"]
    words = "{} of {}".format(*aoife)
    assert words not in html_of(sent_by(fit)[1])
    assert brewer_sight.state_sight(brewery, True) == brewer_sight.WITH_SCORES
    assert words in html_of(sent_by(fit)[1])
    assert words in html_of(sent_by(table)[1])
    page = sent_by(sure)[1]
    said_dms(page, brewery)
    assert "finds it" in html_of(page)
    assert "%" in html_of(page)


def test_fit_today_says_who_can_be_asked_and_nobody_elses_name(brewery):
    html = html_of(sent_by(fit)[1])
    assert "Two people could be asked about the pale lagers today" in html
    assert "no seat is signed yet" in html
    assert "Only one about papery." in html
    assert "don&#x27;t count on them for it: Márta" in html
    assert html.index(">Papery<") < html.index("<h2>Not critical</h2>")  # on a phone too
    assert "Gwen" not in html  # came once, and sits for nothing
    assert not re.search(r"\d+ of \d+|\d%|glasses|smell", html)


def test_the_table_tells_who_is_missing_from_it(brewery):
    page = sent_by(table)[1]
    chosen(page, sampled.person_id(brewery, "Márta"))
    html = html_of(page)
    assert "With Márta at the table" in html
    assert "nobody here about papery." in html
    assert "could be asked, not here:" in html


def test_a_call_is_weighed_in_words_and_nothing_is_recorded(brewery):
    before = brewery.version
    page = sent_by(sure)[1]
    said_dms(page, brewery)
    html = html_of(page)
    assert re.search("it is (almost certain|likely) that DMS is there", html)
    assert html.index("Aoife said DMS") < html.index("Márta said DMS")
    assert "finds it" not in html
    assert not page.button
    assert brewery.version == before


@pytest.mark.usefixtures("empty_desk")
@pytest.mark.parametrize("page", [fit, table, sure])
def test_an_empty_store_has_a_sentence_for_brewers_too(page):
    assert re.search(
        "Nobody can be asked yet|Nothing can be weighed yet", html_of(sent_by(page)[1])
    )


@pytest.mark.usefixtures("brewery", "as_brewer")
def test_a_brewers_ticket_lists_the_brewers_pages_alone(run_script, monkeypatch):
    monkeypatch.setattr(board, "show", lambda: pytest.fail("the leader's board was drawn"))
    html = html_of(run_script())
    assert "Two people could be asked" in html
    monkeypatch.setattr(role, "asked_path", lambda: "people")
    html = html_of(run_script())
    assert "This page is the leader&#x27;s" in html
    assert "could be asked" not in html


@pytest.mark.usefixtures("brewery")
def test_whose_ticket_has_ended_sees_one_sentence(run_script, monkeypatch):
    monkeypatch.setattr(role, "role_now", lambda: None)
    html = html_of(run_script())
    assert "not signed in any more" in html
    assert "can sit" not in html


def test_on_one_machine_everybody_is_the_leader_and_on_a_network_nobody_without_a_ticket(
    brewery, monkeypatch
):
    assert role.role_now() == "leader"
    monkeypatch.setenv("SEATWORTHY_LAN", "1")
    assert role.role_now() is None


@pytest.mark.parametrize(
    ("url", "path"),
    [
        (None, ""),
        ("http://192.0.2.1:8501", ""),
        ("http://192.0.2.1:8501/", ""),
        ("http://192.0.2.1:8501/people?first=signers", "people"),
        ("http://192.0.2.1:8501/fit-today/#a/b", "fit-today"),
    ],
)
def test_the_asked_page_is_the_addresss_last_part(url, path, monkeypatch):
    monkeypatch.setattr(role.st, "context", type("Context", (), {"url": url}))
    assert role.asked_path() == path


def test_the_leader_allows_scores_and_the_history_says_so(empty_desk):
    from seatworthy.steps.history_lines import history_lines

    page = sent_by(brewers)[1]
    page.toggle[0].set_value(True).run()
    assert "Brewers see scores too" in html_of(page)
    assert brewer_sight.sees_scores(empty_desk)
    assert history_lines(empty_desk).lines[0].what == "Brewers see scores."
    page.button("undo_brewers").click().run()
    assert not brewer_sight.sees_scores(empty_desk)
    assert history_lines(empty_desk).lines[0].what == "Brewers see no scores, words alone."


def test_a_passphrase_for_brewers_needs_the_leaders_and_is_another(empty_desk):
    page = sent_by(brewers)[1]
    assert "a brewer who sits here sees everything" in html_of(page)

    def typed(words, again):
        page.text_input("brewers_passphrase").set_value(words)
        page.text_input("brewers_again").set_value(again)
        page.button[0].click().run()
        return html_of(page)

    assert "have no passphrase of their own yet" in typed(BREWERS, BREWERS)
    set_passphrase(empty_desk, LEADERS)
    assert "The two passphrases differ" in typed(BREWERS, BREWERS + "s")
    assert "at least 10 characters" in typed("short", "short")
    assert "is the passphrase of the leader" in typed(LEADERS, LEADERS)
    assert "Tell it to the brewers" in typed(BREWERS, BREWERS)
    assert brewer_passphrase.check_brewers_passphrase(empty_desk, BREWERS)
    page.button("brewers_out").click().run()
    assert not brewer_passphrase.has_brewers_passphrase(empty_desk)


def test_with_a_signed_seat_only_those_who_hold_one_stand_there(brewery):
    """A seat that is not signed is none, however fit somebody is."""
    one = sampled.waiting(brewery)
    sign_decision(
        brewery, person_id=one.person_id, family=sampled.PALE, state="qualified",
        until_on=one.until_on, reason="Known for years.", signer=sampled.appointed(brewery),
        pin=sampled.PIN,
    )  # fmt: skip
    html = html_of(sent_by(fit)[1])
    assert "One person can be asked about the pale lagers today; <em>only one about" in html
    assert "Aoife" in html
    assert "Márta" not in html
