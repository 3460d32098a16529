"""The people: who is on the panel, since when, and what they are not to be served."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from seatworthy.errors import PanelError
from seatworthy.intake.words import Unreadable, fold, read_name
from seatworthy.steps.ballot_languages import USUAL, languages
from seatworthy.steps.desk import EARLIEST, Desk
from seatworthy.steps.people import known_spellings, nearest_names
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start
from seatworthy.steps.shelf_views import PanelLine, PanelListView
from seatworthy.steps.signing import sign
from seatworthy.steps.views import Choice
from seatworthy.store.people import record_spellings

NOTHING_NEW = "Nothing new to record."
_A_YEAR = timedelta(days=366)


@dataclass(frozen=True)
class PanelPerson:
    """One person as sessions are planned for them.

    Attributes:
        person_id: The id they stand for.
        name: As shown.
        is_panellist: Whether they are on the panel; they are unless somebody said otherwise.
        since_on: First day on the panel; None if nobody said.
        refused_compounds: Keys of compounds they are not to be served.
        refused_beers: Keys of base beers they are not to be served.
    """

    person_id: str
    name: str
    is_panellist: bool
    since_on: date | None
    refused_compounds: frozenset[str]
    refused_beers: frozenset[str]


def people_of_panel(desk: Desk) -> tuple[PanelPerson, ...]:
    """Everybody on record, by name, those who are not on the panel any more too."""
    refused: dict[tuple[str, str], set[str]] = {}
    for row in desk.store.rows("panel_not_served"):
        refused.setdefault((row["person_id"], row["kind"]), set()).add(row["what"])
    return tuple(
        PanelPerson(
            row["person_id"],
            row["spelling"],
            row["is_panellist"],
            row["since_on"],
            frozenset(refused.get((row["person_id"], "compound"), ())),
            frozenset(refused.get((row["person_id"], "beer"), ())),
        )
        for row in desk.store.rows("panel_people")
    )


def panel(desk: Desk) -> PanelListView:
    """The list of people with its sentence."""
    people = people_of_panel(desk)
    compounds = {row["compound"]: row["label"] for row in desk.store.rows("panel_compounds")}
    beers = {row["beer"]: row["label"] for row in desk.store.rows("panel_beers")}
    spoken = languages(desk)
    answer, catch, lead = _sentences(desk, people)
    return PanelListView(
        answer=answer,
        catch=catch,
        lead=lead,
        today=desk.today(),
        people=tuple(
            _line(person, compounds, beers, spoken.get(person.person_id, USUAL))
            for person in people
        ),
        compounds=tuple(Choice(key, label) for key, label in compounds.items()),
        beers=tuple(Choice(key, label) for key, label in beers.items()),
    )


def add_people(
    desk: Desk,
    names: Sequence[str],
    since_on: date | None,
    *,
    lookalikes_are_new: bool = False,
    by: str | None = None,
) -> str:
    """Put new people on the panel, all of them or nobody.

    Args:
        desk: The open store.
        names: One name each; empty ones are passed over.
        since_on: Their first day on the panel; None if it is not known.
        lookalikes_are_new: Whether names that only look like one on record are other people.
        by: Who did it.

    Raises:
        PanelError: with every name that will not do, is on record, or looks like one on record.
    """
    wanted = [name for name in names if name.strip()]
    if not wanted:
        message = "No name was written. Write one name a line."
        raise PanelError(message)
    _check_since(desk, since_on)
    found, faults = _new_names(desk, wanted, lookalikes_are_new=lookalikes_are_new)
    if faults:
        message = "\n".join(["Nobody was added; look at these:", *(f"- {f}" for f in faults)])
        raise PanelError(message)
    with desk.store.recording("people") as act:
        for person_id in record_spellings(act, found).values():
            act.add(
                "panellist",
                {"person_id": person_id, "is_panellist": True, "since_on": since_on},
            )
        sign(act, by)
    return f"{joined(found)} {'is' if len(found) == 1 else 'are'} on the panel."


def lookalikes(desk: Desk, names: Sequence[str]) -> tuple[str, ...]:
    """A question for each name that only looks like one on record; none while others won't do."""
    wanted = [name for name in names if name.strip()]
    if _new_names(desk, wanted, lookalikes_are_new=True)[1]:
        return ()
    return tuple(_new_names(desk, wanted)[1])


def set_panellist(desk: Desk, person_id: str, is_panellist: bool, *, by: str | None = None) -> str:
    """State that somebody is, or is no longer, on the panel; their record stays either way.

    Raises:
        PanelError: if nobody on record has this id.
    """
    person = _somebody(desk, person_id)
    if person.is_panellist == is_panellist:
        return NOTHING_NEW
    if is_panellist and any(
        row["stands_for"] == person_id for row in desk.store.rows("anonymous_spellings")
    ):
        message = (
            f"{person.name} can't be on the panel: the name is gone. Add them as a new person."
        )
        raise PanelError(message)
    row = {"person_id": person_id, "is_panellist": is_panellist, "since_on": person.since_on}
    with desk.store.recording("people") as act:
        act.add("panellist", row)
        sign(act, by)
    if is_panellist:
        return f"{person.name} is on the panel again."
    return f"{person.name} is not on the panel any more. The record stays."


