"""What was corrected, changed, set aside or put back in a session: old and new, who, when and why."""

from seatworthy.steps.reveal_views import ChangeLine
from seatworthy.steps.session_facts import SessionFacts

OWN_WISH = "the person's own wish; no reason is kept"
OWN_CHANGE = "changed by whoever gave it, before the close"


def session_changes(facts: SessionFacts) -> tuple[ChangeLine, ...]:
    """Every such act, in the order of recording."""
    rows = facts.desk.store.rows("session_corrections", session_id=facts.head.session_id)
    return tuple(
        ChangeLine(
            recorded_at=facts.local(row["recorded_at"]) or row["recorded_at"],
            what=row["code"],
            name=facts.names.get(row["whose"] or "", ""),
            kind=row["kind"],
            before=row["said_before"] or "",
            after=row["said"] or "",
            reason=row["reason"] or (OWN_CHANGE if row["kind"] == "changed" else OWN_WISH),
            by=facts.names.get(row["signed_by"] or "", ""),
        )
        for row in rows
    )
