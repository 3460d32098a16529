"""Which column is which: the documented names, the words people use for them, the two shapes."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from seatworthy.errors import Fault
from seatworthy.intake.cells import MICROGRAMS, MILLILITRES
from seatworthy.intake.words import Unreadable, fold, quoted, read_name

ANSWERS: Final = "answers"
GLASSES: Final = "glasses"

COLUMNS: Final = MappingProxyType(
    {
        "session": "name of the training or qualification session (may be empty)",
        "date": "day of the session, like 2026-03-05",
        "sitting": "which group or shift, when a session is held more than once (may be empty)",
        "panellist": "who tasted",
        "method": "naming (also when empty), 3-AFC, triangle, duo-trio, 2-AFC, A/not-A, intensity",
        "position": "place in the serving order, 1 for the first glass (may be empty)",
        "code": "blind code on the glass, zeros kept (may be empty)",
        "sample": "a mark that tells two preparations of the same content apart (may be empty)",
        "compound": "what was added: key, name or synonym; blank for a glass without",
        "level": "how many times the working threshold in total, like 3 or 2.5x",
        "dose": "instead of a level: the added amount with its unit, like 33 ug",
        "volume": "the volume it was added to, like 330 ml",
        "answer": "naming: a name or own words, nothing, or something when no name comes to mind; "
        "forced choice: right, wrong or the code picked; A/not-A: yes or no; intensity: a number",
        "rating": "the number, when method is intensity",
        "duplicate": "the same mark on two glasses that are a hidden pair (may be empty)",
        "base beer": "the beer it was added to (may be empty)",
        "beer family": "that beer's family, like Pale lagers (may be empty)",
        "set aside": "a reason, when the glass must not count, like spilled (may be empty)",
        "note": "anything worth keeping (may be empty)",
    }
)

_SYNONYMS: Final = MappingProxyType(
    {
        "session": "session name|session label|session title|training|sitzung|sesion",
        "date": "session date|session on|date of session|tasted on|tasting date|datum|fecha",
        "sitting": "shift|sitting label|tasting group|schicht|turno",
        "panellist": "panelist|taster|assessor|panel member|name|person|prufer|verkoster|catador",
        "method": "test|test method|test type|methode|metodo",
        "position": "pos|order|serving order|glass|glass no|glass number|place|posicion",
        "code": "blind code|three digit code|3 digit code|glass code|serving code|codigo",
        "sample": "sample mark|preparation|prep|probe|muestra",
        "compound": "spiked with|added compound|flavour|flavor|stoff|compuesto",
        "level": "multiple|times threshold|threshold multiple|level x|x threshold|stufe|nivel",
        "dose": "added|amount|added amount|dosis|menge",
        "volume": "into|beer volume|volumen",
        "answer": "response|said|call|answers|antwort|respuesta",
        "rating": "intensity|score|intensitat|intensidad",
        "duplicate": "dup|duplicate pair|pair|duplicate mark|duplikat|duplicado",
        "base beer": "beer|base|bier|cerveza",
        "beer family": "family|style|beer style|bierstil|estilo",
        "set aside": "exclude|excluded|left out|not counted|ausgeschlossen|excluido",
        "note": "notes|comment|comments|remark|remarks|bemerkung|nota",
    }
)
_NAMES: Final = {
    fold(word): name
    for name in COLUMNS
    for word in (name, name.replace(" ", "_"), *_SYNONYMS[name].split("|"))
}
_UNITS: Final = MappingProxyType({"dose": MICROGRAMS, "volume": MILLILITRES})
_WITH_UNIT: Final = re.compile(r"(.+?)(?: in)? (\w+)")
_EXPECTED: Final = ", ".join(COLUMNS)


@dataclass(frozen=True)
class Columns:
    """What a header says.

    Attributes:
        shape: "answers" (a row per answer) or "glasses" (a row per glass, a column per panellist).
        places: Index of the column by its documented name.
        units: Unit by name, for a dose or volume whose heading carries one.
        panellists: Name as written by index of the column; empty in the answers shape.
        notes: Sentences for the user.
    """

    shape: str
    places: Mapping[str, int]
    units: Mapping[str, str]
    panellists: Mapping[int, str]
    notes: tuple[str, ...]


def recognised(header: Sequence[str]) -> int:
    """How many headings are known."""
    return sum(_known(heading)[0] is not None for heading in header)


def find_columns(header: Sequence[str], line: int) -> tuple[Columns, list[Fault]]:
    """Read a header.

    Args:
        header: Its cells, without outer spaces.
        line: Its line, for the faults.

    Returns:
        The columns, and everything wrong with the header; with a fault the columns may be partial.
    """
    places: dict[str, int] = {}
    units: dict[str, str] = {}
    others: dict[int, str] = {}
    faults: list[str] = []
    for index, heading in enumerate(header):
        name, unit = _known(heading)
        if name is None:
            others[index] = heading
        elif name in places:
            faults.append(_both(name, header[places[name]], heading))
        else:
            places[name] = index
            if unit is not None:
                units[name] = unit
    shape = ANSWERS if "panellist" in places or "answer" in places else GLASSES
    faults += _missing(shape, places, others)
    notes: tuple[str, ...] = ()
    panellists: dict[int, str] = {}
    if shape == ANSWERS:
        ignored = ", ".join(quoted(heading) for heading in others.values() if heading)
        notes = (
            (f"Columns ignored, their headings say nothing we know: {ignored}.",) if ignored else ()
        )
    elif not faults:
        panellists, faults = _panellists(others)
    return Columns(shape, places, units, panellists, notes), [Fault(line, text) for text in faults]


def _known(heading: str) -> tuple[str | None, str | None]:
    """Documented name and unit that a heading stands for; None for either that it has not."""
    folded = fold(heading[:100])
    if folded in _NAMES:
        return _NAMES[folded], None
    match = _WITH_UNIT.fullmatch(folded)
    name = _NAMES.get(match[1]) if match else None
    if match and name in _UNITS and match[2] in _UNITS[name]:
        return name, match[2]
    return None, None


def _both(name: str, first: str, second: str) -> str:
    if first == second:
        return f"two columns are headed {quoted(first)}; keep one."
    return f"the columns {quoted(first)} and {quoted(second)} both stand for {name}; keep one."


def _missing(shape: str, places: Mapping[str, int], others: Mapping[int, str]) -> list[str]:
    needed = ["date", "compound"] + (["panellist"] if shape == ANSWERS else [])
    lacking = [name for name in needed if name not in places]
    if shape == ANSWERS and "answer" not in places and "rating" not in places:
        lacking.append("answer")
    if not lacking:
        return []
    found = ", ".join(quoted(heading) for heading in list(others.values())[:8] if heading)
    unknown = f" Not recognised: {found}." if found else ""
    return [f"the header has no column {', '.join(lacking)}.{unknown} Known are: {_EXPECTED}."]


def _panellists(others: Mapping[int, str]) -> tuple[dict[int, str], list[str]]:
    found: dict[int, str] = {}
    by_case: dict[str, str] = {}
    faults = []
    for index, heading in others.items():
        if not heading:
            continue
        try:
            name = read_name(heading)
        except Unreadable as fault:
            faults.append(f"the heading of column {index + 1}, read as a panellist, {fault}")
            continue
        if name.casefold() in by_case:
            faults.append(_both("one panellist", by_case[name.casefold()], name))
        by_case[name.casefold()] = name
        found[index] = name
    if not found and not faults:
        faults.append(
            "no column for answers: expected either the columns panellist and answer, "
            "or one more column per panellist, headed with the name."
        )
    return found, faults
