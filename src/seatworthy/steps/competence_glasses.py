"""Every glass that a competence record rests on, and why one doesn't count: for adding up again."""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any, Final

from seatworthy.phrases import OUTCOME_WORDS, PICKED_WORDS, YES_NO_WORDS
from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.rulebook import Item
from seatworthy.steps.audit_views import AuditColumn, AuditSection, table_of
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import counted
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import short_label
from seatworthy.steps.reason_views import GlassLine, ReasonView
from seatworthy.steps.reasons import METHOD_WORDS, NOTHING, SOMETHING
from seatworthy.steps.record_rows import every_glass
from seatworthy.steps.seen import Seen
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.spreadsheet import Cell

NO_GLASSES: Final = "No answered glass of a critical compound up to this day."
NO_BLANKS: Final = "No answered blank up to this day."
OWN_PREPARATION: Final = "prepared by the same person"
EXPIRED_LOT: Final = "from an expired lot: not for qualification"
DIFFERENT_VESSELS: Final = "vessels of different levels: not for qualification"
KEPT_TOO_LONG: Final = "kept too long: not for qualification"
_OPEN: Final = "own words wait for a meaning"
_INFORMS: Final = "informs the estimate only"  # said once, over the table
_CALLED: Final = MappingProxyType({"right": "called blank", "open": "own words"})
_NAMING: Final = "naming"

_Row = Mapping[str, Any]


class EvidenceGlasses:
    """The glasses behind one panellist's verdicts for one beer family.

    Args:
        desk: The open store.
        judged: The day judged.
        person_id: Whose.
        family: Beer family of the seat.
        seat: The verdict on it with its reasons.
    """

    def __init__(
        self, desk: Desk, judged: Judged, person_id: str, family: str, seat: ReasonView
    ) -> None:
        self._judged, self._family = judged, family
        seen = Seen(desk, judged.as_of, judged.known_at, judged.rulebook)
        rows = seen.rows("person_evidence", person_id=person_id, until_on=judged.as_of)
        critical = {compound for item in judged.critical[family] for compound in item}
        self._glasses = [row for row in rows if row["compound"] in critical]
        self._blanks = [row for row in rows if row["is_blank"]]
        own = [row for row in every_glass(desk, judged, person_id) if row["family"] == family]
        self._lines = _lines_by_serving(judged.critical[family], own, seat.parts[0])

    def glasses(self) -> AuditSection:
        """Every answered glass of the critical compounds, in any beer, set-aside ones too."""
        heading = "Appendix: glasses of the critical compounds"
        if not self._glasses:
            return AuditSection("glasses", heading, (NO_GLASSES,))
        rows = [self._glass_row(row) for row in self._glasses]
        told = (
            f"{_sums(rows)} Level: the multiple of the working threshold that the glass really had. "
            "A glass that does not count may still inform the estimate; one that was set aside or "
            "prepared by the same person does not."
        )
        columns = (*_WHERE, *_WHAT, *_ANSWER)
        return AuditSection("glasses", heading, (told,), table_of(columns, rows, is_dense=True))

    def blanks(self) -> AuditSection:
        """Every answered blank in any beer, set-aside ones too."""
        heading = "Appendix: blanks"
        if not self._blanks:
            return AuditSection("blanks", heading, (NO_BLANKS,))
        rows = [self._blank_row(row) for row in self._blanks]
        columns = (*_WHERE, *_ANSWER)
        return AuditSection(
            "blanks", heading, (_sums(rows),), table_of(columns, rows, is_dense=True)
        )

    def _glass_row(self, row: _Row) -> tuple[Cell, ...]:
        level = row["total_level"]
        why_not = self._why_no_glass(row)
        return (
            *_where(row),
            in_sentence(short_label(self._judged.labels.get(row["compound"], row["compound"]))),
            None if level is None else round(float(level), 3),
            *self._answer(row, why_not),
        )

    def _blank_row(self, row: _Row) -> tuple[Cell, ...]:
        return (*_where(row), *self._answer(row, self._why_no_blank(row)))

    def _answer(self, row: _Row, why_not: str) -> tuple[Cell, ...]:
        method = row["method"]
        shown = "" if method == _NAMING else METHOD_WORDS.get(method, method)
        return shown, self._said(row), _outcome(row), not why_not, why_not

    def _said(self, row: _Row) -> str:
        if row["said_a_compound"]:
            return in_sentence(short_label(self._judged.labels.get(row["said"], row["said"])))
        if row["said"]:
            return f"“{row['said']}”"
        if row["method"] != _NAMING:
            return ""
        is_something = row["outcome"] == "noticed"
        return SOMETHING if is_something else NOTHING

    def _why_no_glass(self, row: _Row) -> str:
        """Why a glass doesn't count for the verdict on its compound; "" where it does."""
        never = _why_never(row)
        if never:
            return never
        if row["family"] != self._family:
            return f"another beer: {self._beer(row['family'])}"
        line = self._lines[row["serving_id"]]
        return "" if line.counts else line.why_not.replace(_INFORMS, "").strip(": ")

    def _why_no_blank(self, row: _Row) -> str:
        """Why a blank doesn't count for the rule on calls in blanks; "" where it does."""
        rule = self._judged.rulebook.false_calls
        never = _why_never(row)
        if never or rule is None:
            return never or "no rule asks for blanks"
        if row["method"] != _NAMING:
            return "no name was asked for"
        if row["outcome"] == "open":
            return _OPEN
        if row["is_possible_background"]:
            return "the beer may explain it"
        is_recent = row["session_on"] > months_before(self._judged.as_of, rule.months)
        return "" if is_recent else f"older than {rule.months} months"

    def _beer(self, family: str) -> str:
        return in_sentence(self._judged.families.get(family, family))


