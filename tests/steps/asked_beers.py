"""Glasses that ask for a beer, put on record for tests as a closed session of long ago would be."""

from collections.abc import Mapping
from datetime import date
from typing import Final

from seatworthy.steps.desk import Desk

BEER: Final = "house pils"
Said = Mapping[str, Mapping[str, str]]  # "yes yes no" by person id and variant


def ask_beers(desk: Desk, day: date, said: Said, beer: str = BEER, label: str = "Beers") -> str:
    """Record one closed session; the session's id.

    Args:
        desk: The open store.
        day: Day of the session.
        said: Answers of each person to the glasses of each variant, "y" or "n" a glass.
        beer: What was asked for.
        label: The session's label.
    """
    session, sitting = f"s-{label}-{day}", f"t-{label}-{day}"
    with desk.store.recording("session") as act:
        act.add("session", {"session_id": session, "session_on": day, "label": label})
        act.add("sitting", {"sitting_id": sitting, "session_id": session, "label": "early"})
        for variant in sorted({variant for own in said.values() for variant in own}):
            sample = f"j-{label}-{day}-{beer}-{variant}"
            act.add("sample", {
                "sample_id": sample, "sitting_id": sitting, "beer": beer, "compound": None,
                "given_level": None, "dose_ug": None, "volume_ml": None, "mark": variant,
            })  # fmt: skip
            act.add("beer_question", {"sample_id": sample, "beer": beer, "variant": variant})
            for person, own in said.items():
                for number, letter in enumerate(own.get(variant, "")):
                    _answer(act, f"{sample}-{person}-{number}", sample, person, letter)
    return session


def _answer(act, serving: str, sample: str, person: str, letter: str) -> None:
    act.add("serving", {
        "serving_id": serving, "sample_id": sample, "person_id": person, "method": "a_not_a",
        "position": None, "blind_code": None, "duplicate_mark": None,
    })  # fmt: skip
    act.add("answer", {
        "serving_id": serving, "kind": {"y": "yes", "n": "no"}[letter], "words": None,
        "words_key": None, "words_salt": None, "words_digest": None, "rating": None,
    })  # fmt: skip
