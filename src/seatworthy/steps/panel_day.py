"""The panel on one day for one beer family: who was seated, who wasn't and why, and what it covers."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime
from typing import Final

from seatworthy.phrases import STANDING_WORDS
from seatworthy.rules.panel import PanelVerdict, judge_panel
from seatworthy.rules.rulebook import Item
from seatworthy.rules.seat_states import SeatState, State
from seatworthy.rules.verdict import Standing
from seatworthy.steps.audit_views import (
    OWN_ANSWERS,
    SUPPORTS_ONLY,
    AuditColumn,
    AuditPaper,
    AuditSection,
    AuditTable,
    question_words,
)
from seatworthy.steps.audit_words import audit_file_name, brewery_name, rules_came_later
from seatworthy.steps.chain_head import chain_head
from seatworthy.steps.decision_views import DecisionView
from seatworthy.steps.decisions import decisions
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import plain_day
from seatworthy.steps.judging import Judged, family_named, judge_day
from seatworthy.steps.labels import item_label
from seatworthy.steps.panel_day_grounds import NOBODY_SEATED, TOO_FEW, PanelGrounds
from seatworthy.steps.seat_words import state_word
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start, the_beers
from seatworthy.steps.spreadsheet import Cell
from seatworthy.steps.who_sits import who_sits

TITLE: Final = "The panel on a day"
MAY_SEE: Final = "the panel leader and an auditor may see it; each panellist their own line"
EVERYBODY_SEATED: Final = "Everybody on record held a seat that day."
_SIGN_OFF: Final = ("Panel leader, name and date", "Auditor, date")


def panel_day(
    desk: Desk,
    *,
    family: str | None = None,
    as_of: date | None = None,
    known_at: datetime | None = None,
) -> AuditPaper | None:
    """The panel of one beer family at the end of one day.

    Args:
        desk: The open store.
        family: Key or label of a beer family; None for the most tasted.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.

    Returns:
        None if nothing is on record.

    Raises:
        PanelError: if there is no such family, or the day is still to come.
    """
    judged = judge_day(desk, as_of, known_at)
    if not judged.people or not judged.families:
        return None
    return _PanelDay(
        desk, judged, family_named(judged, family) or next(iter(judged.families))
    ).paper()


def panel_file_name(desk: Desk, family: str, as_of: date, known_at: datetime | None) -> str:
    """What the file of such a paper is called, without its ending."""
    return audit_file_name(desk, as_of, f"panel-{family}", known_at)


def _panel_of_nobody(judged: Judged, family: str) -> PanelVerdict:
    """The panel before the first signature: people may meet the rules, but nobody was seated."""
    return judge_panel(judged.critical[family], (), judged.rulebook.panel)


class _PanelDay:
    """One paper in the making."""

    def __init__(self, desk: Desk, judged: Judged, family: str) -> None:
        self._desk, self._judged, self._family = desk, judged, family
        who = who_sits(desk, judged, family)
        self._states: Mapping[str, SeatState | None] = {
            person: who.states.get(person) for person in judged.people
        }
        self._seated = [p for p, state in self._states.items() if state and state.holds_seat]
        self._panel = who.panel() if who.is_signed else _panel_of_nobody(judged, family)
        sitting = [person for person in self._seated if who.sits(person)]
        self._grounds = PanelGrounds(desk, judged, family, self._seated, sitting, self._panel)
        self._signed: Mapping[str, DecisionView] = {
            one.decision_id: one for one in decisions(desk, None, family, judged.known_at)
        }

    def paper(self) -> AuditPaper:
        desk, judged = self._desk, self._judged
        known_on = desk.day_of(judged.known_at) if judged.known_at else None
        label = judged.families[self._family]
        return AuditPaper(
            title=TITLE,
            about=label,
            as_of=judged.as_of,
            question=question_words(known_on),
            brewery=brewery_name(desk, judged),
            sentence=self._sentence(),
            lead=self._lead(),
            sections=tuple(self._sections()),
            sign_off=_SIGN_OFF,
            cautions=(f"{SUPPORTS_ONLY} {OWN_ANSWERS}",),
            foot=f"Panel for {the_beers(label)}: {MAY_SEE}.",
            read=chain_head(desk, judged.known_at),
            head=chain_head(desk),
            made_at=datetime.now(desk.time_zone),
            file_name=panel_file_name(desk, self._family, judged.as_of, judged.known_at),
        )

    def _sentence(self) -> str:
        beers = the_beers(self._judged.families[self._family])
        who = sentence_start(number_word(len(self._seated)))
        day = plain_day(self._judged.as_of)
        quorum = self._judged.rulebook.panel.quorum
        few = f": {TOO_FEW}" if len(self._seated) < quorum else ""
        asked = f"{number_word(quorum)} {'is' if quorum == 1 else 'are'} asked for{few}"
        return f"{who} held a signed seat for {beers} on {day}; {asked}."

    def _lead(self) -> str:
        judged, family = self._judged, self._family
        able = sum(judged.seats[person, family].can_sit for person in judged.people)
        alone = f"By the rules alone, whatever was signed, {number_word(able)} could sit."
        later = rules_came_later(self._desk, judged)
        parts = (self._on_probation(), self._grounds.thin(), alone, later)
        return " ".join(part for part in parts if part)

    def _on_probation(self) -> str:
        new = [person for person in self._seated if self._is_on_probation(person)]
        if not new:
            return ""
        may = "may sit" if self._judged.rulebook.panel.probation_counts else "may not sit yet"
        many = "seat is" if len(new) == 1 else "seats are"
        return (
            f"{sentence_start(number_word(len(new)))} {many} on probation; by the rulebook somebody "
            f"on probation {may}."
        )

    def _is_on_probation(self, person: str) -> bool:
        state = self._states[person]
        return state is not None and state.state is State.PROBATION

    def _sections(self) -> Iterator[AuditSection]:
        yield self._seated_section()
        yield self._others_section()
        yield self._grounds.cover()
        yield self._grounds.rulebook()
        yield self._grounds.facts()

    def _seated_section(self) -> AuditSection:
        columns = (
            AuditColumn("who", "name", 34),
            AuditColumn("state", "state signed", 21),
            AuditColumn("from", "from", 20),
            AuditColumn("until", "until", 20),
            AuditColumn("signed by", "signed by", 26),
            AuditColumn("by the rules", "by the rules that day", 18),
            AuditColumn("critical compounds met", "critical compounds met that day", 42),
        )
        table = AuditTable(columns, tuple(self._seated_row(p) for p in self._seated))
        sentences = () if self._seated else (NOBODY_SEATED,)
        return AuditSection("seated", "Who was seated", sentences, table)

    def _seated_row(self, person: str) -> tuple[Cell, ...]:
        state = self._states[person]
        signed = self._signed.get(state.decision_id) if state else None
        return (
            self._judged.people[person],
            state_word(state) + (", in grace" if state and state.in_grace else ""),
            state.since if state else None,
            state.until if state else None,
            signed.signer if signed else "",
            self._by_the_rules(person),
            self._met(person),
        )

    def _by_the_rules(self, person: str) -> str:
        """Where somebody stood by the rules alone, whatever was signed."""
        return STANDING_WORDS[str(self._judged.seats[person, self._family].verdict.standing)]

    def _met(self, person: str) -> str:
        items = self._judged.seats[person, self._family].items.items()
        return joined([self._item(item) for item, s in items if s is Standing.MET]) or "none"

    def _item(self, item: Item) -> str:
        return in_sentence(item_label(item, self._judged.labels))

    def _others_section(self) -> AuditSection:
        columns = (
            AuditColumn("who", "name", 26),
            AuditColumn("state", "state", 19),
            AuditColumn("since", "since", 19),
            AuditColumn("by the rules", "by the rules that day", 19),
            AuditColumn("why", "sentence", 95),
        )
        others = [person for person in self._judged.people if person not in self._seated]
        table = AuditTable(columns, tuple(self._other_row(person) for person in others))
        sentences = () if others else (EVERYBODY_SEATED,)
        return AuditSection("not_seated", "Who was not, and why", sentences, table)

    def _other_row(self, person: str) -> tuple[Cell, ...]:
        state = self._states[person]
        verdict = self._judged.seats[person, self._family].verdict
        return (
            self._judged.people[person],
            state_word(state),
            state.since if state else None,
            self._by_the_rules(person),
            f"{self._what_was_signed(state)} {verdict.full}",
        )

    def _what_was_signed(self, state: SeatState | None) -> str:
        """Why there is no seat: what was signed of it, in the signer's words."""
        signed = self._signed.get(state.decision_id) if state else None
        if state is None or signed is None:
            return "Nothing was signed."
        if state.until is not None:
            return f"The seat signed by {signed.signer} ended on {plain_day(state.until)}."
        reason = f": {signed.reason.rstrip('.')}" if signed.reason else ""
        return f"Signed by {signed.signer}{reason}."
