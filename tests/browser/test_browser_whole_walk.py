"""The whole job on the sample brewery, by hand and eye alone: from what to pour to a restored record.

It also takes the pictures of the README, where SEATWORTHY_PICTURES names a folder for them.
"""

import os
import re
from pathlib import Path

import pytest
import walk_decisions as decisions
import walk_record as record
import walk_training as training
from served_sessions import PASSPHRASE
from walk_hands import Brewery, Leader
from walk_tour import QUESTIONS, first_sentences

from seatworthy.pages import addresses
from seatworthy.steps import roles
from seatworthy.steps.demo import plan_today, set_up_demo
from seatworthy.steps.desk import open_desk
from seatworthy.steps.passphrase import set_passphrase

pytestmark = pytest.mark.browser

PICTURES = "SEATWORTHY_PICTURES"  # a folder; without it no picture is taken


@pytest.fixture
def brewery(tmp_path):
    """The sample brewery, with a session planned for today and a passphrase."""
    store = tmp_path / "brewery" / "panel.duckdb"
    set_up_demo(store)
    desk = open_desk(store)
    plan_today(desk)
    set_passphrase(desk, PASSPHRASE)
    desk.close()
    served = Brewery(store)
    served.start()
    yield served
    served.stop()


@pytest.fixture
def leader(browser, brewery):
    folder = os.environ.get(PICTURES)
    reader = Leader(browser, brewery.address, Path(folder) if folder else None)
    yield reader
    reader.context.close()


def test_the_whole_job_is_walked_in_one_day(browser, brewery, leader, tmp_path):
    then = record.last_month(leader)
    train(browser, leader)
    who = decide(browser, leader)
    record.print_the_record(leader, who)
    assert record.last_month(leader) == then
    for path, sentence in first_sentences(leader).items():
        print(f"{path or 'board'}: {sentence}")
    board = record.board_read(leader)
    other = record.save_and_restore(leader, brewery, tmp_path)
    record.the_same_is_read(browser, brewery, other, board)


def test_every_page_of_the_leaders_has_its_question():
    """The list that is opened after the walk is the list of the page script."""
    script = Path(addresses.__file__).with_name("script.py").read_text(encoding="utf-8")
    listed = script.partition("def _leaders")[2].partition("\ndef ")[0]
    named = re.findall(r"url_path=([A-Z_]+)", listed)
    paths = {getattr(addresses, name, None) or getattr(roles, name) for name in named}
    assert paths == QUESTIONS.keys() - {""}


def train(browser, leader):
    """A training, from what to pour next to the board that it changed."""
    training.welcome_a_newcomer(leader)
    training.choose_what_to_pour(leader)
    training.plan_it_for_today(leader)
    training.prepare_every_vessel(leader)
    links, key = training.hand_out_the_links(leader)
    phones = training.answer_by_phone_and_on_paper(leader, browser, links, key)
    leader.follow("To the session", "session?*")
    training.close_it(leader)
    changes = training.see_what_changed(leader)
    training.tell_the_newcomer(leader, phones)
    training.see_the_board_changed(leader, changes)
    phones.close()


def decide(browser, leader):
    """Seats, a panel, a tank and what it has; who was seated first."""
    decisions.appoint_a_signer(leader)
    who = decisions.seat_somebody(leader)
    decisions.seat_the_others(leader)
    decisions.choose_the_panel(leader)
    links, key = decisions.plan_the_release(leader)
    phones = decisions.judge_the_tank(leader, browser, links, key)
    decisions.talk_it_over(leader, phones, key)
    training.close_it(leader)
    decisions.weigh_the_call(leader)
    phones.close()
    return who
