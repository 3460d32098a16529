"""A brewer's ticket at the real server: what a live page sends, asked as no browser would ask."""

import sys
from urllib.parse import urlencode

import pytest
from lan_served import HOST, PASSPHRASE, served
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from streamlit.util import calc_hash
from websockets.exceptions import ConnectionClosed
from websockets.sync.client import connect

from seatworthy.shipped import shipped
from seatworthy.steps.brewer_passphrase import set_brewers_passphrase
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.desk import open_desk
from seatworthy.steps.passphrase import set_passphrase

BREWERS = "mash tun at dawn"
NAMES = ("Aoife", "Gwen")

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="only there is 127.0.0.2 ours too")


@pytest.fixture(scope="module")
def lan(tmp_path_factory):
    """A server over two people of the sample brewery, with both passphrases set."""
    folder = tmp_path_factory.mktemp("brewers")
    desk = open_desk(folder / "panel.duckdb")
    bring_in_shelf(desk, shipped("sample_data/shelf.toml"))
    bring_in_results(desk, shipped("sample_data/results.csv"), arrange=lambda rows: tuple(
        row for row in rows if row.panellist in NAMES
    ))  # fmt: skip
    set_passphrase(desk, PASSPHRASE)
    set_brewers_passphrase(desk, BREWERS, BREWERS)
    desk.close()
    with served(folder, "--store", "panel.duckdb") as found:
        yield found


def signed_in(lan, passphrase):
    """A browser in which a passphrase was typed."""
    found = lan.signed_out()
    form = urlencode({"passphrase": passphrase, "to": "/"})
    kind = {"Content-Type": "application/x-www-form-urlencoded"}
    found.cookie = found.ask("POST", "/door", form, **kind)[1]["set-cookie"].partition(";")[0]
    return found


def live(lan, *protocols):
    """A live page of that browser."""
    return connect(
        f"ws://{HOST}:{lan.port}/_stcore/stream",
        additional_headers={"Cookie": lan.cookie},
        subprotocols=["streamlit", *protocols],
        proxy=None,
        max_size=None,
    )


def sent_for(page, url_path=""):
    """All messages of one run of the page script, asked for a page by its hash as the frame does."""
    ask = BackMsg()
    ask.rerun_script.page_script_hash = calc_hash(url_path) if url_path else ""
    ask.rerun_script.context_info.url = f"http://{HOST}/{url_path}"
    page.send(ask.SerializeToString())
    messages = []
    while not messages or messages[-1].WhichOneof("type") != "script_finished":
        messages.append(ForwardMsg.FromString(page.recv(timeout=60)))
    return messages


def words_of(messages):
    return "\n".join(str(message) for message in messages)


def listed(messages):
    """Addresses of the pages that a run lists."""
    found = next(m for m in messages if m.WhichOneof("type") == "navigation")
    return {page.url_pathname for page in found.navigation.app_pages}


def session_of(messages):
    """Which session the server runs the page in."""
    found = next(m for m in messages if m.WhichOneof("type") == "new_session")
    return found.new_session.initialize.session_id


@pytest.fixture(scope="module")
def brewer(lan):
    """A browser in which the brewers' passphrase was typed."""
    return signed_in(lan, BREWERS)


def test_a_live_page_of_a_brewer_lists_and_sends_the_brewers_pages_alone(brewer):
    with live(brewer) as page:
        first = sent_for(page)
        assert listed(first) == {"", "fit-today", "around-the-table", "how-sure"}
        assert "Fit today" in words_of(first)


@pytest.mark.parametrize("asked", ["people", "record", "history", "seats", "board", "decision"])
def test_a_leaders_page_asked_for_by_its_hash_is_refused_before_it_runs(brewer, asked):
    with live(brewer) as page:
        words = words_of(sent_for(page, asked))
    assert "This page is the leader" in words
    assert "can be asked" not in words
    assert not [name for name in NAMES if name in words]


def test_the_same_question_opens_it_for_the_leader(lan):
    with live(signed_in(lan, PASSPHRASE)) as page:
        words = words_of(sent_for(page, "people"))
    assert "Put people on the panel" in words
    assert NAMES[0] in words


def test_a_leaders_earlier_session_is_not_gone_on_with(lan, brewer):
    leader = signed_in(lan, PASSPHRASE)
    with live(leader) as page:
        session = session_of(sent_for(page))
    with live(brewer, "token", session) as page:
        assert session_of(sent_for(page)) != session
    with live(leader, "token", session) as page:
        assert session_of(sent_for(page)) == session


def test_a_ticket_given_back_ends_the_live_page(lan):
    browser = signed_in(lan, BREWERS)
    with live(browser) as page:
        sent_for(page)
        assert browser.ask("POST", "/door/leave")[0] == 303
        with pytest.raises(ConnectionClosed):
            sent_for(page)
    with pytest.raises(Exception, match="401|403"):
        live(browser)


def test_pages_downloads_and_uploads_of_the_leader_are_closed(brewer):
    for path in ("/people", "/media/0.pdf", "/component/x/y.js", "/_stcore/metrics"):
        assert brewer.ask("GET", path, Accept="text/html")[0] == 403
    assert brewer.ask("PUT", "/_stcore/upload_file/a/b", "x")[0] == 403
    assert brewer.ask("GET", "/fit-today", Accept="text/html")[0] == 200
