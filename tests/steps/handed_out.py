"""Ballots in people's hands, for tests: links of a planned session, and forms filled in."""

from seatworthy.steps.ballot_links import hand_out, links
from seatworthy.steps.ballot_views import FormAnswer
from seatworthy.steps.ballots import answer, ballot


def secrets_of(desk, session_id):
    """Secret by name, links made where there are none."""
    hand_out(desk, session_id)
    return {line.name: line.secret for line in links(desk, session_id)}


def say(desk, secret, place, choice="", words="", sureness="", seen=None, rating=""):
    """Send a form, drawn just now unless ``seen`` says otherwise."""
    if seen is None:
        seen = next((g.answers for g in ballot(desk, secret).glasses if g.place == place), 0)
    return answer(desk, secret, place, FormAnswer(choice, words, rating, sureness, seen))


def stored(desk, table="answer"):
    """How many rows a table holds."""
    return desk.store.cursor().execute(f"select count(*) from {table}").fetchone()[0]
