"""What happened around a session, said in sentences."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from seatworthy.steps.history_phrases import (
    NO_REASON,
    Part,
    Teller,
    counted,
    listed,
    plain_day,
    session_of,
    stopped,
)

_COMINGS: Final = MappingProxyType(
    {
        "expected": "is expected again",
        "late": "came late",
        "left": "left early",
        "absent": "didn't taste; no reason is kept",
    }
)
# What somebody says of themselves, on their own phone.
_OWN_WORDS: Final = MappingProxyType(
    {
        "expected": "is fit to taste after all",
        "left": "is not fit to taste any more; no reason is kept",
        "absent": "is not fit to taste; no reason is kept",
    }
)
_LANGUAGES: Final = MappingProxyType({"en": "English", "de": "German", "es": "Spanish"})
_GLASSES: Final = MappingProxyType(
    {"spilled": "was spilled", "short": "was short", "as_planned": "stands as planned again"}
)


def _plan(parts: Sequence[Part]) -> list[str]:
    return [f"{session_of(part)} planned, for {part['words']}." for part in parts]


def _sessions(parts: Sequence[Part]) -> list[str]:
    part = parts[0]
    if part["first_on"] == part["last_on"]:
        return [f"{counted(part['number'], 'session')} of {plain_day(part['first_on'])}."]
    days = f"{plain_day(part['first_on'])} to {plain_day(part['last_on'])}"
    return [f"{counted(part['number'], 'session')}, {days}."]


def _serving(parts: Sequence[Part]) -> list[str]:
    part = parts[0]
    people = counted(int(part["more"]), "person", "people")
    return [f"{counted(part['number'], 'glass', 'glasses')} for {people}."]


def _answer(parts: Sequence[Part]) -> list[str]:
    part = parts[0]
    if part["number"] == 1:
        return [f"Answer of {part['name']} to glass {part['words']}, {session_of(part)}."]
    people = counted(int(part["more"]), "person", "people")
    return [f"{part['number']} answers of {people}, {session_of(part)}."]


def _set_aside(parts: Sequence[Part]) -> list[str]:
    found = []
    for part in parts:
        is_one = part["number"] == 1
        what = f"Glass {part['words']}" if is_one else counted(part["number"], "glass", "glasses")
        whose = f" of {part['name']}" if part["more"] == "1" else ""
        done = "set aside" if part["is_so"] else "put back"
        found.append(f"{what}{whose}, {session_of(part)}, {done}: {part['reason'] or NO_REASON}")
    return [stopped(sentence) for sentence in found]


def _sample_aside(parts: Sequence[Part]) -> list[str]:
    return [
        stopped(
            f"Jug {listed(part)}, {session_of(part)}, "
            f"{'set aside' if part['is_so'] else 'put back'}: {part['reason'] or NO_REASON}"
        )
        for part in parts
    ]


def _correction(parts: Sequence[Part]) -> list[str]:
    return [
        stopped(
            f"Answer of {part['name']} to glass {part['words']}, {session_of(part)}, corrected: "
            f"{part['reason'] or NO_REASON}"
        )
        for part in parts
    ]


def _session_end(parts: Sequence[Part]) -> list[str]:
    words = {"closed": "closed", "called_off": "called off"}
    return [f"{session_of(part)} {words.get(part['words'], part['words'])}." for part in parts]


def _sitting_over(parts: Sequence[Part]) -> list[str]:
    return [
        f"{part['words']}, {session_of(part)}: {'over' if part['is_so'] else 'goes on'}."
        for part in parts
    ]


def _sitting_person(parts: Sequence[Part]) -> list[str]:
    return [f"{part['name']} {_coming(part)} ({session_of(part)})." for part in parts]


def _coming(part: Part) -> str:
    said = _OWN_WORDS if part["more"] == "own word" else _COMINGS
    return said.get(part["words"], part["words"])


def _phone_answer(parts: Sequence[Part]) -> list[str]:
    return [
        f"{part['name']} {'changed the answer to' if part['is_so'] else 'answered'} glass "
        f"{part['words']} by phone, {session_of(part)}."
        for part in parts
    ]


def _ballot_link(parts: Sequence[Part]) -> list[str]:
    part = parts[0]
    if part["number"] == 1 and part["name"]:
        return [f"New link to the ballot of {part['name']}, {session_of(part)}."]
    return [f"{counted(part['number'], 'link')} to ballots made, {session_of(part)}."]


def _ballot_language(parts: Sequence[Part]) -> list[str]:
    return [
        f"The ballot of {part['name']} speaks {_LANGUAGES.get(part['words'], part['words'])}."
        for part in parts
    ]


def _sample_state(parts: Sequence[Part]) -> list[str]:
    return [
        f"What jug {listed(part)} really held was stated, {session_of(part)}." for part in parts
    ]


def _spare_taken(parts: Sequence[Part]) -> list[str]:
    return [f"{part['name']} came without a plan, {session_of(part)}." for part in parts]


def _glass_event(parts: Sequence[Part]) -> list[str]:
    return [
        f"Glass {part['words']} of {part['name']} {_GLASSES.get(part['more'], part['more'])}, "
        f"{session_of(part)}."
        for part in parts
    ]


def _poured_instead(parts: Sequence[Part]) -> list[str]:
    return [f"Contents of glasses {listed(part)} exchanged, {session_of(part)}." for part in parts]


def _preparer(parts: Sequence[Part]) -> list[str]:
    return [
        f"{part['name']} {'prepares' if part['is_so'] else 'does not prepare'}, {session_of(part)}."
        for part in parts
    ]


def _recoding(parts: Sequence[Part]) -> list[str]:
    return [
        f"{part['name'] or 'Somebody else'} put the codes on, {session_of(part)}."
        if part["is_so"]
        else f"Nobody else put the codes on, {session_of(part)}."
        for part in parts
    ]


BALLOT_TELLERS: Final[Mapping[str, Teller]] = MappingProxyType(
    {"ballot_language": _ballot_language}
)
SESSION_TELLERS: Final[Mapping[str, Teller]] = MappingProxyType(
    {
        "plan": _plan,
        "session": _sessions,
        "serving": _serving,
        "answer": _answer,
        "phone_answer": _phone_answer,
        "ballot_link": _ballot_link,
        "set_aside": _set_aside,
        "sample_aside": _sample_aside,
        "correction": _correction,
        "session_end": _session_end,
        "sitting_over": _sitting_over,
        "sitting_person": _sitting_person,
        "sample_state": _sample_state,
        "spare_taken": _spare_taken,
        "glass_event": _glass_event,
        "poured_instead": _poured_instead,
        "preparer": _preparer,
        "recoding": _recoding,
    }
)
