"""The board at a desk: compounds go down, people go across, those who can sit today stand left."""

from datetime import date

from seatworthy.pages.addresses import record_address
from seatworthy.pages.figures import long_day, short_day
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.phrases import (
    MEETING_HEADS,
    MEETING_HEADS_THEN,
    SITTING_HEADS,
    SITTING_HEADS_THEN,
    STANDING_WORDS,
)
from seatworthy.steps.labels import first_names
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.views import BoardView, CellView, CompoundRow, PersonView

_NARROWEST = 88  # px for one person
_BESIDE = 318  # px for names, noses and the gap


def board_table(view: BoardView, on: date | None) -> str:
    """The whole board as one table with real heads.

    Args:
        view: What to show.
        on: The day the address asks for, kept in every link; None for today.
    """
    return _Table(view, on).html()


class _Table:
    """The parts of one table, which all need to know who sits where."""

    def __init__(self, view: BoardView, on: date | None) -> None:
        self.view, self.on = view, on
        self.can_sit, self.cannot, self.noses = sitting_heads(on, is_signed=view.is_signed)
        self.sitting = [person for person in view.people if person.can_sit]
        self.others = [person for person in view.people if not person.can_sit]
        self.short = first_names({person.person_id: person.name for person in view.people})

    def html(self) -> str:
        width = _BESIDE + _NARROWEST * len(self.view.people)
        parts = self._columns() + tag("thead", self._groups() + self._heads())
        parts += tag("tbody", "".join(self._body()))
        table = tag("table", parts, class_="board", style=f"min-width:{width}px")
        return tag("div", table, class_="across")

    def _columns(self) -> str:
        many = "<col>" * len(self.sitting)
        rest = "<col class=gap>" + "<col>" * len(self.others) if self.others else ""
        return f"<colgroup><col class=name>{many}<col class=noses>{rest}</colgroup>"

    def _groups(self) -> str:
        parts = "<td></td>"
        if self.sitting:
            parts += tag("th", self.can_sit, colspan=len(self.sitting), scope="colgroup")
        parts += "<td></td>"
        if self.others:
            inside = tag("th", self.cannot, colspan=len(self.others), scope="colgroup")
            parts += "<td></td>" + inside
        return tag("tr", parts, class_="groups")

    def _heads(self) -> str:
        parts = tag("th", unseen("Compound"), scope="col", class_="lined")
        parts += "".join(self._person(person) for person in self.sitting)
        parts += tag("th", self.noses, scope="col", class_="lined noses")
        if self.others:
            parts += '<td class="gap"></td>' + "".join(self._person(p) for p in self.others)
        return tag("tr", parts)

    def _person(self, person: PersonView) -> str:
        address = record_address(person.person_id, family=self.view.family.key, on=self.on)
        name = tag("b", escaped(self.short[person.person_id]))
        title = f"{person.name}. {person.sentence}"
        link = tag("a", name, href=address, title=title, target="_self")
        left = ""
        if person.can_sit:
            share = max(0.0, min(1.0, person.term_left))
            left = tag("i", style=f"width:{100 * share:.0f}%", aria_hidden="true")
        word = tag("span", term_words(person, self.view.as_of), class_="term")
        outside = "" if person.can_sit else " outside"
        return tag("th", link + word + left, scope="col", class_=f"lined who{outside}")

    def _body(self) -> list[str]:
        critical = [row for row in self.view.rows if row.is_critical]
        others = [row for row in self.view.rows if not row.is_critical]
        lines = [self._row(row) for row in critical]
        if critical and others:
            lines.append(self._section(f"Not critical for {in_sentence(self.view.family.label)}"))
        return lines + [self._row(row) for row in others]

    def _section(self, words: str) -> str:
        head = tag("th", escaped(words), colspan=len(self.sitting) + 2, scope="rowgroup")
        if self.others:
            head += f'<td class="gap"></td><td colspan="{len(self.others)}"></td>'
        return tag("tr", head, class_="section")

    def _row(self, row: CompoundRow) -> str:
        note = tag("i", escaped(row.note)) if row.note else ""
        head = tag("th", tag("span", escaped(row.label)) + note, scope="row", title=row.label)
        parts = head + "".join(self._cell(person, row) for person in self.sitting)
        parts += tag("td", noses_words(row), class_="noses")
        if self.others:
            parts += '<td class="gap"></td>'
            parts += "".join(self._cell(person, row) for person in self.others)
        return tag("tr", parts, class_="weak" if row.is_weak else None)

    def _cell(self, person: PersonView, row: CompoundRow) -> str:
        cell = row.cells[person.person_id]
        address = record_address(
            person.person_id, family=self.view.family.key, on=self.on, compound=row.compound
        )
        ear = "ear" if cell.is_due_soon else None
        title = cell_title(person.name, row.label, cell, self.view.as_of)
        link = tag("a", cell_words(cell), href=address, title=title, class_=ear, target="_self")
        outside = "" if person.can_sit else " outside"
        return tag("td", link, class_=f"cell is-{cell.standing}{outside}")


def sitting_heads(on: date | None, *, is_signed: bool) -> tuple[str, str, str]:
    """What stands over those who can sit, those who cannot, and the noses, as HTML."""
    if not is_signed:
        return MEETING_HEADS if on is None else MEETING_HEADS_THEN
    return SITTING_HEADS if on is None else SITTING_HEADS_THEN


def term_words(person: PersonView, seen_on: date) -> str:
    """Until when somebody may sit, or why not today, as HTML."""
    if not person.can_sit:
        return escaped(person.reason)
    if person.until is None:
        return ""
    day = short_day(person.until, seen_on)
    return f"due by {tag('b', day, class_='due')}" if person.is_due_soon else f"until {day}"


def noses_words(row: CompoundRow) -> str:
    """How many noses cover a compound today, as HTML; a weak one says what is wrong."""
    if row.noses == 0:
        return tag("b", "no nose") if row.is_weak else "none"
    only = " nose only" if row.noses == 1 else " noses only"
    return tag("b", str(row.noses)) + (only if row.is_weak else "")


def cell_words(cell: CellView) -> str:
    """Mark, count and hidden word of one cell, as HTML."""
    word = STANDING_WORDS[cell.standing]
    if cell.standing == "no_glasses":
        return unseen(word)
    count = f"{cell.named_right}{tag('small', f'/{cell.glasses}')}" if cell.glasses else ""
    return mark(cell.standing) + tag("span", count + unseen(f", {word}"))


def cell_title(name: str, label: str, cell: CellView, seen_on: date) -> str:
    """What a cell says when a pointer rests on it: who, what, the verdict, until when."""
    until = f" Holds until {long_day(cell.until, seen_on)}." if cell.until else ""
    return f"{name}, {label}: {cell.sentence}{until}"
