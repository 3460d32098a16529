"""One panellist's competence record: what was asked, poured, found and signed, as of a day.

Arranged after ISO/IEC 17025, 6.2 (known from memory; check the standard itself): requirement,
selection, training, authorisation, monitoring.
"""

from collections.abc import Iterator
from datetime import date, datetime
from typing import Final

from seatworthy.phrases import STANDING_WORDS, multiple
from seatworthy.rules.read_aloud import read_aloud
from seatworthy.rules.seat_states import SeatState
from seatworthy.stats.ability.settings import MODEL_VERSION
from seatworthy.steps.audit_views import (
    OWN_ANSWERS,
    SUPPORTS_ONLY,
    AuditColumn,
    AuditPaper,
    AuditSection,
    AuditTable,
    question_words,
    table_of,
)
from seatworthy.steps.audit_words import (
    audit_file_name,
    brewery_name,
    rulebook_sentence,
    rules_came_later,
)
from seatworthy.steps.chain_head import chain_head
from seatworthy.steps.competence_glasses import EvidenceGlasses
from seatworthy.steps.competence_signed import Signatures
from seatworthy.steps.competence_training import Training
from seatworthy.steps.desk import Desk
from seatworthy.steps.facts_text import facts_digest
from seatworthy.steps.history_phrases import plain_day
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.known_beer_views import beers_section
from seatworthy.steps.labels import name_in_file
from seatworthy.steps.reasons import reasons
from seatworthy.steps.records import record
from seatworthy.steps.seat_words import state_words
from seatworthy.steps.seats import seat_states
from seatworthy.steps.sentences import the_beers
from seatworthy.steps.spreadsheet import Cell
from seatworthy.steps.views import RecordRow, RecordView

TITLE: Final = "Competence record"
AFTER: Final = "Arranged after ISO/IEC 17025, 6.2; check the standard itself."
MAY_SEE: Final = "the person, the panel leader and an auditor may see it"
_SIGN_OFF: Final = (
    "Panel leader, name and date",
    "Panellist, seen, name and date",
    "Auditor, date",
)


def competence(
    desk: Desk,
    person_id: str,
    *,
    family: str | None = None,
    as_of: date | None = None,
    known_at: datetime | None = None,
) -> AuditPaper | None:
    """The competence record of one panellist for one beer family at the end of one day.

    Args:
        desk: The open store.
        person_id: Whose.
        family: Beer family; None, or one that is not known, for the most tasted.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.

    Returns:
        None if nobody on record has this id, or nothing is on record.
    """
    view = record(desk, person_id, family=family, as_of=as_of, known_at=known_at)
    if view is None:
        return None
    return _Competence(desk, judge_day(desk, as_of, known_at), view).paper()


def competence_file_name(
    desk: Desk, person_id: str, family: str, as_of: date, known_at: datetime | None
) -> str:
    """What the file of such a record is called, without its ending."""
    name = judge_day(desk, as_of, known_at).people.get(person_id, "")
    about = f"competence-{name_in_file(name, person_id)}-{family}"
    return audit_file_name(desk, as_of, about, known_at)


