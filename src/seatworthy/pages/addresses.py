"""The addresses of pages, so that every view can be sent to a colleague."""

from collections.abc import Iterable
from datetime import date
from urllib.parse import urlencode, urlsplit

import streamlit as st

from seatworthy.network.settings import base_address

BOARD = "./"
RECORD = "record"
SESSIONS = "sessions"
PLAN = "plan"
SESSION = "session"
PREPARE = "prepare"
ANSWERS = "answers"
PHONES = "phones"  # "reach" is what a phone asks for, which is no page of the leader's
REVEAL = "reveal"
FEEDBACK = "feedback"
JUGS = "jugs"
SHELF = "shelf"
BENCH = "bench"
PEOPLE = "people"
KEPT = "kept"
SIGNERS = "people?first=signers"  # a fragment is not followed, since the page comes in parts
SEATS = "seats"
WORD = "word"
DECISION = "decision"
RULEBOOK = "rulebook"
MISS = "miss"
SURE = "sure"
NEXT = "next"
MONTHS = "months"
HISTORY = "history"
SAFEKEEPING = "safekeeping"
READ = "read"
AS_IT_STOOD = "then"
RELEASE, KNOWN_BEER = "release", "beer"  # what is planned, besides a session of its own make
_LOOPBACK = ("127.0.0.1", "localhost", "::1")


def board_address(*, family: str | None = None, on: date | None = None) -> str:
    """Where the board of a beer family stands, for today where ``on`` is None."""
    return BOARD + _query(family=family, on=on)


def record_address(
    person_id: str, *, family: str, on: date | None = None, compound: str | None = None
) -> str:
    """Where one panellist's record stands, opened at a compound if one is given."""
    return RECORD + _query(who=person_id, family=family, on=on, compound=compound)


def kept_address(person_id: str) -> str:
    """Where stands what is kept about somebody."""
    return KEPT + _query(who=person_id)


def next_address(person_id: str | None = None, family: str | None = None) -> str:
    """Where the next session is proposed, for a person if one is given, else for the panel."""
    return NEXT + _query(who=person_id, family=family)


def plan_address(again: str | None = None) -> str:
    """Where a session is planned, starting from an earlier one if its id is given."""
    return PLAN + _query(again=again)


def release_address(batch: str | None = None, people: Iterable[str] = ()) -> str:
    """Where a release sitting is planned, starting from a batch and from people if given."""
    return PLAN + _query(kind=RELEASE, batch=batch, who=",".join(people) or None)


def known_beer_address() -> str:
    """Where a session is planned that asks whether people know a beer."""
    return PLAN + _query(kind=KNOWN_BEER)


def sure_address(sample_id: str) -> str:
    """Where what was said of a beer is weighed."""
    return SURE + _query(sample=sample_id)


def call_address(weighing_id: str) -> str:
    """Where one weighed call that was kept stands."""
    return SURE + _query(call=weighing_id)


def session_address(session_id: str) -> str:
    """Where one session stands."""
    return SESSION + _query(session=session_id)


def prepare_address(session_id: str) -> str:
    """Where the preparation of a session is ticked off."""
    return PREPARE + _query(session=session_id)


def answers_address(session_id: str, sheet: str | None = None) -> str:
    """Where the answers of a session are entered, opened at a sheet if its key is given."""
    return ANSWERS + _query(session=session_id, sheet=sheet)


def reveal_address(session_id: str) -> str:
    """Where stands what was in the glasses of a closed session."""
    return REVEAL + _query(session=session_id)


def feedback_address(session_id: str, person_id: str | None = None) -> str:
    """Where somebody's own page about a closed session stands."""
    return FEEDBACK + _query(session=session_id, who=person_id)


def seat_address(person_id: str, family: str) -> str:
    """Where a decision about one seat is signed."""
    return SEATS + _query(who=person_id, family=family)


def word_address(proposal_id: str) -> str:
    """Where the person concerned reads a proposal and answers it."""
    return WORD + _query(proposal=proposal_id)


def decision_address(decision_id: str) -> str:
    """Where one signed decision stands."""
    return DECISION + _query(decision=decision_id)


def panel_address(panel_id: str) -> str:
    """Where one panel that was kept stands."""
    return MISS + _query(panel=panel_id)


def ballot_address(secret: str) -> str:
    """Where somebody's ballot stands, as their phone asks for it."""
    return f"{base_address()}/b/{secret}"


def reach_address() -> str:
    """What a phone opens to see whether it reaches this computer."""
    return f"{base_address()}/reach"


def is_for_this_machine_only() -> bool:
    """Whether the server listens to this computer alone, so that no phone reaches it."""
    return urlsplit(base_address()).hostname in _LOOPBACK


def asked_word(name: str) -> str | None:
    """What the address in the browser says for ``name``; None where it says nothing."""
    return st.query_params.get(name) or None


def asked_day() -> date | None:
    """The day the address asks for; None, which means today, where it names no day."""
    try:
        return date.fromisoformat(asked_word("on") or "")
    except ValueError:
        return None


def asked_as_recorded() -> bool:
    """Whether the address asks for the record as it stood on the evening of its day."""
    return asked_word(READ) == AS_IT_STOOD


def _query(**parts: str | date | None) -> str:
    said = {name: str(value) for name, value in parts.items() if value}
    if "on" in said and asked_as_recorded():  # the question goes along with its day
        said[READ] = AS_IT_STOOD
    return f"?{urlencode(said)}" if said else ""
