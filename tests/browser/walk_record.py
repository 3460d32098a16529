"""The end of the walk: the record printed, a past day asked again, the store saved and restored."""

import re
from datetime import date, timedelta

from walk_hands import Brewery, Leader, read

DAYS_AGO = 30


def last_month(leader):
    """What the board says of a day a month ago, by today's record and as it stood that evening."""
    on = date.today() - timedelta(days=DAYS_AGO)
    found = []
    for question in ("", "&read=then"):
        leader.open(f"?on={on.isoformat()}{question}")
        found.append(leader.whole())
    assert "By today's record." in found[0]
    assert found[0] != found[1]
    return found


def print_the_record(leader, who):
    """The competence record on paper; it ends with the digest that the history ends with."""
    leader.open("history")
    words = leader.reads("The chain adds up")
    newest = re.search(r"The newest is record entry \d+, ([0-9a-f]{4}(?: [0-9a-f]{4}){3})", words)
    leader.open("")
    leader.page.locator("th.who a", has_text=re.compile(f"^{who}$")).click()
    leader.page.wait_for_url("**/record?who=*")
    leader.settle()
    leader.says(f"^{who} can sit for the pale lagers until ")
    leader.look("12-record")
    sheets = leader.paper("PDF")
    assert sheets[0].startswith("Competence record")
    assert who in sheets[0]
    text = " ".join("\n".join(sheets).split())
    assert newest.group(1) in text
    assert "Gwen" in text


def save_and_restore(leader, brewery, folder):
    """A copy made on its page, checked there, and the store made from it anew under another name.

    Returns:
        The other brewery, not started.
    """
    leader.open("safekeeping")
    leader.says("^The record ")
    leader.press("Back up now")
    leader.told("equal")
    head = re.search(r"record entry \d+, [0-9a-f ]+[0-9a-f]", leader.whole()).group()
    copies = (brewery.store.parent / "backups").glob("*.duckdb")
    saved = max(copies, key=lambda path: path.stat().st_mtime_ns)
    assert leader.outside == leader.complaints == []
    leader.page.goto("about:blank")  # a page that stays open would miss its server
    brewery.stop()
    other = folder / "restored" / "panel.duckdb"
    other.parent.mkdir()
    brewery.told("restore", saved, "--store", other)
    assert head in brewery.told("verify", "--store", other)
    return Brewery(other)


def board_read(leader):
    """The sentence of the board, and every cell of it."""
    leader.open("")
    return leader.says(r"\.$"), read(leader.page.locator("table.board"))


def the_same_is_read(browser, brewery, other, board):
    """The restored store is opened: the same board, the same decisions under the same digests."""
    decisions = brewery.decisions()
    assert len(decisions) >= 2
    assert other.decisions() == decisions
    other.start()
    try:
        leader = Leader(browser, other.address)
        assert board_read(leader) == board
        leader.open("seats")
        leader.says("nothing waits for a signature")
        assert leader.complaints == []
        leader.context.close()
    finally:
        other.stop()
