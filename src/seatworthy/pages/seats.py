"""Seats: proposals that wait for a signature first, then who holds one, and what falls due."""

from collections.abc import Sequence

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import (
    PLAN,
    SEATS,
    asked_day,
    asked_word,
    decision_address,
    record_address,
    seat_address,
    word_address,
)
from seatworthy.pages.choices import choose_day, choose_record
from seatworthy.pages.figures import short_day, whole_day
from seatworthy.pages.frame import opening, other_day, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.seat_signing import EVERY_PLAIN_ONE, offer_decision, offer_to_sign_all
from seatworthy.pages.shelf_parts import listing
from seatworthy.pages.telling import show_told
from seatworthy.phrases import DECISION_CARE, STATE_WORDS
from seatworthy.steps.decision_views import DecisionView, DueLine, ProposalView
from seatworthy.steps.seats_page import SeatLine, SeatsView


def show() -> None:
    """Draw all seats of the brewery, and the way to sign."""
    on = asked_day()
    view = source.seats(on)
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        st.html(opening(["Seats", whole_day(view.as_of)], view.answer, view.catch, view.lead))
        if on is not None:
            st.html(other_day(whole_day(view.as_of), source.record_words(on), SEATS))
    with choices:
        choose_day(on)
        choose_record(on)
    show_told(EVERY_PLAIN_ONE)
    parts = [_show_waiting] if view.waiting else []
    if view.families and on is None:
        # A seat that the address names comes before the list it was chosen from.
        parts.insert(0 if asked_word("who") else len(parts), offer_decision)
    for show_part in parts:
        show_part(view)
    if view.seats:
        st.html(paper(tag("h2", "Seats"), _seats(view), class_="proof"))
    if view.due:
        st.html(paper(tag("h2", "What falls due"), _due(view), class_="proof"))
    if view.decisions:
        st.html(paper(tag("h2", "Everything signed"), _decisions(view), class_="proof"))
    st.html(paper(tag("p", escaped(DECISION_CARE), class_="note")))


def _show_waiting(view: SeatsView) -> None:
    st.html(paper(tag("h2", "Waiting for a signature"), _waiting(view), class_="proof"))
    offer_to_sign_all(view)


def _waiting(view: SeatsView) -> str:
    heads = ("Who", "For", "Now", "Proposed", "Why", "Said by the person")
    return listing(heads, [_proposal(one, view) for one in view.waiting], "waiting")


def _proposal(one: ProposalView, view: SeatsView) -> tuple[str, ...]:
    address = record_address(one.person_id, family=one.family)
    name = tag("a", escaped(one.name), href=address, target="_self", class_="way")
    until = f" until {short_day(one.until_on, view.as_of)}" if one.until_on else ""
    words = tag("b", escaped(f"{STATE_WORDS[one.proposed]}{until}"))
    here = seat_address(one.person_id, one.family)
    proposed = tag("a", words, href=here, target="_self", class_="way")
    return (
        name, escaped(one.family_label), escaped(STATE_WORDS[one.state]), proposed,
        escaped(one.sentence) + tag("i", escaped(one.change)), _heard(one),
    )  # fmt: skip


def _heard(one: ProposalView) -> str:
    """How far the proposal has come with the person concerned."""
    if one.put is None:
        return "not put before them yet"
    address = word_address(one.put.proposal_id)
    way = tag("a", "their page", href=address, target="_self", class_="way")
    if one.put.recheck_open:
        plan = tag("a", "plan it", href=PLAN, target="_self", class_="way")
        return f"{tag('b', 'asks for a recheck')} {plan} {way}"
    last = one.put.replies[-1] if one.put.replies else None
    said = {None: "put before them, no word yet", "seen": "seen", "remark": "left a remark",
            "recheck": "recheck done since", "withdrawn": "took the wish for a recheck back"}  # fmt: skip
    changed = "; the facts changed since" if one.put.facts_changed else ""
    return f"{escaped(said[last.kind if last else None] + changed)} {way}"


def _seats(view: SeatsView) -> str:
    heads = ("Who", "For", "State", "Since", "Until", "Signed by", "Today's glasses")
    return listing(heads, [_seat(line, view) for line in view.seats], "brief")


def _seat(line: SeatLine, view: SeatsView) -> tuple[str, ...]:
    address = decision_address(line.decision_id)
    name = tag("a", escaped(line.name), href=address, target="_self", class_="way")
    until = short_day(line.until, view.as_of) if line.until else ""
    return (
        name, escaped(line.family_label), escaped(line.state),
        _on_a_line(short_day(line.since, view.as_of) if line.since else ""),
        _on_a_line(tag("b", f"{until}, due") if line.is_due and until else until),
        escaped(line.signer),
        escaped(line.words),
    )  # fmt: skip


def _on_a_line(day: str) -> str:
    return tag("span", day, class_="day")


def _due(view: SeatsView) -> str:
    return listing(("Day", "What", "Who"), [_due_line(line, view) for line in view.due])


def _due_line(line: DueLine, view: SeatsView) -> Sequence[str]:
    who = ""
    if line.person_id:
        address = record_address(line.person_id, family=line.family)
        who = tag("a", escaped(line.name), href=address, target="_self", class_="way")
    return _on_a_line(short_day(line.on, view.as_of)), escaped(line.sentence), who


def _decisions(view: SeatsView) -> str:
    heads = ("Signed", "Who", "For", "Decision", "By", "Reason")
    return listing(heads, [_decision(one) for one in view.decisions], "brief")


def _decision(one: DecisionView) -> tuple[str, ...]:
    address = decision_address(one.decision_id)
    day = tag("a", whole_day(one.signed_at.date()), href=address, target="_self", class_="way")
    until = f" until {whole_day(one.until_on)}" if one.until_on else ""
    state = STATE_WORDS[one.state] + until + ("" if one.is_as_proposed else ", not as proposed")
    return (
        day, escaped(one.name), escaped(one.family_label), escaped(state), escaped(one.signer),
        escaped(one.reason),
    )  # fmt: skip
