"""backup, restore and verify: the record kept safe."""

import argparse

from seatworthy.commands.command import Command, Said, as_path, existing_desk_of, store_word
from seatworthy.steps.chain_head import chain_head
from seatworthy.steps.desk import store_path
from seatworthy.steps.safekeeping import back_up, restore, verify


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
    parser.add_argument("file", type=as_path, metavar="FILE", help="the backup to restore")
    store_word(parser)
    parser.add_argument(
        "--replace",
        action="store_true",
        help="move a store that is there aside (it is kept beside, under the moment)",
    )


def _restore(said: Said) -> None:
    target = store_path(said.store)
    restore(said.file, target, replace=said.replace)
    print(f"{target} was restored from {said.file} and matches its manifest.")


def _verify(said: Said) -> None:
    desk = existing_desk_of(said)
    try:
        size = verify(desk)
        head = chain_head(desk)
    finally:
        desk.close()
    print(
        f"All is as it was sealed. History entries: {size.entries}; people: {size.people}; "
        f"sessions: {size.sessions}; answers: {size.answers}."
    )
    print(f"It ends with {head.words}. Whole digest: {head.digest}.")


BACKUP = Command(
    "Copy the store into one new file with a manifest beside it, then compare the two.\n"
    "Names of people are in it: keep it as carefully as the store.",
    _backup_words,
    _backup,
)
RESTORE = Command(
    "Check a backup against its manifest and make it the store. Nothing is overwritten unasked.",
    _restore_words,
    _restore,
)
VERIFY = Command(
    "Recompute every digest of the history from the facts, and look for impossible ones.",
    store_word,
    _verify,
)
