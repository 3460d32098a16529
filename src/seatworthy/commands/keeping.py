"""backup, restore, verify and the plain copy: the record kept safe."""

import argparse
from pathlib import Path
from shlex import quote

from seatworthy.commands.command import (
    Command,
    Said,
    as_path,
    existing_desk_of,
    meant_store,
    store_word,
)
from seatworthy.commands.explaining import check_free
from seatworthy.commands.within import lent_desk
from seatworthy.steps.anonymous_copies import who_loses_the_name
from seatworthy.steps.chain_head import chain_head
from seatworthy.steps.desk import store_path
from seatworthy.steps.last_copy import KEEP_RULE, CopyLine, copy_lines, knows_more
from seatworthy.steps.safekeeping import back_up, read_file, restore, verify, verify_all


def _backup_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file",
        nargs="?",
        type=as_path,
        metavar="FILE",
        help="where to (default: backups/ beside the store, under today's date and time)",
    )
    store_word(parser)


def _backup(said: Said) -> None:
    desk = existing_desk_of(said)
    try:
        target = back_up(desk, said.file)
        head = chain_head(desk)
    finally:
        desk.close()
    print(f"{target} was written and compared with the store table by table: equal.")
    print(f"It ends with {head.words}.")


def _restore_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file",
        nargs="?",
        type=as_path,
        metavar="FILE",
        help="the backup to restore (none: list those that lie beside the store)",
    )
    store_word(parser)
    parser.add_argument(
        "--replace",
        action="store_true",
        help="move a store that is there aside (it is kept beside, under the moment)",
    )


def _restore(said: Said) -> None:
    target = store_path(said.store)
    if said.file is None:
        _list_copies(target)
        return
    check_free(target)
    manifest = restore(said.file, target, replace=said.replace)
    rows = sum(count for count, _ in manifest.tables.values())
    print(f"{target} was restored from {said.file} and matches its manifest:")
    print(f"{len(manifest.tables)} tables, {rows} rows, the history up to entry "
          f"{manifest.last_entry[0]}; all of it adds up.")  # fmt: skip
    if words := who_loses_the_name(target):
        print(words)


def _list_copies(store: Path) -> None:
    copies = copy_lines(store.resolve())
    if not copies:
        print(f"No backup lies in {store.resolve().parent / 'backups'}; name the file of one.")
        return
    print(f"Backups of {store}, the newest first (times in UTC), each read and checked just now:")
    for copy in copies:
        print(_listed(copy))
    if good := next((copy for copy in copies if copy.fault is None), None):
        words = f"{quote(str(good.path))} --store {quote(str(store))} --replace"
        print(f"To put the last good one back: seatworthy restore {words}")
    print(KEEP_RULE)


def _listed(copy: CopyLine) -> str:
    entry = f"entry {copy.last_entry[0]}" if copy.last_entry else "no manifest"
    state = "good" if copy.fault is None else f"NOT GOOD: {copy.fault}"
    return (
        f"  {copy.path.name}  {copy.made_at:%Y-%m-%d %H:%M}, {copy.why}, {entry}, "
        f"{copy.size_mb:.1f} MB, {state}"
    )


def _verify(said: Said) -> None:
    path, is_open = meant_store(said), lent_desk() is not None
    if path.exists() and not is_open:
        check_free(path)
        read_file(path.resolve())  # before anything is written into it
    desk = existing_desk_of(said)
    try:
        size = verify_all(desk) if is_open else verify(desk)
        head, more = chain_head(desk), knows_more(desk)
    finally:
        desk.close()
    print(
        f"All is as it was sealed. History entries: {size.entries}; people: {size.people}; "
        f"sessions: {size.sessions}; answers: {size.answers}."
    )
    print(f"It ends with {head.words}. Whole digest: {head.digest}.")
    if more:
        print(more)


def _write_plain_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", type=as_path, metavar="FOLDER", help="a folder that is made new")
    store_word(parser)


def _write_plain(said: Said) -> None:
    from seatworthy.steps.plain_copy import write_plain

    desk = existing_desk_of(said)
    try:
        manifest = write_plain(desk, said.folder)
    finally:
        desk.close()
    print(f"{said.folder} holds all {len(manifest.tables)} tables as CSV and as Parquet: equal.")
    print("Its README.txt says how they are read without Seatworthy. Names of people are in it.")


def _read_plain_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", type=as_path, metavar="FOLDER", help="a plain copy")
    store_word(parser)


def _read_plain(said: Said) -> None:
    from seatworthy.steps.plain_copy import read_plain

    target = store_path(said.store)
    manifest = read_plain(said.folder, target)
    print(f"{target} was made of {said.folder}; every table and the whole history match.")
    print(f"It ends with entry {manifest.last_entry[0]}.")


BACKUP = Command(
    "Copy the store into one new file with a manifest beside it, then compare the two.\n"
    "Names of people are in it: keep it as carefully as the store.",
    _backup_words,
    _backup,
)
RESTORE = Command(
    "Check a backup against its manifest and make it the store. Nothing is overwritten unasked.\n"
    "Without a file: list the backups beside the store, newest first, and say which are good.",
    _restore_words,
    _restore,
    is_alone=True,
)
VERIFY = Command(
    "Read the whole file, recompute every digest of the history from the facts, and look for\n"
    "impossible ones. If anything is wrong, the last good backup is named.",
    store_word,
    _verify,
)
WRITE_PLAIN = Command(
    "Write every table as CSV and Parquet into a new folder that explains itself: the record in a form\n"
    "that can be read without Seatworthy. For a spreadsheet use the files that the pages offer.",
    _write_plain_words,
    _write_plain,
)
READ_PLAIN = Command(
    "Make a new store of a plain copy, from Parquet or, where that is missing, from CSV, and hold every\n"
    "digest against its manifest. An existing store is never touched.",
    _read_plain_words,
    _read_plain,
)
