"""All that is kept about one person, counted in every place of the store that can be about somebody."""

from collections.abc import Sequence
from datetime import date, datetime

from seatworthy.steps.ballot_languages import LANGUAGES, USUAL, languages
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import counted, plain_day
from seatworthy.steps.kept_views import KeptLine, KeptView
from seatworthy.steps.kept_words import HEADS, place_words
from seatworthy.steps.panel import PanelPerson, people_of_panel
from seatworthy.steps.people import everybody, known_spellings
from seatworthy.steps.retention import LOCAL_LAW, KeptPerson, keep_months, kept_people
from seatworthy.steps.sentences import in_sentence, joined
from seatworthy.steps.signers import signers
from seatworthy.steps.views import Choice
from seatworthy.store import about_person


def kept_about(desk: Desk, person_id: str) -> KeptView | None:
    """What is kept about somebody; None where nobody has this id."""
    person = next((p for p in people_of_panel(desk) if p.person_id == person_id), None)
    known = next((one for one in everybody(desk) if one.person_id == person_id), None)
    if person is None or known is None:
        return None
    lines, nothing_in = _lines(desk, spelled_ids(desk, person_id))
    kept = next((one for one in kept_people(desk) if one.person_id == person_id), None)
    answer, catch, lead = _sentences(desk, person, lines, kept)
    return KeptView(
        person_id=person_id,
        name=person.name,
        answer=answer,
        catch=catch,
        lead=lead,
        known_as=known.other_spellings,
        said=_said(desk, person),
        lines=lines,
        nothing_in=nothing_in,
        people=tuple(Choice(one.person_id, one.name) for one in people_of_panel(desk)),
        today=desk.today(),
        is_anonymous=kept is None,
    )


def spelled_ids(desk: Desk, person_id: str) -> list[str]:
    """Ids of every spelling of somebody, their own first."""
    stands_for = known_spellings(desk).stands_for
    others = sorted(one for one, meant in stands_for.items() if meant == person_id != one)
    return [person_id, *others]


def _lines(desk: Desk, ids: Sequence[str]) -> tuple[tuple[KeptLine, ...], tuple[str, ...]]:
    with desk.store.reading() as cursor:
        found = about_person.counted(cursor, ids)
    lines, nothing_in = [], []
    for one in found:
        head, words = place_words(one.place.key, one.rows)
        if one.rows:
            first, last = _day(desk, one.first_at), _day(desk, one.last_at)
            lines.append(KeptLine(head, one.place.key, words, one.rows, first, last))
        else:
            nothing_in.append(words)
    lines.sort(key=lambda line: (HEADS.index(line.head), -line.rows, line.key))
    return tuple(lines), tuple(nothing_in)


def _day(desk: Desk, moment: datetime | None) -> date | None:
    return None if moment is None else desk.day_of(moment)


def _said(desk: Desk, person: PanelPerson) -> tuple[str, ...]:
    said = ["On the panel" if person.is_panellist else "Not on the panel"]
    if person.since_on:
        said[0] += f"; the first day on it was {plain_day(person.since_on)}"
    said.append(_tasted(desk, person.person_id))
    roles = _roles(desk, person)
    said.append(f"Beside tasting: {joined(roles)}" if roles else "No part beside tasting")
    refused = _refused(desk, person)
    said.append(f"Not to be served: {joined(refused)}" if refused else "May be served everything")
    spoken = LANGUAGES[languages(desk).get(person.person_id, USUAL)]
    said.append(f"The ballot speaks {spoken}")
    return tuple(f"{sentence}." for sentence in said)


def _tasted(desk: Desk, person_id: str) -> str:
    rows = desk.store.rows("kept_glasses", person_id=person_id)
    sessions = {(row["session_on"], row["session_label"]) for row in rows}
    if not sessions:
        return "Tasted in no session that is over"
    first, last = plain_day(min(sessions)[0]), plain_day(max(sessions)[0])
    days = f"on {first}" if first == last else f"from {first} to {last}"
    return f"Tasted in {counted(len(sessions), 'session')}, {days}"


def _roles(desk: Desk, person: PanelPerson) -> list[str]:
    roles = []
    if any(one.person_id == person.person_id for one in signers(desk)):
        roles.append("may sign decisions, with a PIN of which only a digest is kept")
    batches = sum(row["person_id"] == person.person_id for row in desk.store.rows("batch_crew"))
    if batches:
        roles.append(f"belongs to the crew of {counted(batches, 'batch', 'batches')}")
    return roles


def _refused(desk: Desk, person: PanelPerson) -> list[str]:
    compounds = {row["compound"]: row["label"] for row in desk.store.rows("panel_compounds")}
    beers = {row["beer"]: row["label"] for row in desk.store.rows("panel_beers")}
    found = [in_sentence(compounds.get(key, key)) for key in sorted(person.refused_compounds)]
    return [*found, *(beers.get(key, key) for key in sorted(person.refused_beers))]


def _sentences(
    desk: Desk, person: PanelPerson, lines: Sequence[KeptLine], kept: KeptPerson | None
) -> tuple[str, str, str]:
    rows = {line.key: line.rows for line in lines}
    parts = [
        counted(rows.get(key, 0), one, many)
        for key, one, many in (
            ("answer.serving_id", "answer", "answers"),
            ("decision.person_id", "decision about a seat", "decisions about seats"),
            ("author.person_id", "act stated", "acts stated"),
        )
        if rows.get(key)
    ]
    if kept is None:
        answer = f"{person.name}: {joined(parts) or 'nothing else'} without a name"
        return (
            answer,
            "",
            "The facts stay, so that the record still adds up; nobody is named by them.",
        )
    answer = f"Of {person.name} {joined(['a name', *parts])} {'are' if parts else 'is'} kept"
    return answer, *_how_long(desk, kept)


def _how_long(desk: Desk, kept: KeptPerson) -> tuple[str, str]:
    last = f"They last sat or stated something on {plain_day(kept.last_on)}."
    months = keep_months(desk)
    if kept.ends_on is None or months is None:
        lead = f"{last} {LOCAL_LAW} How long can be stated under People."
        return "nobody has said for how long", lead
    rule = f"The brewery keeps people for {counted(months, 'month')} after that."
    if kept.is_past:
        ended = max(day for day in (kept.ends_on, kept.longer_until) if day is not None)
        return f"their time ended on {plain_day(ended)}", f"{last} {rule} {LOCAL_LAW}"
    until = max(day for day in (kept.ends_on, kept.longer_until) if day is not None)
    return "", f"Kept until {plain_day(until)}. {last} {rule} {LOCAL_LAW}"
