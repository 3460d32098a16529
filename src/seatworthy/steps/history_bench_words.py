"""What happened at the bench, said in sentences that tell nothing of what is in a glass."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from seatworthy.steps.history_phrases import Part, Teller, counted, from_days, listed, session_of

_STEPS: Final = MappingProxyType(
    {
        "capped": "capped",
        "tight": "found tight",
        "chilled": "chilled",
        "put_away": "put away and not poured",
    }
)


def _equipment(one: str) -> Teller:
    def told(parts: Sequence[Part]) -> list[str]:
        return [
            f"{one} {listed(part)} {'on the bench' if part['is_so'] else 'out of use'}."
            for part in parts
        ]

    return told


def _stock(parts: Sequence[Part]) -> list[str]:
    return [
        f"{counted(part['number'], 'stock')} {'made by dilution' if part['is_so'] else 'on the bench'}: "
        f"{listed(part)}."
        for part in parts
    ]


def _stock_state(parts: Sequence[Part]) -> list[str]:
    return [f"Last day, opening or what is left was stated: {listed(part)}." for part in parts]


def _compound_limit(parts: Sequence[Part]) -> list[str]:
    return [f"Keeping or ceiling stated: {listed(part)}{from_days(part)}." for part in parts]


def _recipe(parts: Sequence[Part]) -> list[str]:
    return [
        f"Doses of {counted(part['number'], 'jug')} worked out, {session_of(part)}."
        for part in parts
    ]


def _vessel_dosed(parts: Sequence[Part]) -> list[str]:
    return [
        f"Vessel {listed(part)}, {session_of(part)}: "
        f"{'dosed' if part['is_so'] else 'its dose taken back'}."
        for part in parts
    ]


def _vessel_step(parts: Sequence[Part]) -> list[str]:
    found = []
    for part in parts:
        step = _STEPS.get(part["more"], part["more"])
        what = step if part["is_so"] else f"“{step}” taken back"
        found.append(f"Vessel {listed(part)}, {session_of(part)}: {what}.")
    return found


def _vessel_remark(parts: Sequence[Part]) -> list[str]:
    return [f"A note on vessel {listed(part)}, {session_of(part)}." for part in parts]


BENCH_TELLERS: Final[Mapping[str, Teller]] = MappingProxyType(
    {
        "stock": _stock,
        "stock_state": _stock_state,
        "pipette": _equipment("Pipette"),
        "container": _equipment("Vessels"),
        "compound_limit": _compound_limit,
    }
)
PREPARED_TELLERS: Final[Mapping[str, Teller]] = MappingProxyType(
    {
        "recipe": _recipe,
        "vessel_dosed": _vessel_dosed,
        "vessel_step": _vessel_step,
        "vessel_remark": _vessel_remark,
    }
)
