"""What the board says on top: who can sit, what is covered too thinly, and who could mend it."""

from seatworthy.phrases import STATE_WORDS
from seatworthy.rules.panel import PanelVerdict
from seatworthy.rules.verdict import Standing
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import first_names, item_label
from seatworthy.steps.sentences import (
    day_in_sentence,
    in_sentence,
    joined,
    number_word,
    sentence_start,
    what_is_weak,
    who_can_sit,
)
from seatworthy.steps.views import Choice, PersonView
from seatworthy.steps.who_sits import WhoSits

NOT_SIGNED, NOT_SIGNED_THEN = "no seat is signed yet.", "no seat was signed by that day."


def board_sentences(
    sits: WhoSits, family: Choice, people: tuple[PersonView, ...], past_day: str | None
) -> tuple[str, str, str]:
    """The two halves of the sentence on top, and what stands under it."""
    judged = sits.judged
    sitting = [person for person in people if person.can_sit]
    panel, rule = sits.panel(), judged.rulebook.panel
    weak = [(item_label(item, judged.labels), panel.cover[item]) for item in panel.weak]
    lapsed = [person for person in people if person.reason == STATE_WORDS["lapsed"]]
    answer = who_can_sit(
        len(sitting), family.label, past_day, is_signed=sits.is_signed, have_lapsed=bool(lapsed)
    )
    covered = what_is_weak(weak, rule.people_per_compound)
    if not sitting and lapsed:
        return answer, *_lapsed(lapsed, people, judged, family.key, past_day)
    if not sitting:
        return answer, _nearest(people), _what_holds_back(people, judged, family.key)
    if not sits.is_signed:
        lead = f"{sentence_start(covered)} {_weak_lead(sits, panel, people)}".strip()
        return answer, NOT_SIGNED if past_day is None else NOT_SIGNED_THEN, lead
    if len(sitting) < rule.quorum:
        catch = f"the rulebook asks for {number_word(rule.quorum)}."
        return (
            answer,
            catch,
            _together(sentence_start(covered), _look_at(sits), _not_signed(people)),
        )
    lead = _together(_look_at(sits), _weak_lead(sits, panel, people), _not_signed(people))
    return answer, covered, lead


def _together(*sentences: str) -> str:
    return " ".join(sentence for sentence in sentences if sentence)


def _look_at(sits: WhoSits) -> str:
    """Whose seat the glasses of the day would not grant, although it stands."""
    judged, names = sits.judged, first_names(sits.judged.people)
    shaky = [
        names[person] for person in judged.people
        if sits.sits(person) and not judged.seats[person, sits.family].can_sit
    ]  # fmt: skip
    if not shaky:
        return ""
    whose = joined([f"{name}'s" for name in shaky])
    seat, stands = ("seat", "it stands") if len(shaky) == 1 else ("seats", "they stand")
    return f"Look at {whose} {seat}: the glasses would not grant it, and {stands} signed."


def _not_signed(people: tuple[PersonView, ...]) -> str:
    """Who meets the rule and waits for a signature."""
    waiting = [p for p in people if p.reason == "not signed yet"]
    if not waiting:
        return ""
    names = [_first_name(person, people) for person in waiting]
    verb = "meets" if len(names) == 1 else "meet"
    wait = "waits" if len(names) == 1 else "wait"
    return f"{joined(names)} {verb} the seat rule and {wait} for a signature."


def _nearest(people: tuple[PersonView, ...]) -> str:
    best = people[0]
    if not best.critical_met:
        return "no critical compound is met by anybody."
    return (
        f"{_first_name(best, people)} is nearest with {best.critical_met} of "
        f"{best.critical_asked} critical compounds met."
    )


def _lapsed(
    lapsed: list[PersonView],
    people: tuple[PersonView, ...],
    judged: Judged,
    family: str,
    past_day: str | None,
) -> tuple[str, str]:
    """How many seats have lapsed; whose they were, and what brings them back."""
    seats = "seat" if len(lapsed) == 1 else "seats"
    have = "had" if past_day else "has" if len(lapsed) == 1 else "have"
    whose = joined([f"{_first_name(person, people)}'s" for person in lapsed])
    were, them = ("It was", "it") if len(lapsed) == 1 else ("They were", "them")
    change = judged.seats[lapsed[0].person_id, family].verdict.change
    back = change or f"Sign {them} again under Seats."
    return f"{number_word(len(lapsed))} {seats} {have} lapsed.", f"{were} {whose}. {back}"


def _what_holds_back(people: tuple[PersonView, ...], judged: Judged, family: str) -> str:
    needed = judged.rulebook.seat.critical_met
    change = judged.seats[people[0].person_id, family].verdict.change
    return f"A seat asks for {number_word(needed)} critical compounds met. {change}"


def _weak_lead(sits: WhoSits, panel: PanelVerdict, people: tuple[PersonView, ...]) -> str:
    """Who the thin cover is, who could mend it, and whose seat is due next."""
    parts = []
    names = first_names(sits.judged.people)
    for item in panel.weak[:1]:
        parts.extend(_cover_of(sits, item, names))
    due = next((p for p in people if p.is_due_soon and p.until), None)
    if due is not None and due.until is not None:
        day = day_in_sentence(due.until, sits.judged.as_of)
        parts.append(f"{names[due.person_id]}'s seat is due by {day}.")
    if not parts:
        parts.append("Every critical compound is covered by enough noses.")
    return " ".join(parts)


def _cover_of(sits: WhoSits, item: tuple[str, ...], names: dict[str, str]) -> list[str]:
    judged, family = sits.judged, sits.family
    label = in_sentence(item_label(item, judged.labels))
    named = [p for p in judged.people if p not in sits.nameless]
    met = [p for p in named if judged.seats[p, family].items[item] is Standing.MET]
    sitting = [names[p] for p in met if sits.sits(p)]
    others = [names[p] for p in met if not sits.sits(p)]
    parts = []
    if sitting:
        noun = "That nose is" if len(sitting) == 1 else "Those noses are"
        parts.append(f"{noun} {joined(sitting)}.")
    if others:
        verb, too = "meets" if len(others) == 1 else "meet", " too" if sitting else ""
        parts.append(f"{joined(others)} {verb} {label}{too}, without a seat.")
    elif not sitting:
        parts.append(f"{sentence_start(label)}: put it in the next glasses.")
    return parts


def _first_name(person: PersonView, people: tuple[PersonView, ...]) -> str:
    return first_names({p.person_id: p.name for p in people})[person.person_id]