def _lines_by_serving(
    critical: Sequence[Item], own: Sequence[_Row], view: ReasonView
) -> dict[str, GlassLine]:
    """What a screen says of each glass of the critical compounds, by serving.

    Args:
        critical: Critical items of the beer family.
        own: Every glass of the person in these beers, in the order in which the view has them.
        view: The rule on critical compounds with its reasons.
    """
    compounds = [compound for item in critical for compound in item]
    found = {}
    for compound, leaf in zip(compounds, _leaves(view), strict=True):
        servings = [row["serving_id"] for row in own if row["compound"] == compound]
        found.update(zip(servings, leaf.glasses, strict=True))
    return found


def _leaves(view: ReasonView) -> Iterator[ReasonView]:
    """The views of single compounds under a view, in order."""
    for part in view.parts:
        yield from part.parts or (part,)


def _why_never(row: _Row) -> str:
    """Why a glass is no evidence at all; "" where it is."""
    if row["is_aside"]:
        what = "set aside with its jug" if row["is_jug_aside"] else "set aside"
        reason = row["aside_reason"]
        return f"{what}: {reason}" if reason else f"{what} by the panellist"
    if row["is_own_preparation"]:
        return OWN_PREPARATION
    if row["has_expired_lot"]:
        return EXPIRED_LOT
    if row["differs"]:
        return DIFFERENT_VESSELS
    return KEPT_TOO_LONG if row["is_kept_too_long"] else ""


def _outcome(row: _Row) -> str:
    outcome, method = row["outcome"], row["method"]
    if row["is_blank"] and method == _NAMING:
        return _CALLED.get(outcome, "a call")
    if method == "a_not_a":
        said_no = outcome == ("right" if row["is_blank"] else "missed")
        return YES_NO_WORDS["missed" if said_no else "right"]
    if method != _NAMING:
        return PICKED_WORDS.get(outcome, outcome)
    return "own words" if outcome == "open" else OUTCOME_WORDS.get(outcome, OUTCOME_WORDS["open"])


def _where(row: _Row) -> tuple[Cell, ...]:
    return row["session_on"], row["session"], row["code"]


def _sums(rows: Sequence[Sequence[Cell]]) -> str:
    """How many glasses there are and how many of them count."""
    count = sum(bool(row[-2]) for row in rows)
    return (
        f"{counted(len(rows), 'answered glass', 'answered glasses')}, oldest first; {count} count."
    )


_WHERE: Final = (
    AuditColumn("day", "day", 20),
    AuditColumn("session", "session", 24, may_lack=True),
    AuditColumn("code", "code or position", 10, may_lack=True),
)
_WHAT: Final = (
    AuditColumn("compound", "compound", 27),
    AuditColumn("level", "total level (multiple of the working threshold)", 14, digits=1),
)
_ANSWER: Final = (
    AuditColumn("method", "method where no name was asked for", 15, may_lack=True),
    AuditColumn("said", "said", 27),
    AuditColumn("outcome", "outcome", 24),
    AuditColumn("counts", "counts", 12),
    AuditColumn("why not", "why it does not count", 36, may_lack=True),
)
