"""Who can be asked about which compound today, for a brewer: no score, no reason, no day."""

from dataclasses import dataclass
from typing import Final

from seatworthy.rules.rulebook import Item
from seatworthy.rules.verdict import Standing
from seatworthy.steps.brewer_sight import sees_scores
from seatworthy.steps.brewer_views import FitCell, Fitness, FitRow, FitView
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import first_names, item_label, short_label
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start, the_beers
from seatworthy.steps.views import Choice
from seatworthy.steps.who_sits import WhoSits, who_sits

EMPTY: Final = "Nobody can be asked yet: nothing has been tasted that the panel is judged by."
EMPTY_LEAD: Final = "It fills once the leader has closed a first session, or brought results in."
NOT_SIGNED: Final = "no seat is signed yet, so ask the leader before you rely on anybody."
_LEAD: Final = "What nobody can be asked about, a silent panel says nothing of. The leader keeps what this rests on."
_FITNESS: Final[dict[str, Fitness]] = {
    Standing.MET: "asked",
    Standing.NOT_MET: "not",
    Standing.INSENSITIVE: "not",
}


@dataclass(frozen=True)
class Sitting:
    """Those who sit for one beer family today, by name, as a brewer may know them.

    Attributes:
        sits: Who sits.
        families: To choose from, by label, since their usual order tells how much was tasted.
        people: Person ids.
        names: First name by person id.
        with_scores: Whether figures may be shown.
    """

    sits: WhoSits
    families: tuple[Choice, ...]
    family: Choice
    people: tuple[str, ...]
    names: dict[str, str]
    with_scores: bool

    @property
    def judged(self) -> Judged:
        """The day judged."""
        return self.sits.judged

    @property
    def critical(self) -> tuple[Item, ...]:
        """Critical compounds of the family, of a group all."""
        return tuple(self.judged.critical[self.family.key])

    def cell(self, person: str, compound: str) -> FitCell:
        """Whether somebody can be asked about a compound."""
        key = (person, compound, self.family.key)
        found, day = self.judged.cells.get(key), self.judged.days.get(key)
        fitness = _FITNESS.get(found.standing, "untested") if found else "untested"
        figures = f"{day.hits} of {day.glasses}" if self.with_scores and day else ""
        return FitCell(fitness, figures)

    def can_be_asked(self, person: str, item: Item) -> bool:
        """Whether somebody can be asked about a compound, or about one of a group."""
        return any(self.cell(person, compound).fitness == "asked" for compound in item)


def sitting_today(desk: Desk, family: str | None) -> Sitting | None:
    """Those who sit; None before anything was judged.

    Args:
        desk: The open store.
        family: Beer family's key; None, or one that is not known, for the first by its label.
    """
    judged = judge_day(desk)
    if not judged.people or not judged.cells:
        return None
    families = tuple(
        Choice(key, label)
        for key, label in sorted(judged.families.items(), key=lambda one: one[1].casefold())
    )
    chosen = next((one for one in families if one.key == family), families[0])
    sits = who_sits(desk, judged, chosen.key)
    names = first_names(judged.people)
    people = sorted((p for p in judged.people if sits.sits(p)), key=lambda p: names[p].casefold())
    return Sitting(sits, families, chosen, tuple(people), names, sees_scores(desk))


def fit_today(desk: Desk, family: str | None = None) -> FitView:
    """The page; arguments as in `sitting_today`."""
    found = sitting_today(desk, family)
    if found is None:
        return FitView((), Choice("", ""), "", "", EMPTY_LEAD, (), (), EMPTY)
    gaps, is_signed = _catch(found), found.sits.is_signed or not found.people
    return FitView(
        families=found.families,
        family=found.family,
        answer=_answer(found),
        catch=gaps if is_signed else NOT_SIGNED,
        lead=_LEAD if is_signed else f"{sentence_start(gaps)} {_LEAD}".strip(),
        people=tuple(found.names[person] for person in found.people),
        rows=_rows(found) if found.people else (),
    )


def _answer(found: Sitting) -> str:
    beers, count = the_beers(found.family.label), len(found.people)
    if not count:
        return f"Nobody can be asked about {beers} today"
    people = "person" if count == 1 else "people"
    verb = "can be asked about" if found.sits.is_signed else "could be asked about"
    return f"{sentence_start(number_word(count))} {people} {verb} {beers} today"


def _catch(found: Sitting) -> str:
    """Critical compounds that nobody, or fewer than the rulebook asks for, can be asked about."""
    if not found.people:
        return ""
    asked = found.judged.rulebook.panel.people_per_compound
    cover = {
        item: sum(found.can_be_asked(person, item) for person in found.people)
        for item in found.critical
    }
    nobody = [_item(found, item) for item, count in cover.items() if count == 0 < asked]
    if nobody:
        return f"nobody about {joined(nobody, 'or')}."
    thin = [_item(found, item) for item, count in cover.items() if count < asked]
    few = "only one" if asked == 2 else f"fewer than {number_word(asked)}"
    return f"{few} about {joined(thin, 'or')}." if thin else ""


def _item(found: Sitting, item: Item) -> str:
    return in_sentence(item_label(item, found.judged.labels))


def _rows(found: Sitting) -> tuple[FitRow, ...]:
    """Critical compounds in their order; of the others those of which anything can be said."""
    critical = [compound for item in found.critical for compound in item]
    others = {c for _, c, family in found.judged.cells if family == found.family.key}
    rows = [_row(found, compound, is_critical=True) for compound in critical]
    more = [_row(found, compound, is_critical=False) for compound in others - set(critical)]
    told = [row for row in more if any(cell.fitness != "untested" for cell in row.cells)]
    return (*rows, *sorted(told, key=lambda row: row.label.casefold()))


def _row(found: Sitting, compound: str, *, is_critical: bool) -> FitRow:
    label = short_label(found.judged.labels.get(compound, compound))
    cells = tuple(found.cell(person, compound) for person in found.people)
    return FitRow(label, is_critical, cells)
