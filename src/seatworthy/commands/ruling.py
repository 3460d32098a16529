"""rulebook: what people are judged by, another one's faults, and what it would change."""

import argparse

from seatworthy.commands.command import Command, Said, as_path, existing_desk_of, store_word
from seatworthy.steps.desk import Desk
from seatworthy.steps.rulebook_views import (
    IN_FORCE,
    Part,
    rulebook_view,
    shipped_text,
    start_text,
    supposed,
    texts_at_hand,
    words_of,
)
from seatworthy.steps.rulebooks import adoption_faults
from seatworthy.steps.what_if import what_if


def _words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file", nargs="?", type=as_path, metavar="FILE", help="a rulebook to check and try (TOML)"
    )
    parser.add_argument(
        "--text",
        choices=(IN_FORCE, *texts_at_hand()),
        help="print the text of a rulebook, to save and change",
    )
    store_word(parser)


def _rulebook(said: Said) -> None:
    if said.text and said.text != IN_FORCE:
        print(shipped_text(said.text), end="")
        return
    desk = existing_desk_of(said)
    try:
        if said.text:
            print(start_text(desk, IN_FORCE), end="")
        elif said.file is not None:
            _try(desk, said)
        else:
            view = rulebook_view(desk)
            print("\n".join([f"{view.answer}.", view.lead, "", *_lines(view.parts)]))
    finally:
        desk.close()


def _try(desk: Desk, said: Said) -> None:
    other = supposed(desk, said.file.read_text(encoding="utf-8-sig"), said.file.name)
    found = what_if(desk, other)
    print("\n".join([*_lines(words_of(desk, other)), "", found.sentence]))
    for change in found.seats:
        why = [change.sentence] if change.is_gain or change.is_loss else []
        what = "; ".join([*why, *change.compounds])
        print(f"  {change.name}, {change.family_label}: {what}")
    for fault in adoption_faults(desk, other):
        print(f"Before it can be adopted: {fault}")
    print("Nothing was recorded. A signer adopts a rulebook on the page Rulebook.")


def _lines(parts: tuple[Part, ...]) -> list[str]:
    return [f"{part.heading}: {' '.join(part.sentences)}" for part in parts]


RULEBOOK = Command(
    "Print the rulebook in force in plain words; or check a rulebook of your own (all its faults with\n"
    "their lines) and say who would gain or lose what a seat rests on; or print a text to start from.",
    _words,
    _rulebook,
)