class _Competence:
    """One paper in the making."""

    def __init__(self, desk: Desk, judged: Judged, view: RecordView) -> None:
        self._desk, self._judged, self._view = desk, judged, view
        self._person, self._family = view.person, view.family
        states = seat_states(desk, judged.as_of, judged.known_at)
        self._state: SeatState | None = states.get((self._person.person_id, self._family.key))

    def paper(self) -> AuditPaper:
        desk, judged, name = self._desk, self._judged, self._person.name
        known_on = desk.day_of(judged.known_at) if judged.known_at else None
        seat = self._person.person_id, self._family.key
        return AuditPaper(
            title=TITLE,
            about=name,
            as_of=judged.as_of,
            question=question_words(known_on),
            brewery=brewery_name(desk, judged),
            sentence=self._sentence(),
            lead=self._by_the_rules(),
            sections=tuple(self._sections()),
            sign_off=_SIGN_OFF,
            cautions=(f"{SUPPORTS_ONLY} {OWN_ANSWERS}", f"{AFTER} Only {MAY_SEE}."),
            foot=f"Competence record of {name}: {MAY_SEE}.",
            read=chain_head(desk, judged.known_at),
            head=chain_head(desk),
            made_at=datetime.now(desk.time_zone),
            file_name=competence_file_name(desk, *seat, judged.as_of, judged.known_at),
        )

    def _sentence(self) -> str:
        beers, day = the_beers(self._family.label), plain_day(self._judged.as_of)
        return f"{self._person.name}, for {beers} on {day}: {state_words(self._state)}"

    def _by_the_rules(self) -> str:
        verdict = self._judged.seats[self._person.person_id, self._family.key].verdict
        told = f"By the rules alone: {STANDING_WORDS[str(verdict.standing)]}. {verdict.full}"
        return f"{told} {rules_came_later(self._desk, self._judged)}".strip()

    def _sections(self) -> Iterator[AuditSection]:
        judged, person = self._judged, self._person.person_id
        training = Training(self._desk, person, judged.as_of, judged.known_at)
        signed = Signatures(self._desk, person, self._family.key, judged.as_of, judged.known_at)
        yield self._requirement()
        yield training.selection()
        yield training.training()
        yield signed.authorisation()
        yield signed.grounds()
        yield signed.replies()
        yield self._rules()
        yield self._compounds()
        if beers := beers_section(self._desk, judged, person):
            yield beers
        family = self._family.key
        seat = self._view.reasons or reasons(self._desk, judged, person, family)
        behind = EvidenceGlasses(self._desk, judged, person, family, seat)
        yield behind.glasses()
        yield behind.blanks()

    def _requirement(self) -> AuditSection:
        judged = self._judged
        facts = facts_digest(
            self._desk, self._person.person_id, self._family.key, judged.as_of, judged.known_at
        )
        sentences = (
            rulebook_sentence(self._desk, judged),
            f"Model: {MODEL_VERSION}. Digest of the facts behind this paper (SHA-256): {facts}.",
        )
        return AuditSection("requirement", "Requirement", sentences, self._rules_in_words())

    def _rules_in_words(self) -> AuditTable:
        labels = {**self._judged.labels, **self._judged.families}
        parts = read_aloud(self._judged.rulebook, labels)
        rows = tuple((part.heading, " ".join(part.sentences)) for part in parts)
        columns = (AuditColumn("rule", "rule", 34), AuditColumn("says", "what it says", 144))
        return AuditTable(columns, rows)

    def _rules(self) -> AuditSection:
        columns = (
            AuditColumn("rule", "rule", 34),
            AuditColumn("stands", "standing", 24),
            AuditColumn("why", "sentence", 72),
            AuditColumn("what would change it", "what would change it", 48, may_lack=True),
        )
        rows = tuple(
            (rule.title, STANDING_WORDS[rule.standing], rule.sentence, rule.change)
            for rule in self._view.rules
        )
        view = self._view
        told = (
            f"Blanks in the window of the rule: {view.blanks}, of these called {view.false_calls} "
            f"times; the beer may explain {view.possible_background} calls besides."
        )
        return AuditSection("rules", "Monitoring: the rules", (told,), table_of(columns, rows))

    def _compounds(self) -> AuditSection:
        level = multiple(self._view.reference_level)
        told = (
            f"Right of counted glasses; the chance to name it right at {level} on own answers, best "
            f"guess with the range that the rule reads, in percent; {100 * self._view.needed:.0f}% "
            "is asked for. Until: the last day on which a met stands if nothing more is poured."
        )
        table = AuditTable(_COMPOUND_COLUMNS, tuple(_compound_row(r) for r in self._view.rows))
        return AuditSection("compounds", "Monitoring: the compounds", (told,), table)


_COMPOUND_COLUMNS: Final = (
    AuditColumn("compound", "compound", 27),
    AuditColumn("critical", "critical", 13),
    AuditColumn("stands", "standing", 20),
    AuditColumn("right", "counted glasses named right", 9),
    AuditColumn("of", "counted glasses", 8),
    AuditColumn("chance", "chance to name it right (%)", 13),
    AuditColumn("from", "chance, low end of the range (%)", 10),
    AuditColumn("to", "chance, high end of the range (%)", 9),
    AuditColumn("until", "met until", 20),
    AuditColumn("why", "sentence", 49),
)


def _compound_row(row: RecordRow) -> tuple[Cell, ...]:
    cell = row.cell
    return (
        row.label,
        row.is_critical,
        STANDING_WORDS[cell.standing],
        cell.named_right,
        cell.glasses,
        _percent(row.chance_right),
        _percent(row.low),
        _percent(row.high),
        cell.until,
        cell.sentence,
    )


def _percent(chance: float | None) -> float | None:
    return None if chance is None else round(100 * chance, 1)