def not_to_serve(
    desk: Desk,
    person_id: str,
    compounds: Sequence[str],
    beers: Sequence[str],
    *,
    by: str | None = None,
) -> str:
    """State all that somebody is not to be served; it takes the place of what was stated before.

    No reason is asked for and none is kept.

    Args:
        desk: The open store.
        person_id: Whom it is about.
        compounds: Keys of compounds.
        beers: Keys of base beers.
        by: Who did it.

    Raises:
        PanelError: if nobody has this id, or a compound or beer is not on the shelf.
    """
    person = _somebody(desk, person_id)
    known = {
        "compound": {row["compound"]: row["label"] for row in desk.store.rows("panel_compounds")},
        "beer": {row["beer"]: row["label"] for row in desk.store.rows("panel_beers")},
    }
    wanted = {("compound", key) for key in compounds} | {("beer", key) for key in beers}
    for kind, what in sorted(wanted):
        if what not in known[kind]:
            message = f"“{what}” is not a {kind} on the shelf. Nothing was recorded."
            raise PanelError(message)
    before = {("compound", key) for key in person.refused_compounds}
    before |= {("beer", key) for key in person.refused_beers}
    if wanted == before:
        return NOTHING_NEW
    with desk.store.recording("people") as act:
        act.add_all(("not_served", row) for row in _changes(person_id, before, wanted))
        sign(act, by)
    labels = [
        in_sentence(known[kind][what]) if kind == "compound" else known[kind][what]
        for kind, what in sorted(wanted, reverse=True)
    ]
    what = f"is not to be served {joined(labels, 'or')}" if labels else "may be served everything"
    return f"{person.name} {what}."


def _changes(
    person_id: str, before: set[tuple[str, str]], wanted: set[tuple[str, str]]
) -> Iterator[dict[str, object]]:
    for kind, what in sorted(before ^ wanted):
        is_in_force = (kind, what) in wanted
        yield {"person_id": person_id, "kind": kind, "what": what, "is_in_force": is_in_force}


def _somebody(desk: Desk, person_id: str) -> PanelPerson:
    for person in people_of_panel(desk):
        if person.person_id == person_id:
            return person
    message = "Nobody on the list of people goes by that id. Nothing was recorded."
    raise PanelError(message)


def _check_since(desk: Desk, since_on: date | None) -> None:
    latest = desk.today() + _A_YEAR
    if since_on is not None and not EARLIEST <= since_on <= latest:
        message = f"On the panel since {since_on}? Name a day from {EARLIEST} to {latest}."
        raise PanelError(message)


def _new_names(
    desk: Desk, wanted: Iterable[str], *, lookalikes_are_new: bool = False
) -> tuple[list[str], list[str]]:
    """Names fit to be kept, and a sentence about each that is not."""
    spellings = known_spellings(desk)
    names_of = {person.person_id: person for person in people_of_panel(desk)}
    taken = {
        fold(spelling): names_of[spellings.stands_for[person_id]]
        for spelling, person_id in spellings.ids.items()
    }
    found: dict[str, str] = {}
    faults = []
    for written in wanted:
        try:
            name = read_name(written)
        except Unreadable as fault:
            faults.append(f"A name {fault}")
            continue
        if fold(name) in taken:
            faults.append(_already(name, taken[fold(name)]))
        elif fold(name) in found:
            faults.append(f"{name} stands in the list twice.")
        elif not lookalikes_are_new and (near := _alike(name, spellings.ids)):
            faults.append(f"{name}: did you mean {' or '.join(near)}, who is on the list already?")
        found.setdefault(fold(name), name)
    return list(found.values()), faults


def _already(name: str, person: PanelPerson) -> str:
    under = "" if person.name == name else f" as {person.name}"
    if person.is_panellist:
        return f"{name} is already on the list{under}."
    return f"{name} is already on the list{under}, not on the panel now; put them back on below."


def _alike(name: str, known: Iterable[str]) -> list[str]:
    """Up to two names on record that look like this one, or are its first word, or begin with it."""
    sought = fold(name)
    known = list(known)
    by_first = [
        other
        for other in known
        if sought == fold(other).split(" ")[0] or fold(other) == sought.split(" ")[0]
    ]
    return list(dict.fromkeys([*nearest_names(name, known), *by_first]))[:2]


def _line(
    person: PanelPerson, compounds: dict[str, str], beers: dict[str, str], language: str
) -> PanelLine:
    own_compounds = tuple(key for key in compounds if key in person.refused_compounds)
    own_beers = tuple(key for key in beers if key in person.refused_beers)
    refused = [compounds[key] for key in own_compounds] + [beers[key] for key in own_beers]
    return PanelLine(
        person_id=person.person_id,
        name=person.name,
        is_panellist=person.is_panellist,
        since_on=person.since_on,
        refused_compounds=own_compounds,
        refused_beers=own_beers,
        refused=tuple(refused),
        language=language,
    )


def _sentences(desk: Desk, people: Sequence[PanelPerson]) -> tuple[str, str, str]:
    """The sentence on top of the list, its catch and its lead."""
    on_panel = [person for person in people if person.is_panellist]
    if not on_panel:
        return "Nobody is on the panel yet", "write down who tastes.", "One name a line will do."
    answer = f"{sentence_start(number_word(len(on_panel)))} on the panel"
    careful = sum(bool(p.refused_compounds or p.refused_beers) for p in on_panel)
    if careful:
        verb = "is" if careful == 1 else "are"
        answer += f"; {number_word(careful)} {verb} not to be served something"
    others = len(people) - len(on_panel)
    lead = "Sessions are planned for the people on the panel."
    if others:
        verb = "is" if others == 1 else "are"
        lead += (
            f" {sentence_start(number_word(others))} more {verb} on record and not on the panel."
        )
    quorum = desk.rulebook.panel.quorum
    missing = quorum - len(on_panel)
    catch = f"a release panel needs {number_word(quorum)}." if missing > 0 else ""
    return answer, catch, lead
