"""What an act of recording put on record, said in a sentence."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from seatworthy.steps.history_bench_words import BENCH_TELLERS, PREPARED_TELLERS
from seatworthy.steps.history_brewer_words import BREWER_TELLERS
from seatworthy.steps.history_phrases import Part, Teller, counted, from_days, listed
from seatworthy.steps.history_privacy_words import PRIVACY_TELLERS
from seatworthy.steps.history_release_words import RELEASE_TELLERS
from seatworthy.steps.history_seat_words import SEAT_TELLERS
from seatworthy.steps.history_session_words import BALLOT_TELLERS, SESSION_TELLERS
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence, joined


def _of_shelf(one: str, many: str = "") -> Teller:
    def told(parts: Sequence[Part]) -> list[str]:
        part = parts[0]
        stated = counted(part["number"], one, many)
        return [f"{stated}: {listed(part)}{from_days(part)}."]

    return told


def _import_file(parts: Sequence[Part]) -> list[str]:
    part = parts[0]
    rows = f"{counted(part['number'], 'row')} read, {part['more']} added"
    return [f"Results file “{part['words']}” brought in: {rows}."]


def _shelf_file(parts: Sequence[Part]) -> list[str]:
    return [f"Shelf file “{parts[0]['words']}” brought in."]


def _brewery(parts: Sequence[Part]) -> list[str]:
    return [f"The brewery is {parts[0]['words']}."]


def _person(parts: Sequence[Part]) -> list[str]:
    return [f"{counted(parts[0]['number'], 'new name')} on record."]


def _same_person(parts: Sequence[Part]) -> list[str]:
    return [
        f"“{part['words'] or 'A name no longer kept'}” and “{part['more'] or 'another'}” are "
        f"{'one person' if part['is_so'] else 'two people again'}."
        for part in parts
    ]


def _panellist(parts: Sequence[Part]) -> list[str]:
    found = []
    for is_so, words in ((True, "on the panel"), (False, "not on the panel any more")):
        names = [part["name"] for part in parts if part["is_so"] is is_so]
        if names:
            found.append(f"{joined(names)} {'is' if len(names) == 1 else 'are'} {words}.")
    return found


def _not_served(parts: Sequence[Part]) -> list[str]:
    names = joined([part["name"] for part in parts])
    return [f"What {names} {'is' if len(parts) == 1 else 'are'} not to be served was stated."]


def _synonym(parts: Sequence[Part]) -> list[str]:
    part = parts[0]
    if part["number"] > 1 or "|" in part["more"]:
        return _of_shelf("wording")(parts)
    if not part["more"]:
        return [f"“{part['words']}” names no compound."]
    return [f"“{part['words']}” means {in_sentence(short_label(part['more']))}."]


def _accepted_words(parts: Sequence[Part]) -> list[str]:
    found = []
    for part in parts:
        named = [in_sentence(short_label(label)) for label in part["words"].split("|")]
        more = "" if part["is_so"] else " any more"
        verb = "is accepted for" if part["is_so"] else "is not accepted for"
        found.append(f"“{part['more']}” {verb} {joined(named, 'or')}{more}.")
    return found


# In this order the facts of one act are told.
_TELLERS: Final[Mapping[str, Teller]] = MappingProxyType(
    {
        **PRIVACY_TELLERS,
        **SEAT_TELLERS,
        "import_file": _import_file,
        "shelf_file": _shelf_file,
        **SESSION_TELLERS,
        **PREPARED_TELLERS,
        **BENCH_TELLERS,
        "brewery": _brewery,
        "compound": _of_shelf("compound"),
        "synonym": _synonym,
        "accepted_words": _accepted_words,
        "beer_family": _of_shelf("beer family", "beer families"),
        "base_beer": _of_shelf("base beer"),
        "working_threshold": _of_shelf("working threshold"),
        "background": _of_shelf("background"),
        "keeping": _of_shelf("loss after dosing", "losses after dosing"),
        "person": _person,
        "same_person": _same_person,
        "panellist": _panellist,
        "not_served": _not_served,
        **BREWER_TELLERS,
        **BALLOT_TELLERS,
        **RELEASE_TELLERS,
    }
)
# What is told by another fact of the same act already.
_SAID_BY: Final[Mapping[str, frozenset[str]]] = MappingProxyType(
    {
        "answer": frozenset({"correction", "serving", "phone_answer"}),
        "serving": frozenset({"spare_taken"}),
        "session": frozenset({"plan"}),
        "stock_state": frozenset({"stock"}),
        "person": frozenset({"panellist"}),
        "panellist": frozenset({"made_anonymous"}),
        "signer": frozenset({"made_anonymous"}),
        "synonym": frozenset({"compound"}),
    }
)
_GROUPS: Final = (
    ("kept", "Kept about people", tuple(PRIVACY_TELLERS)),
    ("files", "Files brought in", ("import_file",)),
    ("seats", "Seats and signatures", ("decision", "proposal", "proposal_reply", "signer")),
    ("rules", "Rulebooks", ("rulebook",)),
    ("release", "Release panels and calls", tuple(RELEASE_TELLERS)),
    ("corrections", "Corrected or set aside", ("correction", "set_aside", "sample_aside")),
    ("answers", "Answers", ("answer",)),
    ("sessions", "Sessions", (*SESSION_TELLERS, *PREPARED_TELLERS)),
    ("bench", "Bench", tuple(BENCH_TELLERS)),
    (
        "shelf",
        "Shelf and words",
        (
            "shelf_file", "brewery", "compound", "synonym", "accepted_words", "beer_family",
            "base_beer", "working_threshold", "background", "keeping",
        ),
    ),
    ("brewers", "What brewers see", tuple(BREWER_TELLERS)),
    ("people", "People", ("person", "same_person", "panellist", "not_served", "ballot_language")),
)  # fmt: skip
GROUP_LABELS: Final[Mapping[str, str]] = MappingProxyType(
    {**{key: label for key, label, _ in _GROUPS}, "other": "Other"}
)


def group_of(parts: Mapping[str, Sequence[Part]]) -> str:
    """Under which kind of act an entry is found: by the weightiest fact it holds, else "other"."""
    return next((key for key, _, names in _GROUPS if not parts.keys().isdisjoint(names)), "other")


def what_happened(kind: str, facts: int, parts: Mapping[str, Sequence[Part]]) -> str:
    """One act of recording in plain words.

    Args:
        kind: As it was sealed.
        facts: Rows recorded.
        parts: What it recorded, by table; an act of which nothing is known is told by its kind.
    """
    said = [
        sentence
        for name, teller in _TELLERS.items()
        if name in parts and parts.keys().isdisjoint(_SAID_BY.get(name, ()))
        for sentence in teller(parts[name])
    ]
    return " ".join(said) or f"Recorded as “{kind}”: {counted(facts, 'fact')}."
