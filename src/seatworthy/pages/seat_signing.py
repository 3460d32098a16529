"""One seat: its reasons, the word of the person concerned, and the signature."""

from datetime import date
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import asked_word, word_address
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, plain_markdown, tag
from seatworthy.pages.reason_tree import reason_tree
from seatworthy.pages.shelf_parts import cleared, written
from seatworthy.pages.signature import choose_signer, signature
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.phrases import REASON_FOR_AN_AUDITOR, STATE_WORDS
from seatworthy.steps.decision_views import ProposalView
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.judging import judge_day
from seatworthy.steps.proposals import put_forward
from seatworthy.steps.reasons import reasons
from seatworthy.steps.seats_page import SeatsView
from seatworthy.steps.sentences import number_word, the_beers
from seatworthy.steps.signers import signers
from seatworthy.steps.signing_many import sign_as_proposed, signed_together

_SIGNABLE: Final = ("qualified", "probation", "trainee", "paused", "suspended", "withdrawn")
_WITHOUT_END: Final = ("trainee", "withdrawn")
_PLACE: Final = "seat"
EVERY_PLAIN_ONE: Final = "all"


def offer_decision(view: SeatsView) -> None:
    """Draw one seat: chosen from those that wait, or any other."""
    st.html(paper(tag("h2", "Decide about a seat"), class_="proof"))
    person, family = _choose(view)
    one = _proposal_of(view, person, family)
    _show_reasons(person, family)
    if one is not None:
        _put(one, view)
    _sign(view, person, family, one)
    show_told(_PLACE)


def offer_to_sign_all(view: SeatsView) -> None:
    """Draw the way to sign everything that takes nothing from anybody, with one PIN."""
    plain = signed_together(view.waiting, signers(source.the_desk()))
    if len(plain) < 2:
        return
    with st.expander(f"Sign {number_word(len(plain))} of them as proposed, at once"):
        st.html(paper(tag("p", escaped(_AT_ONCE), class_="note")))
        with st.form("sign_all", border=False):
            can_sign = choose_signer(EVERY_PLAIN_ONE)
            step = partial(_record_all, plain)
            st.form_submit_button("Sign as proposed", on_click=step, disabled=not can_sign)


_AT_ONCE: Final = (
    "Each becomes a decision of its own. Left out: whatever takes a seat away, asks for a recheck, or "
    "rests on facts that changed since the person saw it. Nobody signs for themselves here."
)


def _record_all(shown: tuple[ProposalView, ...]) -> None:
    signer, pin = signature(EVERY_PLAIN_ONE)
    act(
        EVERY_PLAIN_ONE, partial(sign_as_proposed, source.the_desk(), shown, signer=signer, pin=pin)
    )


def _choose(view: SeatsView) -> tuple[str, str]:
    names, families = labels_told_apart(view.people), labels_told_apart(view.families)
    _start(view)
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        person = st.selectbox("Whose seat", list(names), format_func=names.get, key=_WHO, width=260)
        family = st.selectbox(
            "For", list(families), format_func=families.get, key=_FAMILY, width=260
        )
    return person, family


_WHO, _FAMILY, _STARTED = f"{_PLACE}_who", f"{_PLACE}_family", f"{_PLACE}_started"


def _start(view: SeatsView) -> None:
    """Begin with the seat that the address names, else the first that waits; then keep the choice."""
    asked = (asked_word("who"), asked_word("family"))
    people, families = ([one.key for one in some] for some in (view.people, view.families))
    if st.session_state.get(_STARTED) == asked and st.session_state.get(_WHO) in people:
        return
    first = view.waiting[0] if view.waiting else None
    start = asked if all(asked) else (first and first.person_id, first and first.family)
    st.session_state[_STARTED] = asked
    st.session_state[_WHO] = start[0] if start[0] in people else people[0]
    st.session_state[_FAMILY] = start[1] if start[1] in families else families[0]


def _proposal_of(view: SeatsView, person: str, family: str) -> ProposalView | None:
    return next(
        (one for one in view.waiting if (one.person_id, one.family) == (person, family)), None
    )


