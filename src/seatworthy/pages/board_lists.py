"""The board on a phone: what the sitters cover, weakest first, then who can sit and who cannot."""

from collections.abc import Sequence
from datetime import date

from seatworthy.pages.addresses import record_address
from seatworthy.pages.board_table import sitting_heads, term_words
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.names import initials
from seatworthy.phrases import STANDING_WORDS
from seatworthy.steps.labels import first_names
from seatworthy.steps.sentences import in_sentence, number_word
from seatworthy.steps.views import BoardView, CompoundRow, PersonView

_MARKS_BESIDE_A_NAME = 6
_GAPS_LISTED = 3


def board_lists(view: BoardView, on: date | None) -> str:
    """The same board as three lists, for narrow screens.

    Args:
        view: What to show.
        on: The day the address asks for, kept in every link; None for today.
    """
    sitting = [person for person in view.people if person.can_sit]
    others = [person for person in view.people if not person.can_sit]
    can_sit, cannot, _ = sitting_heads(on, is_signed=view.is_signed)
    parts = [_cover(view, sitting)]
    parts += [_people(can_sit, sitting, view, on)] if sitting else []
    parts += [_people(cannot, others, view, on)] if others else []
    return tag("div", "".join(parts), class_="lists")


def _cover(view: BoardView, sitting: Sequence[PersonView]) -> str:
    short = first_names({person.person_id: person.name for person in view.people})
    shorts = [short[person.person_id] for person in sitting]
    many = "many" if len(sitting) > _MARKS_BESIDE_A_NAME else None
    letters = "".join(tag("span", escaped(letter)) for letter in initials(shorts))
    who = tag("span", letters, class_="letters", aria_hidden="true")
    words = {0: "What nobody covers", 1: "What one nose covers"}
    head = words.get(len(sitting), f"What the {number_word(len(sitting))} cover")
    title = tag("div", tag("h2", head) + who, class_=" ".join(filter(None, ["title", many])))
    critical = sorted((row for row in view.rows if row.is_critical), key=lambda row: row.noses)
    others = [row for row in view.rows if not row.is_critical]
    rows = [_compound(row, sitting, shorts) for row in critical]
    folded = [_compound(row, sitting, shorts) for row in others]
    more = ""
    if folded:
        label = escaped(f"Not critical for {in_sentence(view.family.label)}")
        more = tag("details", tag("summary", label) + tag("ul", "".join(folded), class_=many))
    return title + tag("ul", "".join(rows), class_=many) + more


def _compound(row: CompoundRow, sitting: Sequence[PersonView], shorts: Sequence[str]) -> str:
    name = tag("span", escaped(row.label) + tag("i", escaped(row.note)), class_="name")
    marks = "".join(tag("span", mark(row.cells[person.person_id].standing)) for person in sitting)
    drawn = tag("span", marks, class_="marks", aria_hidden="true")
    below = tag("span", _noses_sentence(row, sitting, shorts), class_="below")
    line = tag("div", name + drawn + below, class_="line")
    return tag("li", line, class_="weak" if row.is_weak else None)


def _noses_sentence(row: CompoundRow, sitting: Sequence[PersonView], shorts: Sequence[str]) -> str:
    pairs = list(zip(sitting, shorts, strict=True))
    noses = [short for p, short in pairs if row.cells[p.person_id].standing == "met"]
    missing = [short for p, short in pairs if row.cells[p.person_id].standing != "met"]
    if not noses:
        return tag("b", "No nose")
    if not missing:
        return f"All {number_word(len(noses))}" if len(noses) > 1 else escaped(noses[0])
    if len(noses) == 1:
        return tag("b", f"One nose only: {escaped(noses[0])}")
    return escaped(f"{len(noses)} noses; not {', '.join(missing)}")


def _people(head: str, people: Sequence[PersonView], view: BoardView, on: date | None) -> str:
    rows = []
    for person in people:
        address = record_address(person.person_id, family=view.family.key, on=on)
        name = tag("span", escaped(person.name), class_="name")
        term = tag("span", term_words(person, view.as_of), class_="term")
        below = tag("span", escaped(_gaps(person, view)), class_="below")
        inside = name + term + below
        rows.append(tag("li", tag("a", inside, class_="line", href=address, target="_self")))
    return tag("div", tag("h2", head), class_="title") + tag("ul", "".join(rows))


def _gaps(person: PersonView, view: BoardView) -> str:
    gaps = [
        _gap(row, person.person_id)
        for row in view.rows
        if row.is_critical and row.cells[person.person_id].standing != "met"
    ]
    met = f"{person.critical_met} of {person.critical_asked} critical met"
    more = len(gaps) - _GAPS_LISTED
    rest = [f"{more} more"] if more > 0 else []
    return "; ".join([met, *gaps[:_GAPS_LISTED], *rest])


def _gap(row: CompoundRow, person_id: str) -> str:
    cell = row.cells[person_id]
    word = STANDING_WORDS[cell.standing]
    if cell.standing in ("no_glasses", "insensitive"):
        return f"{in_sentence(row.label)}: {word}"
    count = f" {cell.named_right} of {cell.glasses}" if cell.glasses else ""
    return f"{in_sentence(row.label)}{count}, {word}"
