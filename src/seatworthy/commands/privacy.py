"""person: what is kept about somebody, and their copy."""

import argparse

from seatworthy.commands.command import Command, Said, as_path, existing_desk_of, store_word
from seatworthy.errors import PanelError
from seatworthy.steps.kept_about import kept_about
from seatworthy.steps.own_copy import copy_text, hand_out_copy
from seatworthy.steps.people import find_person


def _person_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", help="about whom")
    parser.add_argument(
        "--copy", type=as_path, metavar="FILE", help="write their copy there, a zip file"
    )
    parser.add_argument("--by", metavar="NAME", help="who hands the copy out")
    store_word(parser)


def _person(said: Said) -> None:
    if said.copy is not None and said.copy.exists():
        message = f"{said.copy} exists already; name another file. Nothing was written."
        raise PanelError(message)
    desk = existing_desk_of(said)
    try:
        person = find_person(desk, said.name)
        if said.copy is None:
            view = kept_about(desk, person)
            print(copy_text(desk, view) if view else "", end="")
            return
        by = find_person(desk, said.by) if said.by is not None else None
        _, data = hand_out_copy(desk, person, by)
    finally:
        desk.close()
    said.copy.write_bytes(data)
    print(said.copy)
    print("That it was handed out is recorded. Give it to nobody else.")


PERSON = Command(
    "All that is kept about one person, and for how long; with --copy as a file for them: a text to\n"
    "read and the same for a program, without other people's ids, digests or PINs.",
    _person_words,
    _person,
)
