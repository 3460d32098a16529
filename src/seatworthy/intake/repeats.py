"""What must not occur twice: a code on two samples, a code or place twice for one person."""

from collections.abc import Iterator, Sequence
from typing import Any, Final

from seatworthy.errors import Fault
from seatworthy.intake.glasses import Reading
from seatworthy.intake.tastings import Tasting
from seatworthy.intake.words import fold, quoted

_SITTING: Final = ("date", "session", "sitting")
_CONTENT: Final = ("compound", "level", "dose", "volume", "sample", "base beer")


def code_clashes(reading: Reading) -> Iterator[Fault]:
    """Rows whose blind code stands for another sample earlier in the same sitting."""
    values, lines = reading.values, reading.table.lines
    sittings = zip(*(values[name] for name in (*_SITTING, "code")), strict=True)
    contents = zip(*(values[name] for name in _CONTENT), strict=True)
    faulty = reading.faulty(*_SITTING, *_CONTENT)
    first: dict[tuple[Any, ...], tuple[tuple[Any, ...], int]] = {}
    for row, (served, content) in enumerate(zip(sittings, contents, strict=True)):
        if served[-1] is None or row in faulty:
            continue
        earlier, line = first.setdefault(served, (content, lines[row]))
        if earlier != content:
            what = ", ".join(
                f"{name} {_shown(name, new)} instead of {_shown(name, old)}"
                for name, old, new in zip(_CONTENT, earlier, content, strict=True)
                if old != new
            )
            text = (
                f"the code {quoted(served[-1])} stands for another sample than on line {line} "
                f"of the same sitting ({what}): give one of them another code, or correct the row."
            )
            yield Fault(lines[row], text)


def repeated_servings(reading: Reading, tastings: Sequence[Tasting]) -> Iterator[Fault]:
    """Rows that give a panellist the same code, or the same place, a second time in a sitting."""
    names = (*_SITTING, "method", "code", "position")
    served = list(zip(*(reading.values[name] for name in names), strict=True))
    lines = reading.table.lines
    people = {name: _same_case(name) for name in {one.panellist for one in tastings}}
    faulty = reading.faulty(*names)
    first: dict[tuple[Any, ...], int] = {}
    blamed: set[tuple[int, str]] = set()
    for row, name, _ in tastings:
        if served[row][0] is None or row in faulty:
            continue
        *sitting, code, position = served[row]
        for what, mark in (("code", code), ("position", position)):
            if mark is None:
                continue
            earlier = first.setdefault((*sitting, people[name], what, mark), row)
            if earlier != row and (row, what) not in blamed:
                blamed.add((row, what))
                text = f"{name} has the {what} {quoted(mark)} already on line {lines[earlier]}"
                yield Fault(lines[row], f"{text}, in the same sitting; give each its own.")


def name_notes(panellists: Sequence[str]) -> Iterator[str]:
    """A sentence for every two spellings that differ by more than capitals, yet fold alike."""
    spelled: dict[str, dict[str, str]] = {}
    for name in panellists:
        spelled.setdefault(fold(name), {}).setdefault(_same_case(name), name)
    for spellings in spelled.values():
        if len(spellings) > 1:
            names = " and ".join(quoted(name) for name in spellings.values())
            yield f"{names} differ only by accents or marks; check whether they are one person."


def _same_case(name: str) -> str:
    return " ".join(name.casefold().split())


def _shown(name: str, value: object) -> str:
    if value is None:
        return "none"
    unit = {"dose": " ug", "volume": " ml"}.get(name, "")
    return f"{value}{unit}" if value != "" else "blank"
