"""What was adopted, proposed, replied and signed about seats, said in sentences."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from seatworthy.phrases import STATE_WORDS
from seatworthy.steps.history_phrases import Part, Teller, plain_day, stopped, until_words
from seatworthy.steps.sentences import in_sentence

_SIGNERS: Final = MappingProxyType(
    {"": "may sign decisions", "again": "has a new PIN", "no": "may not sign any more"}
)
_REPLIES: Final = MappingProxyType(
    {
        "seen": "has seen the proposal",
        "remark": "replied to the proposal",
        "recheck": "asks for a recheck",
        "withdrawn": "takes back the wish for a recheck",
    }
)


def _rulebook(parts: Sequence[Part]) -> list[str]:
    return [
        f"Rulebook {part['words']}, version {part['number']}, adopted; it counts from "
        f"{plain_day(part['first_on'])}."
        for part in parts
    ]


def _signer(parts: Sequence[Part]) -> list[str]:
    return [
        f"{part['name']} {_SIGNERS[part['more'] if part['is_so'] else 'no']}." for part in parts
    ]


def _state(part: Part) -> str:
    return STATE_WORDS.get(part["words"], part["words"])


def _proposal(parts: Sequence[Part]) -> list[str]:
    return [
        f"Proposal put before {part['name']} ({in_sentence(part['more'])}): {_state(part)}"
        f"{until_words(part)}."
        for part in parts
    ]


def _reply(parts: Sequence[Part]) -> list[str]:
    return [
        stopped(
            f"{part['name']} {_REPLIES.get(part['words'], part['words'])}"
            f"{': ' + part['reason'] if part['reason'] else ''}"
        )
        for part in parts
    ]


def _decision(parts: Sequence[Part]) -> list[str]:
    return [
        stopped(
            f"Decision signed for {part['name']} ({in_sentence(part['more'])}): "
            f"{_state(part)}, from {plain_day(part['first_on'])}{until_words(part)}"
            f"{'. Reason: ' + part['reason'] if part['reason'] else ''}"
        )
        for part in parts
    ]


SEAT_TELLERS: Final[Mapping[str, Teller]] = MappingProxyType(
    {
        "rulebook": _rulebook,
        "signer": _signer,
        "proposal": _proposal,
        "proposal_reply": _reply,
        "decision": _decision,
    }
)
