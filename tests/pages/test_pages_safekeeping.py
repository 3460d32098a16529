"""The page on which copies are made, and the quiet word elsewhere that one is due."""

import pytest
from invented_session import button, html_of, started

from seatworthy.errors import StoreDamaged
from seatworthy.pages import source
from seatworthy.steps import safety
from seatworthy.steps.last_copy import forget_checks
from seatworthy.steps.panel import add_people
from seatworthy.store.copies import copies_of, folder_of


@pytest.fixture
def kept(desk, monkeypatch):
    """The desk that the page reads."""
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    forget_checks()
    return desk


def test_a_record_without_a_copy_says_so_first(kept):
    html = html_of(started("safekeeping"))
    assert "The record adds up, but has no copy; <em>make one now.</em>" in html
    assert str(folder_of(kept.store.path)) in html
    assert "kept for 30 days" in html


def test_a_copy_is_made_with_one_click_and_listed(kept):
    page = started("safekeeping")
    button(page, "Back up now").click().run()
    assert not page.exception
    (copy,) = copies_of(kept.store.path)
    html = html_of(page)
    assert f"{copy.path.name} was written and compared with the record table by table" in html
    assert "The record is safe; its last good copy was made " in html
    assert "good: read and equal" in html


def test_a_copy_that_cannot_be_made_is_a_sentence(kept):
    folder_of(kept.store.path).write_text("a file where the folder should be")
    page = started("safekeeping")
    button(page, "Back up now").click().run()
    assert not page.exception
    assert "for backups could not be made" in html_of(page)


def test_everything_is_checked_with_one_click(kept):
    safety.back_up_now(kept)
    page = started("safekeeping")
    button(page, "Read and check everything again").click().run()
    assert "All was read again and is as it was sealed" in html_of(page)


def test_what_does_not_add_up_stands_in_the_sentence_on_top(kept):
    safety.back_up_now(kept)
    with kept.store.reading() as cursor:
        cursor.execute("update synonym set words = 'other'")
    page = started("safekeeping")
    html = html_of(page)
    assert "The record does not add up; <em>restore its last good copy.</em>" in html
    assert "seatworthy restore" in html
    button(page, "Read and check everything again").click().run()
    assert not page.exception
    assert "facts of entry 1" in html_of(page)


def test_words_of_a_damaged_file_are_never_markup(kept, monkeypatch):
    def refuse(desk):
        message = "<img src=x onerror=alert(1)>"
        raise StoreDamaged(message)

    monkeypatch.setattr(safety, "check_all", refuse)
    page = started("safekeeping")
    button(page, "Read and check everything again").click().run()
    assert "<img" not in html_of(page)


def test_the_history_leads_to_the_page_and_reminds(kept):
    assert 'href="safekeeping"' in html_of(started("happened"))
    add_people(kept, ["Maren Thode"], since_on=None)
    assert "There is no copy of this record yet." in html_of(started("happened"))


@pytest.mark.usefixtures("invented_panel")
def test_the_board_reminds_only_when_there_is_something_to_say(run_script, monkeypatch):
    assert "safekeeping" not in html_of(run_script())
    monkeypatch.setattr(source, "copy_reminder", lambda: "The newest copy is <b>old</b>.")
    html = html_of(run_script())
    assert "The newest copy is &lt;b&gt;old&lt;/b&gt;." in html
    assert 'href="safekeeping"' in html
