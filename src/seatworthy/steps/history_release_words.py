"""What is told of batches, release panels and weighed calls in the history."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from seatworthy.steps.history_phrases import Part, Teller, counted, listed, session_of
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence

NOTHING, UNLISTED = "nothing", "unlisted"  # besides compounds, what a beer may have
_FOUND: Final = MappingProxyType(
    {NOTHING: "nothing wrong", UNLISTED: "something that is not on the list"}
)


def _batch(parts: Sequence[Part]) -> list[str]:
    return [f"Batch {part['words']} is on record." for part in parts]


def _batch_crew(parts: Sequence[Part]) -> list[str]:
    return [
        f"{part['name']} {'belongs' if part['is_so'] else 'does not belong'} to the crew that made "
        f"{part['words']}."
        for part in parts
    ]


def _talk(parts: Sequence[Part]) -> list[str]:
    return [
        f"The talk was {'opened' if part['is_so'] else 'ended'}: {part['words']}, {session_of(part)}."
        for part in parts
    ]


def _talk_answer(parts: Sequence[Part]) -> list[str]:
    return [
        f"{counted(part['number'], 'answer')} of {part['name']} after the talk, {session_of(part)}."
        for part in parts
    ]


def _chosen_panel(parts: Sequence[Part]) -> list[str]:
    return [
        f"A panel of {part['number']} was chosen for {part['more'] or part['words']}."
        for part in parts
    ]


def _beer_share(parts: Sequence[Part]) -> list[str]:
    return [
        f"How often {part['more']} have a fault was stated anew: {listed(part)}." for part in parts
    ]


def _weighed_call(parts: Sequence[Part]) -> list[str]:
    return [f"What was said of {part['words']} was weighed." for part in parts]


def _call_outcome(parts: Sequence[Part]) -> list[str]:
    found = []
    for part in parts:
        what = _FOUND.get(part["more"]) or in_sentence(short_label(part["more"]))
        reason = f": {part['reason']}" if part["reason"] else ""
        found.append(f"{part['words']} turned out to have {what}{reason}.")
    return found


RELEASE_TELLERS: Final[Mapping[str, Teller]] = MappingProxyType(
    {
        "batch": _batch,
        "batch_crew": _batch_crew,
        "talk": _talk,
        "talk_answer": _talk_answer,
        "chosen_panel": _chosen_panel,
        "beer_share": _beer_share,
        "weighed_call": _weighed_call,
        "call_outcome": _call_outcome,
    }
)
