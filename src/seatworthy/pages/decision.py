"""One signed decision: what was granted, by whom, on what, and whether it can be shown again."""

from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import SEATS, asked_word, record_address
from seatworthy.pages.figures import whole_day
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.record_table import rules_table
from seatworthy.pages.shelf_parts import listing
from seatworthy.pages.word import said_table
from seatworthy.phrases import NO_SUCH_DECISION, STANDING_WORDS, STATE_WORDS
from seatworthy.steps.decision_views import DecisionView, Recomputed
from seatworthy.steps.decisions import decisions, recomputed
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.proposals import replies_to
from seatworthy.steps.sentences import the_beers


def show() -> None:
    """Draw the decision that the address names."""
    desk, asked = source.the_desk(), asked_word("decision")
    found = next((one for one in decisions(desk) if one.decision_id == asked), None)
    if found is None:
        way = tag("a", "To the seats", href=SEATS, target="_self", class_="way")
        st.html(paper(tag("h1", escaped(NO_SUCH_DECISION), class_="answer"), tag("p", way)))
        return
    with st.spinner("Judging that day again"):
        again = recomputed(desk, found.decision_id)
    until = f" until {whole_day(found.until_on)}" if found.until_on else ""
    answer = (
        f"{found.signer} signed for {found.name} on {whole_day(found.signed_at.date())}: "
        f"{STATE_WORDS[found.state]}{until}, for {the_beers(found.family_label)}"
    )
    where = ["Decision", f"record entry {found.entry_no}"]
    catch = "" if again.matches else "it cannot be shown again from what is on record"
    st.html(opening(where, answer, catch, again.sentence))
    st.html(paper(_facts(found), class_="proof"))
    st.html(paper(tag("h2", "That day, judged again"), _again(again), class_="proof"))
    if said := replies_to(desk, found.proposal_id):
        st.html(paper(tag("h2", "What the person said"), said_table(said), class_="proof"))
    if since := _since(found):
        st.html(paper(tag("h2", "Recorded since about this person"), since, class_="proof"))
    if found.compounds:
        st.html(paper(tag("h2", "Compounds on that day"), _compounds(found), class_="proof"))
    _ways(found)


def _facts(one: DecisionView) -> str:
    proposed = STATE_WORDS[one.proposed] if one.proposed else "nothing"
    own = ", for themselves" if one.is_own else ""
    lines = (
        ("Decision", f"{STATE_WORDS[one.state]}, from {whole_day(one.from_on)}"
                     + (f" until {whole_day(one.until_on)}" if one.until_on else "")),
        ("The rules proposed", proposed),
        ("Reason", one.reason or "as proposed, none asked for"),
        ("Signed by", f"{one.signer}{own}, {one.signed_at:%Y-%m-%d %H:%M}"),
        ("Rulebook", f"{one.rulebook} ({one.rulebook_digest[:16]})"),
        ("Model", one.model_version),
        ("Glasses up to", whole_day(one.as_of_on)),
        ("Digest of the facts", one.facts_digest),
    )  # fmt: skip
    rows = [tag("dt", escaped(head)) + tag("dd", escaped(words)) for head, words in lines]
    return tag("dl", "".join(rows), class_="said digests")


def _again(again: Recomputed) -> str:
    lines = "".join(tag("li", escaped(sentence)) for sentence in again.changed)
    changed = tag("ul", lines, class_="hindrances") if lines else ""
    return rules_table((again.verdict_then, again.verdict_now)) + changed


def _since(one: DecisionView) -> str:
    """Acts about the person after the signature, the newest first."""
    lines = [
        line for line in history_lines(source.the_desk(), who=one.person_id).lines
        if line.entry_no > one.entry_no and one.person_id in line.concerned
    ]  # fmt: skip
    rows = [
        (
            str(line.entry_no),
            whole_day(line.recorded_at.date()),
            escaped(line.what),
            escaped(line.who),
        )
        for line in lines[:_SHOWN]
    ]
    more = tag("p", f"And {len(lines) - _SHOWN} before these.", class_="note")
    heads = ("Entry", "Recorded", "What happened", "By")
    return listing(heads, rows) + (more if len(lines) > _SHOWN else "") if rows else ""


_SHOWN: Final = 8


def _compounds(one: DecisionView) -> str:
    rows = [
        (
            mark(line.standing) + " " + escaped(line.label),
            STANDING_WORDS[line.standing],
            whole_day(line.until_on) if line.until_on else "",
        )
        for line in one.compounds
    ]
    return listing(("Compound", "Standing", "Stands until"), rows, "brief")


def _ways(one: DecisionView) -> None:
    record = record_address(one.person_id, family=one.family, on=one.as_of_on)
    ways = (
        tag(
            "a",
            escaped(f"{one.name}'s record on that day"),
            href=record,
            target="_self",
            class_="way",
        ),
        tag("a", "All seats", href=SEATS, target="_self", class_="way"),
    )
    st.html(paper(tag("p", "".join(ways), class_="ways")))
