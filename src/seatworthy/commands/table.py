"""Verdicts as lines for a terminal, at most as wide as the names ask for."""

from datetime import date, datetime

from seatworthy.steps.boards import board
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import first_names
from seatworthy.steps.records import record
from seatworthy.steps.views import BoardView, CellView, RecordView

MARKS = {"met": "+", "not_met": "x", "too_little": "?", "insensitive": "o", "no_glasses": ""}
KEY = (
    "+ met   x not met   ? too little evidence   o doesn't smell it   (named right/glasses)\n"
    "weak: fewer noses than the rulebook asks for"
)


def board_lines(
    desk: Desk, family: str | None, as_of: date | None, known_at: datetime | None
) -> list[str]:
    """The board of one beer family, or of all of them."""
    first = board(desk, family=family, as_of=as_of, known_at=known_at)
    if first.start_here:
        return [first.start_here]
    keys = [family] if family else [choice.key for choice in first.families]
    lines: list[str] = []
    for key in keys:
        view = board(desk, family=key, as_of=as_of, known_at=known_at)
        if view.rows:
            lines += [*_board(view), ""]
    return [*lines, KEY]


def person_lines(
    desk: Desk, person: str, family: str | None, as_of: date | None, known_at: datetime | None
) -> list[str]:
    """One panellist's record, rule by rule and compound by compound."""
    view = record(desk, person, family=family, as_of=as_of, known_at=known_at)
    return ["Nothing is on record yet."] if view is None else _record(view)


def _board(view: BoardView) -> list[str]:
    names = first_names({person.person_id: person.name for person in view.people})
    wide = max([10, *(len(name) for name in names.values())]) + 2
    left = max(len(row.label) for row in view.rows) + 2
    until = [person.until.isoformat() if person.until else "" for person in view.people]
    lines = [
        f"{view.family.label}, {view.as_of.isoformat()}, rulebook {view.rulebook}",
        _sentence(view.answer, view.catch),
        view.lead,
        "",
        " " * left + "".join(f"{names[p.person_id]:<{wide}}" for p in view.people) + "noses",
        f"{'can sit until' if view.is_signed else 'rule met until':<{left}}"
        + "".join(f"{day or 'no seat':<{wide}}" for day in until),
    ]
    for row in view.rows:
        cells = "".join(f"{_cell(row.cells[p.person_id]):<{wide}}" for p in view.people)
        star = " weak" if row.is_weak else ""
        lines.append(f"{row.label:<{left}}{cells}{row.noses if row.is_critical else ''}{star}")
    lines += [""] + [f"{p.name}: {p.reason}. {p.sentence}" for p in view.people if not p.can_sit]
    return lines


def _record(view: RecordView) -> list[str]:
    lines = [
        f"{view.person.name}, {view.family.label}, {view.as_of.isoformat()}",
        _sentence(view.answer, view.catch),
        view.lead,
        "",
    ]
    lines += [
        f"{MARKS[rule.standing]:1} {rule.title}: {rule.sentence} {rule.change}".rstrip()
        for rule in view.rules
    ]
    lines.append("")
    wide = max(len(row.label) for row in view.rows) + 2
    lines += [
        f"{MARKS[row.cell.standing] or ' '} {row.label:<{wide}}{row.cell.sentence}"
        for row in view.rows
    ]
    return [*lines, "", KEY]


def _cell(cell: CellView) -> str:
    if cell.standing == "no_glasses":
        return ""
    count = f"{cell.named_right}/{cell.glasses}" if cell.glasses else ""
    return f"{MARKS[cell.standing]} {count}"


def _sentence(answer: str, catch: str) -> str:
    return f"{answer}; {catch}" if catch else f"{answer}."
