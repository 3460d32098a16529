"""What the panel of a day covers, and what that rests on: rules, model, sessions, facts."""

from collections.abc import Sequence
from typing import Final

from seatworthy.rules.panel import PanelVerdict
from seatworthy.rules.rulebook import Item
from seatworthy.rules.verdict import Standing
from seatworthy.stats.ability.settings import MODEL_VERSION
from seatworthy.steps.audit_views import AuditColumn, AuditSection, AuditTable
from seatworthy.steps.audit_words import rulebook_sentence
from seatworthy.steps.desk import Desk
from seatworthy.steps.facts_text import facts_digest
from seatworthy.steps.history_phrases import counted, plain_day
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import item_label
from seatworthy.steps.sentences import in_sentence, joined
from seatworthy.steps.spreadsheet import Cell

TOO_FEW: Final = "too few"
ENOUGH: Final = "enough"
NOBODY_SEATED: Final = "Nobody held a signed seat that day."
NO_EVIDENCE: Final = "No closed session of these beers up to this day."


class PanelGrounds:
    """Cover and grounds of one panel.

    Args:
        desk: The open store.
        judged: The day judged.
        family: Beer family's key.
        seated: Who held a signed seat.
        sitting: Those of them who may sit.
        panel: Whether those make a panel.
    """

    def __init__(
        self,
        desk: Desk,
        judged: Judged,
        family: str,
        seated: Sequence[str],
        sitting: Sequence[str],
        panel: PanelVerdict,
    ) -> None:
        self._desk, self._judged, self._family = desk, judged, family
        self._seated, self._sitting, self._panel = seated, sitting, panel
        self._able = [p for p in judged.people if judged.seats[p, family].can_sit]
        self._asked = judged.rulebook.panel.people_per_compound

    def thin(self) -> str:
        """The critical compounds that too few of those who sit meet, as a sentence; "" for none."""
        if not self._panel.weak:
            return ""
        if not any(self._panel.cover.values()):
            return f"No critical compound is met by anybody seated; asked for each: {self._asked}."
        told = [f"{self._label(item)} by {self._panel.cover[item]}" for item in self._panel.weak]
        return f"Met by {TOO_FEW} of those seated (asked for each: {self._asked}): {joined(told)}."

    def _label(self, item: Item) -> str:
        return in_sentence(item_label(item, self._judged.labels))

    def cover(self) -> AuditSection:
        """Critical compound by critical compound: asked, seated, enough or not, able by the rules."""
        rows = tuple(self._cover_row(item) for item in self._judged.critical[self._family])
        thin = self.thin()
        return AuditSection(
            "cover", "What the panel covers", (thin,) if thin else (), AuditTable(_COVER, rows)
        )

    def _cover_row(self, item: Item) -> tuple[Cell, ...]:
        noses = self._noses(item, self._sitting)
        return (
            item_label(item, self._judged.labels),
            self._asked,
            len(noses),
            ENOUGH if len(noses) >= self._asked else TOO_FEW,
            joined([self._judged.people[person] for person in noses]) or "nobody",
            len(self._noses(item, self._able)),
        )

    def _noses(self, item: Item, among: Sequence[str]) -> list[str]:
        seats = self._judged.seats
        return [p for p in among if seats[p, self._family].items.get(item) is Standing.MET]

    def rulebook(self) -> AuditSection:
        """Rules, quorum, model and sessions; what the rules alone would allow stands apart."""
        judged = self._judged
        quorum = (
            f"Quorum: {judged.rulebook.panel.quorum}; each critical compound is to be covered by "
            f"{self._asked} or more. Of those seated: {self._panel.verdict.sentence}"
        )
        alone = (
            "By the rules alone, whatever was signed: "
            f"{judged.panels[self._family].verdict.sentence}"
        )
        model = f"Model: {MODEL_VERSION}. {self._evidence()}"
        sentences = (rulebook_sentence(self._desk, judged), quorum, alone, model)
        return AuditSection("rulebook", "Rulebook, quorum and evidence", sentences)

    def _evidence(self) -> str:
        """From how many sessions of the beer family the evidence comes."""
        judged = self._judged
        (row,) = self._desk.store.rows(
            "evidence_sessions", judged.known_at, family=self._family, until_on=judged.as_of
        )
        if not row["sessions"]:
            return NO_EVIDENCE
        glasses = counted(row["glasses"], "glass", "glasses")
        return (
            f"Evidence of these beers: {counted(row['sessions'], 'session')} with {glasses}, the first "
            f"on {plain_day(row['first_on'])}, the last on {plain_day(row['last_on'])}."
        )

    def facts(self) -> AuditSection:
        """A digest for each person seated."""
        judged = self._judged
        rows = tuple(
            (
                judged.people[person],
                facts_digest(self._desk, person, self._family, judged.as_of, judged.known_at),
            )
            for person in self._seated
        )
        told = "Digest (SHA-256) over everything on record behind each seat up to that day."
        sentences = (told,) if rows else (NOBODY_SEATED,)
        return AuditSection("facts", "Facts behind each seat", sentences, AuditTable(_FACTS, rows))


_COVER: Final = (
    AuditColumn("critical compound", "critical compound", 42),
    AuditColumn("asked", "people asked for", 13),
    AuditColumn("seated", "seated people who may sit and meet it", 13),
    AuditColumn("enough?", "enough or too few", 16),
    AuditColumn("who they are", "seated people who may sit and meet it, names", 60),
    AuditColumn("able by the rules", "people able by the rules who meet it", 30),
)
_FACTS: Final = (
    AuditColumn("who", "name", 50),
    AuditColumn("digest of the facts", "digest of the facts (SHA-256, hex)", 128),
)
