"""import and template: from a spreadsheet into the record."""

import argparse

from seatworthy.commands.command import (
    Command,
    Said,
    as_path,
    desk_of,
    meant_store,
    store_word,
)
from seatworthy.errors import PanelError
from seatworthy.intake.shelf_template import write_shelf_template
from seatworthy.intake.template import write_template
from seatworthy.steps.bring_in import BroughtIn, bring_in_results, bring_in_shelf
from seatworthy.steps.safekeeping import forget_empty


def _import_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "files",
        nargs="+",
        type=as_path,
        metavar="FILE",
        help="results (.csv, .xlsx) or a shelf (.toml); several are taken in the order given",
    )
    store_word(parser)
    parser.add_argument(
        "--dates",
        choices=("day-first", "month-first"),
        help="how to read dates like 03/04/2026, when the file itself cannot tell",
    )
    parser.add_argument("--sheet", metavar="NAME", help="which sheet of a workbook")
    parser.add_argument(
        "--new",
        action="append",
        default=[],
        metavar="NAME",
        help='a name in the file is a new person; "*" for all of them',
    )
    parser.add_argument(
        "--same",
        action="append",
        default=[],
        metavar="NAME=KNOWN",
        help="a name in the file is another spelling of somebody known",
    )


def _import(said: Said) -> None:
    is_new = not meant_store(said).exists()
    try:
        _bring_in_all(said)
    except PanelError:
        if is_new:
            forget_empty(meant_store(said))
        raise


def _bring_in_all(said: Said) -> None:
    same = dict(_pair(words) for words in said.same)
    desk = desk_of(said)
    try:
        for path in said.files:
            if path.suffix.casefold() == ".toml":
                brought = bring_in_shelf(desk, path)
            else:
                brought = bring_in_results(
                    desk,
                    path,
                    date_order=said.dates,
                    sheet=said.sheet,
                    new_people=said.new,
                    same_people=same,
                )
            print("\n".join(_report(brought)))
    finally:
        desk.close()


def _pair(words: str) -> tuple[str, str]:
    name, equals, known = (part.strip() for part in words.partition("="))
    if not (name and equals and known):
        message = f'--same wants "name in the file=name on record", got “{words}”.'
        raise PanelError(message)
    return name, known


def _report(brought: BroughtIn) -> list[str]:
    lines = [f"{brought.name}: {brought.rows} rows read, {brought.added} new on record."]
    if brought.known:
        lines.append(f"  {brought.known} were on record already; they were left as they are.")
    if brought.set_aside:
        lines.append(f"  {brought.set_aside} of them are set aside from now on.")
    if brought.new_people:
        lines.append(f"  New people: {', '.join(brought.new_people)}.")
    lines += [f"  “{written}” was read as {meant}." for written, meant in brought.read_as.items()]
    if brought.open_words:
        words = list(brought.open_words)
        some = ", ".join(f"“{word}” ({brought.open_words[word]})" for word in words[:5])
        more = f" and {len(words) - 5} more" if len(words) > 5 else ""
        lines.append(f"  Words that stand for no compound yet: {some}{more}.")
        lines.append(
            f'  Say once what they mean: seatworthy words "{words[0]}" COMPOUND (or none).'
        )
    lines += [f"  {note}" for note in brought.notes]
    return lines


def _template_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file",
        type=as_path,
        metavar="FILE",
        help="where to write it: .csv or .xlsx for results, .toml for a shelf",
    )
    parser.add_argument(
        "--shape",
        choices=("answers", "glasses"),
        default="glasses",
        help="one row per answer, or one row per glass with a column per panellist (default)",
    )


def _template(said: Said) -> None:
    if said.file.exists():
        message = f"{said.file} exists already. Name another file."
        raise PanelError(message)
    if said.file.suffix.casefold() == ".toml":
        print(write_shelf_template(said.file))
    else:
        print(write_template(said.file, said.shape))


IMPORT = Command(
    "Bring in results (CSV or XLSX; one row per answer, or one row per glass with a column per\n"
    "panellist) or a shelf (TOML: beers, working thresholds, backgrounds, synonyms).\n"
    "A file with a fault changes nothing; the same file twice adds nothing.",
    _import_words,
    _import,
)
TEMPLATE = Command(
    "Write a results file with a few example rows, in either shape, or a shelf file (.toml) that\n"
    "lists every compound with its key.",
    _template_words,
    _template,
)
