"""people, words and pin: who and what is meant, and who may sign."""

import argparse
import sys
from typing import Final

from seatworthy.commands.command import Command, Said, existing_desk_of, store_word
from seatworthy.commands.within import ask_hidden
from seatworthy.errors import PanelError
from seatworthy.steps.accepted_words import (
    accept_words,
    read_anew,
    take_words_back,
    word_groups,
)
from seatworthy.steps.desk import Desk
from seatworthy.steps.people import everybody, find_person, merge_people, split_people
from seatworthy.steps.signers import renew_pin
from seatworthy.steps.words import map_words, open_words

_SAY_ALSO: Final = (
    "Say words and what they mean: seatworthy words WORDS COMPOUND, or seatworthy words WORDS --accept "
    "NAME NAME"
)


def _people_words(parser: argparse.ArgumentParser) -> None:
    store_word(parser)
    either = parser.add_mutually_exclusive_group()
    either.add_argument(
        "--merge", nargs=2, metavar=("NAME", "INTO"), help="two spellings are one person"
    )
    either.add_argument("--split", metavar="NAME", help="a merged spelling is a person of its own")


def _people(said: Said) -> None:
    desk = existing_desk_of(said)
    try:
        if said.merge:
            merge_people(desk, *said.merge)
        if said.split is not None:
            split_people(desk, said.split)
        for known in everybody(desk):
            others = f" (also written {', '.join(known.other_spellings)})"
            print(f"{known.name}{others if known.other_spellings else ''}")
    finally:
        desk.close()


def _words_words(parser: argparse.ArgumentParser) -> None:
    store_word(parser)
    parser.add_argument(
        "--again", action="store_true", help="change what words mean that have a meaning already"
    )
    parser.add_argument("wording", nargs="?", metavar="WORDS", help="own words of a panellist")
    parser.add_argument(
        "compound",
        nargs="?",
        metavar="COMPOUND",
        help='what they mean; "none" if nothing on the shelf',
    )
    several = parser.add_mutually_exclusive_group()
    several.add_argument(
        "--accept",
        nargs="+",
        metavar="NAME",
        help="compounds that the words are right for, each of them, beside what they mean",
    )
    several.add_argument(
        "--take-back", nargs="+", metavar="NAME",
        help="compounds that the words are not accepted for any more",
    )  # fmt: skip


def _words(said: Said) -> int:
    desk = existing_desk_of(said)
    try:
        is_several = bool(said.accept or said.take_back)
        if is_several != bool(said.wording) and not said.compound:
            print(_SAY_ALSO, file=sys.stderr)
            return 1
        if said.compound:
            key = map_words(desk, said.wording, said.compound, again=said.again)
            meaning = f"means {key}" if key else "stands for no compound"
            print(f"“{said.wording}” {meaning} from now on, in answers past and to come.")
        if said.accept:
            _tell_read_anew(desk, said.wording)
            print(accept_words(desk, said.wording, said.accept))
        if said.take_back:
            _tell_read_anew(desk, said.wording)
            print(take_words_back(desk, said.wording, said.take_back))
        _list_words(desk)
    finally:
        desk.close()
    return 0


def _tell_read_anew(desk: Desk, words: str) -> None:
    if told := read_anew(desk, words):
        print(told, file=sys.stderr)


def _list_words(desk: Desk) -> None:
    """What waits, then what is accepted for compounds."""
    found = open_words(desk)
    for words in found:
        print(f"{words.answers:5}  {words.words}")
    if not found:
        print("Nothing on record waits for a meaning.")
    for group in word_groups(desk):
        besides = f" (means {group.meant})" if group.meant else ""
        print(f"{group.words}{besides}: right for {group.accepted}")


PEOPLE = Command(
    "Everybody on record with the spellings they go by. A merge can be split again.",
    _people_words,
    _people,
)
WORDS = Command(
    "Without words: the list. With words and a compound: state once what the words mean. With --accept:\n"
    "words that are right for any of several compounds, as in: words mercaptan --accept ethanethiol\n"
    "methanethiol. A verdict may change by it; what is signed stays.",
    _words_words,
    _words,
)


def _pin_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("signer", metavar="NAME", help="who may sign already")
    store_word(parser)


def _pin(said: Said) -> None:
    desk = existing_desk_of(said)
    try:
        person = find_person(desk, said.signer)
        pin = ask_hidden("New PIN (4 to 12 digits or letters): ")
        if pin != ask_hidden("Once more: "):
            message = "The two PINs differ. Nothing was recorded."
            raise PanelError(message)
        print(renew_pin(desk, person, pin))
    finally:
        desk.close()


PIN = Command(
    "Give a signer who forgot theirs a new PIN. Whoever holds the store's file can do so; the history\n"
    "shows it as an act that nobody signed for.",
    _pin_words,
    _pin,
)
