"""The history as a file: CSV for a spreadsheet, JSON for a program or an archive."""

import json
from typing import Final

from seatworthy.steps.chain_head import HOW_TO_RECOMPUTE, what_it_proves
from seatworthy.steps.history_views import HistoryLine, HistoryView
from seatworthy.steps.history_words import GROUP_LABELS
from seatworthy.steps.spreadsheet import Cell, csv_bytes, xlsx_bytes

_HEADS: Final = (
    "entry",
    "recorded at (ISO 8601)",
    "kind",
    "sealed as",
    "what happened",
    "stated by",
    "facts (rows)",
    "digest (SHA-256, hex)",
)


def history_csv(view: HistoryView) -> bytes:
    """The lines of a view, one a row, newest first."""
    return csv_bytes(_HEADS, map(_row, view.lines))


def history_xlsx(view: HistoryView) -> bytes:
    """The same as a workbook."""
    return xlsx_bytes(_HEADS, map(_row, view.lines))


def _row(line: HistoryLine) -> tuple[Cell, ...]:
    return (
        line.entry_no, line.recorded_at, GROUP_LABELS[line.group], line.kind, line.what, line.who,
        line.facts, line.digest,
    )  # fmt: skip


def history_json(view: HistoryView) -> bytes:
    """The lines of a view with the head of the chain and how a digest is recomputed."""
    found = {
        "made_at": view.made_at.isoformat(timespec="seconds"),
        "time_zone": view.time_zone,
        "entries_on_record": view.acts,
        "head": {"entry": view.head.entry_no, "digest_sha256": view.head.digest},
        "adds_up": not view.faults,
        "faults": list(view.faults),
        "how_to_recompute": HOW_TO_RECOMPUTE,
        "what_it_proves": what_it_proves("this file"),
        "entries": [_entry(line) for line in view.lines],
    }
    return json.dumps(found, ensure_ascii=False, indent=1).encode()


def _entry(line: HistoryLine) -> dict[str, object]:
    return {
        "entry": line.entry_no,
        "recorded_at": line.recorded_at.isoformat(timespec="microseconds"),
        "kind": GROUP_LABELS[line.group],
        "sealed_as": line.kind,
        "what": line.what,
        "stated_by": line.who,
        "facts": line.facts,
        "digest_sha256": line.digest,
    }
