"""What those at the table cover, for a brewer: without a chance, by who can be asked alone."""

from collections.abc import Collection
from typing import Final

from seatworthy.rules.rulebook import Item
from seatworthy.steps.brewer_views import TableRow, TableView
from seatworthy.steps.desk import Desk
from seatworthy.steps.fit_today import EMPTY, EMPTY_LEAD, Sitting, sitting_today
from seatworthy.steps.labels import item_label
from seatworthy.steps.sentences import in_sentence, joined, number_word, the_beers
from seatworthy.steps.views import Choice

_LEAD: Final = (
    "A compound nobody here can be asked about may slip past however many sit. Those named last "
    "could be asked, and are not at the table."
)
_NO_LIST: Final = "No compound is critical for {beers}, so nothing says what must not slip past"


def around_table(
    desk: Desk, family: str | None = None, here: Collection[str] | None = None
) -> TableView:
    """What some people cover of a beer family's critical compounds.

    Args:
        desk: The open store.
        family: Beer family's key; None, or one that is not known, for the first by its label.
        here: Person ids of those at the table; None for everybody who sits for the family.
    """
    found = sitting_today(desk, family)
    if found is None:
        return TableView((), Choice("", ""), "", "", EMPTY_LEAD, (), (), EMPTY)
    at_table = tuple(person for person in found.people if here is None or person in here)
    rows = tuple(_row(found, item, at_table) for item in found.critical)
    answer, catch = _sentence(found, rows, at_table)
    return TableView(
        families=found.families,
        family=found.family,
        answer=answer,
        catch=catch,
        lead=_LEAD if rows else "",
        people=tuple(Choice(person, found.judged.people[person]) for person in found.people),
        rows=rows,
    )


def _row(found: Sitting, item: Item, at_table: Collection[str]) -> TableRow:
    able = [person for person in found.people if found.can_be_asked(person, item)]
    here = [person for person in able if person in at_table]
    enough = len(here) >= found.judged.rulebook.panel.people_per_compound
    return TableRow(
        label=item_label(item, found.judged.labels),
        state="enough" if enough else "thin" if here else "nobody",
        here=tuple(_named(found, person, item) for person in here),
        elsewhere=tuple(_named(found, person, item) for person in able if person not in at_table),
    )


def _named(found: Sitting, person: str, item: Item) -> str:
    cells = [found.cell(person, compound) for compound in item]
    figures = ", ".join(cell.figures for cell in cells if cell.figures)
    return f"{found.names[person]} ({figures})" if figures else found.names[person]


def _sentence(
    found: Sitting, rows: tuple[TableRow, ...], at_table: Collection[str]
) -> tuple[str, str]:
    beers = the_beers(found.family.label)
    if not found.people:
        return f"Nobody can be asked about {beers} today", ""
    if not at_table:
        return "Nobody is at the table", "say who is here."
    if not rows:
        return _NO_LIST.format(beers=beers), ""
    who = joined([found.names[person] for person in at_table])
    start = f"With {who} at the table"
    nobody = [in_sentence(row.label) for row in rows if row.state == "nobody"]
    thin = [in_sentence(row.label) for row in rows if row.state == "thin"]
    if not nobody and not thin:
        return f"{start} enough can be asked about every critical compound of {beers}", ""
    if not nobody:
        return f"{start} somebody can be asked about every critical compound", (
            f"too few about {joined(thin, 'or')}."
        )
    some = len(rows) - len(nobody)
    if not some:
        return f"Nobody at the table can be asked about anything critical of {beers}", ""
    covered = f"{number_word(some)} of {number_word(len(rows))} critical compounds"
    return f"{start} somebody can be asked about {covered}", (
        f"nobody here about {joined(nobody, 'or')}."
    )
