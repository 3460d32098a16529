"""verdicts: who can sit, for what, and why."""

import argparse
import json
from datetime import date, datetime

from seatworthy.commands.command import Command, Said, as_day, as_path, existing_desk_of, store_word
from seatworthy.commands.table import board_lines, person_lines
from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import family_named, judge_day
from seatworthy.steps.people import find_person
from seatworthy.steps.spreadsheet import csv_bytes
from seatworthy.steps.verdicts import VerdictRow, verdict_rows


def _verdict_words(parser: argparse.ArgumentParser) -> None:
    store_word(parser)
    parser.add_argument(
        "--as-of", type=as_day, metavar="DAY", help="judge the end of that day (2026-03-14)"
    )
    parser.add_argument(
        "--as-recorded",
        type=as_day,
        metavar="DAY",
        help="read the record as it stood that evening, without what was recorded later",
    )
    parser.add_argument("--panellist", metavar="NAME", help="one person, every rule in full")
    parser.add_argument("--family", metavar="KEY", help="one beer family")
    parser.add_argument(
        "--format",
        choices=("table", "csv", "json"),
        default="table",
        help="how to print (default: table)",
    )
    parser.add_argument(
        "--to",
        type=as_path,
        metavar="FILE",
        help="write CSV or JSON there, as a spreadsheet opens it (default: print it)",
    )


def _verdicts(said: Said) -> None:
    if said.to is not None and said.format == "table":
        message = "--to goes with --format csv or json. Say which, or leave it out."
        raise PanelError(message)
    desk = existing_desk_of(said)
    try:
        known_at = desk.end_of(said.as_recorded) if said.as_recorded else None
        judged = judge_day(desk, said.as_of, known_at)
        said.family = family_named(judged, said.family)
        if said.format == "table":
            print("\n".join(_as_table(desk, said, said.as_of, known_at)))
            return
        person = find_person(desk, said.panellist, known_at) if said.panellist is not None else None
        rows = [
            row
            for row in verdict_rows(desk, judged, person)
            if said.family is None or judged.families[said.family] == row.family
        ]
    finally:
        desk.close()
    made = (_as_csv if said.format == "csv" else _as_json)(rows)
    if said.to is None:
        print(made.decode("utf-8-sig"), end="")
    else:
        said.to.write_bytes(made)
        print(said.to)


def _as_table(desk: Desk, said: Said, as_of: date | None, known_at: datetime | None) -> list[str]:
    if said.panellist is not None:
        person = find_person(desk, said.panellist, known_at)
        return person_lines(desk, person, said.family, as_of, known_at)
    return board_lines(desk, said.family, as_of, known_at)


def _as_csv(rows: list[VerdictRow]) -> bytes:
    heads = tuple(VerdictRow.__dataclass_fields__)
    return csv_bytes(heads, (row.as_dict().values() for row in rows))


def _as_json(rows: list[VerdictRow]) -> bytes:
    found = json.dumps([row.as_dict() for row in rows], indent=1, ensure_ascii=False)
    return f"{found}\n".encode()


VERDICTS = Command(
    "Judge everybody from their own answers, under the rulebook in force.\n"
    "A table for the eye, CSV for a spreadsheet, JSON for a program.",
    _verdict_words,
    _verdicts,
)