def _show_reasons(person: str, family: str) -> None:
    desk = source.the_desk()
    tree = reasons(desk, judge_day(desk), person, family)
    st.html(paper(reason_tree(tree), class_="proof"))


def _put(one: ProposalView, view: SeatsView) -> None:
    if one.put is not None:
        st.html(paper(_word_of(one)))
        if not one.put.facts_changed:
            return
    again = " again" if one.put is not None else ""
    people = {person.key: person.label for person in view.people}
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        st.selectbox(
            "Put forward by (may stay empty)", list(people), format_func=people.get, index=None,
            placeholder="Nobody named", key="put_by", width=260,
        )  # fmt: skip
        step = partial(_put_forward, one.person_id, one.family)
        words = f"Put it before {plain_markdown(one.name)}{again}"
        st.button(words, key="put_forward", on_click=step)


def _word_of(one: ProposalView) -> str:
    """What the person concerned said, with the way to their page."""
    put = one.put
    if put is None:
        return ""
    way = tag("a", "their page", href=word_address(put.proposal_id), target="_self", class_="way")
    words = [f"{one.name}: “{said.words}”" for said in put.replies if said.words]
    if put.recheck_open:
        words.append(f"{one.name} asks for a recheck; whoever signs before it must say why.")
    lines = "".join(tag("p", escaped(line), class_="told") for line in words)
    since = "Put before them, no word yet: " if not put.replies else "Put before them: "
    return lines + tag("p", since + way, class_="note")


def _put_forward(person: str, family: str) -> None:
    act(_PLACE, partial(_put_sentence, person, family, st.session_state.get("put_by")))


def _put_sentence(person: str, family: str, by: str | None) -> str:
    put_forward(source.the_desk(), person, family, by)
    return "It stands on a page of its own now, for the person to read and answer."


def _sign(view: SeatsView, person: str, family: str, one: ProposalView | None) -> None:
    seat = f"{person}_{family}"
    proposed = one.proposed if one else None
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        state = st.selectbox(
            "Decision", _SIGNABLE, format_func=STATE_WORDS.get, key=f"state_{seat}", width=260,
            index=_SIGNABLE.index(proposed) if proposed in _SIGNABLE else None,
            placeholder="Choose one",
        )  # fmt: skip
        if state is not None and state not in _WITHOUT_END:
            st.date_input(
                "Last day", value=one.until_on if one and one.until_on else None, width=200,
                format="YYYY-MM-DD", key=f"until_{seat}", min_value=view.as_of,
            )  # fmt: skip
    label = "Reason (where it differs from the proposal, or is asked for)"
    what = STATE_WORDS[state] if state else "nothing chosen yet"
    words = f"Sign: {what}, {plain_markdown(the_beers(dict(_pairs(view))[family]))}"
    step = partial(_record, person, family, one)
    with st.form(f"sign_{seat}", border=False):
        st.text_area(label, key=f"reason_{seat}", height=80, help=REASON_FOR_AN_AUDITOR)
        can_sign = choose_signer(_PLACE)
        st.form_submit_button(words, type="primary", on_click=step,
                              disabled=not (can_sign and state))  # fmt: skip


def _pairs(view: SeatsView) -> list[tuple[str, str]]:
    return [(family.key, family.label) for family in view.families]


def _record(person: str, family: str, one: ProposalView | None) -> None:
    signer, pin = signature(_PLACE)
    seat = f"{person}_{family}"
    state = written(f"state_{seat}")
    until: date | None = st.session_state.get(f"until_{seat}")
    step = partial(
        _signed,
        person_id=person,
        family=family,
        state=state,
        until_on=None if state in _WITHOUT_END else until,
        reason=written(f"reason_{seat}"),
        signer=signer,
        pin=pin,
        expected_facts_digest=one.facts_digest if one else None,
    )
    if act(_PLACE, step):
        cleared(f"reason_{seat}")
        st.session_state[f"state_{seat}"] = st.session_state[f"until_{seat}"] = None


def _signed(**decision: object) -> str:
    sign_decision(source.the_desk(), **decision)  # type: ignore[arg-type]
    return "Signed and on record. It is never changed; a later decision stands beside it."
