"""competence, seated and history: what an auditor takes away."""

import argparse
from datetime import datetime

from seatworthy import paper as papers_made
from seatworthy.commands.command import (
    Command,
    Said,
    as_day,
    as_path,
    existing_desk_of,
    store_word,
)
from seatworthy.errors import PanelError
from seatworthy.steps.audit_exports import audit_csv, audit_json, audit_xlsx
from seatworthy.steps.audit_views import AuditPaper
from seatworthy.steps.competence import competence
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_exports import history_csv, history_json
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.history_phrases import plain_day
from seatworthy.steps.history_views import HistoryView
from seatworthy.steps.history_words import GROUP_LABELS
from seatworthy.steps.judging import family_named, judge_day
from seatworthy.steps.panel_day import panel_day
from seatworthy.steps.people import find_person

_SIZES = ("A4", "Letter")
_NOTHING = "Nothing is on record yet, so there is nothing to write."
_ASK_TODAY = "Leave out --as-recorded to ask by today's record."
_SHOWN_DIGITS = 12


def _day_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--family", metavar="KEY", help="the beer family (default: most tasted)")
    parser.add_argument(
        "--as-of", type=as_day, metavar="DAY", help="the end of that day (2026-03-14)"
    )
    parser.add_argument(
        "--as-recorded",
        type=as_day,
        metavar="DAY",
        help="read the record as it stood that evening, without what was recorded later",
    )
    parser.add_argument(
        "--to", type=as_path, default=".", metavar="FOLDER", help="where to (default: here)"
    )
    parser.add_argument("--size", choices=_SIZES, default=_SIZES[0], help="paper (default: A4)")
    parser.add_argument(
        "--format", choices=("pdf", "csv", "xlsx", "json"), default="pdf", help="default: pdf"
    )
    store_word(parser)


def _competence_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("panellist", metavar="NAME", help="whose record")
    _day_words(parser)


def _competence(said: Said) -> None:
    desk = existing_desk_of(said)
    try:
        known_at = desk.end_of(said.as_recorded) if said.as_recorded else None
        person = _person_meant(desk, said, known_at)
        judged = judge_day(desk, said.as_of, known_at)
        paper = competence(
            desk,
            person,
            family=family_named(judged, said.family),
            as_of=said.as_of,
            known_at=known_at,
        )
    finally:
        desk.close()
    _write(paper, said)


def _person_meant(desk: Desk, said: Said, known_at: datetime | None) -> str:
    """Person id of the one named; who is on record only since is said to be.

    Raises:
        PanelError: if nobody, or more than one, was called so by the record that is read.
    """
    today = find_person(desk, said.panellist)
    if known_at is None:
        return today
    try:
        return find_person(desk, said.panellist, known_at)
    except PanelError as error:
        evening = plain_day(said.as_recorded)
        message = (
            f"At the end of {evening} nobody on record was called “{said.panellist}”. {_ASK_TODAY}"
        )
        raise PanelError(message) from error


def _seated(said: Said) -> None:
    desk = existing_desk_of(said)
    try:
        known_at = desk.end_of(said.as_recorded) if said.as_recorded else None
        paper = panel_day(desk, family=said.family, as_of=said.as_of, known_at=known_at)
    finally:
        desk.close()
    _write(paper, said)


def _write(paper: AuditPaper | None, said: Said) -> None:
    if paper is None:
        raise PanelError(_nothing_to_write(said))
    made = {
        "pdf": lambda: papers_made.audit_pdf(paper, said.size),
        "csv": lambda: audit_csv(paper),
        "xlsx": lambda: audit_xlsx(paper),
        "json": lambda: audit_json(paper),
    }
    said.to.mkdir(parents=True, exist_ok=True)
    path = said.to / f"{paper.file_name}.{said.format}"
    if path.exists():
        message = f"{path} exists already; name another folder with --to. Nothing was written."
        raise PanelError(message)
    path.write_bytes(made[said.format]())
    print(path)


def _nothing_to_write(said: Said) -> str:
    if said.as_recorded is None:
        return _NOTHING
    evening = plain_day(said.as_recorded)
    return f"At the end of {evening} there was nothing on record to write of. {_ASK_TODAY}"


def _history_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--kind",
        action="append",
        default=[],
        choices=tuple(GROUP_LABELS),
        help="a kind of act; may be said several times",
    )
    parser.add_argument("--panellist", metavar="NAME", help="stated by them, or about them")
    parser.add_argument("--since", type=as_day, metavar="DAY", help="first day")
    parser.add_argument("--until", type=as_day, metavar="DAY", help="last day")
    parser.add_argument("--words", default="", help="every one of these words occurs")
    parser.add_argument(
        "--format", choices=("table", "csv", "json"), default="table", help="default: table"
    )
    parser.add_argument(
        "--to", type=as_path, metavar="FILE", help="write CSV or JSON there (default: print it)"
    )
    store_word(parser)


def _history(said: Said) -> None:
    desk = existing_desk_of(said)
    try:
        view = _asked(desk, said)
    finally:
        desk.close()
    if said.format == "table":
        print("\n".join(_lines(view)))
        return
    made = (history_csv if said.format == "csv" else history_json)(view)
    if said.to is None:
        print(made.decode("utf-8-sig"), end="")
    else:
        said.to.write_bytes(made)
        print(said.to)


def _asked(desk: Desk, said: Said) -> HistoryView:
    return history_lines(
        desk,
        kinds=said.kind,
        who=find_person(desk, said.panellist) if said.panellist is not None else None,
        since=said.since,
        until=said.until,
        words=said.words,
    )


def _lines(view: HistoryView) -> list[str]:
    end = f"; {view.catch}" if view.catch else "."
    lines = [f"{view.answer}{end}", view.lead, ""]
    lines += [
        f"{line.entry_no:>5}  {line.recorded_at:%Y-%m-%d %H:%M}  {line.digest[:_SHOWN_DIGITS]}  "
        f"{line.what}{f' By {line.who}.' if line.who else ''}"
        for line in view.lines
    ]
    return lines


COMPETENCE = Command(
    "Write one panellist's competence record: requirement, selection, training, authorisation and\n"
    "monitoring. Only the person, the panel leader and an auditor may see it.",
    _competence_words,
    _competence,
)
SEATED = Command(
    "Write who was seated on a day for one beer family, for which compounds, and who wasn't and why.",
    _day_words,
    _seated,
)
HISTORY = Command(
    "Everything that was ever recorded, newest first, with the check that the chain adds up.",
    _history_words,
    _history,
)
