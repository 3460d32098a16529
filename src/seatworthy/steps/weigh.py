"""Weigh a call: what a beer has, by what each taster said of it and how far each can be trusted."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Final

from seatworthy.decide.ladder import Rung, ladder
from seatworthy.decide.said import NOTHING as SAID_NONE
from seatworthy.decide.said import likelihoods
from seatworthy.decide.states import states_after
from seatworthy.decide.weighing import Weighing, chances_after, power_after_talk, weigh
from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_release_words import NOTHING, UNLISTED
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.tasted import NAMED, Tasted
from seatworthy.steps.tasted import NOTHING as SAID_NOTHING
from seatworthy.steps.weigh_about import About, about_of, refusal_of
from seatworthy.steps.weigh_expected import as_no_fault, expected_in, expected_words
from seatworthy.steps.weigh_panel import WeighPanel, weigh_panel
from seatworthy.steps.weigh_priors import Known, known_before
from seatworthy.steps.weigh_sentences import answer_of, assumptions_of, lead_of, talked_words
from seatworthy.steps.weigh_steps import step_lines
from seatworthy.steps.weigh_views import Mark, Possibility, Question, RungLine, WeighedView

_AWAY: Final = timedelta(days=60)  # who hasn't come for so long is away; common practice, no source


def weigh_call(
    desk: Desk,
    question: Question,
    *,
    in_words: bool = False,
    as_of: date | None = None,
    known_at: datetime | None = None,
    present: frozenset[str] | None = None,
    shares_known_at: datetime | None = None,
) -> WeighedView:
    """Weigh what was said of one beer.

    Args:
        desk: The open store.
        question: Who said what.
        in_words: Leave people's scores out.
        as_of: By what was known of the tasters on that day; None for today.
        known_at: By the record as it stood then (UTC); None for all of it.
        present: Who could taste it again; None for who tasted it and who came lately.
        shares_known_at: By how common faults were on record then (UTC); None: as `known_at`.

    Returns:
        The weighing; with a refusal where no honest chance can be given.

    Raises:
        PanelError: if nobody tasted, somebody tasted twice or is unknown, or the shares of faults
            don't add up.
    """
    judged = judge_day(desk, as_of, known_at)
    _check(question, judged)
    expected = expected_in(desk, question.family, known_at)
    asked, question = question, as_no_fault(question, expected)
    panel = weigh_panel(desk, judged, question)
    present = _about(judged, question) if present is None else present
    critical = frozenset(c for item in judged.critical[question.family] for c in item)
    known = known_before(
        desk,
        question.family,
        panel.noses.compounds,
        critical,
        judged.labels,
        shares_known_at or known_at,
    )
    refusal = refusal_of(panel, question, judged)
    if refusal:
        return _refused(asked, judged, refusal, in_words=in_words)
    view = _weighed(panel, question, known, in_words=in_words, present=present)
    lead = f"{view.lead} {expected_words(asked, expected, judged)}".strip()
    return replace(view, question=asked, lead=lead)


def _weighed(
    panel: WeighPanel,
    question: Question,
    known: Known,
    *,
    in_words: bool,
    present: frozenset[str] | None,
) -> WeighedView:
    tasters, said = panel.of_tasters, panel.said
    power = 1.0 if question.is_blind else power_after_talk(len(said))
    found = weigh(tasters, said, known.prior, power)
    about = about_of(panel, found)
    apart = _set_apart(panel, about)
    start, rungs = ladder(tasters, said, known.prior, about.places, power, apart)
    likely = likelihoods(tasters, said)
    focus = panel.noses.compounds.index(about.compound)
    states = states_after(found.chances, likely, focus, is_any_fault=about.is_anything)
    steps = step_lines(panel, states, about, question, present)
    talked = chances_after(likely, known.prior, power_after_talk(len(said)))
    chance = float(found.chances[about.places].sum())
    answer, catch = answer_of(question, about, chance, start, steps[0])
    return WeighedView(
        question=question,
        family_label=panel.judged.families[question.family],
        where=_where(question, panel.judged),
        answer=answer,
        catch=catch,
        lead=lead_of(panel, about, rungs, question, in_words=in_words),
        refusal="",
        about="" if about.is_anything else about.label,
        possibilities=_possibilities(found, about),
        rungs=_rungs(panel, about, start, rungs, known, question, in_words=in_words),
        step=steps[0],
        others=steps[1:],
        if_talked=talked_words(question, chance, float(talked[about.places].sum()), start),
        assumptions=assumptions_of(known),
        chances=_chances(found, panel.noses.compounds),
        in_words=in_words,
    )


def _about(judged: Judged, question: Question) -> frozenset[str]:
    """Who tasted it, and who came to a session lately: the others aren't asked to taste it again."""
    lately = {
        person
        for person, own in judged.attended.items()
        if own.last_on is not None and judged.as_of - own.last_on <= _AWAY
    }
    return frozenset({*lately, *(word.person_id for word in question.words)})


def _check(question: Question, judged: Judged) -> None:
    if question.family not in judged.families:
        message = "Say which beer family it is; without it nobody knows how often what is found."
        raise PanelError(message)
    people = [word.person_id for word in question.words]
    if not people:
        message = "Nobody tasted it yet. Say who did, and what each of them said; “nothing” counts."
        raise PanelError(message)
    if twice := next((w.name for w in question.words if people.count(w.person_id) > 1), ""):
        message = f"{twice} stands there twice; one word a taster can be weighed. Take one out."
        raise PanelError(message)
    if unknown := next((w.name for w in question.words if w.person_id not in judged.people), ""):
        message = f"{unknown or 'Somebody'} is not on record; put them on the list of people first."
        raise PanelError(message)
    for word in question.words:
        if word.kind == NAMED and word.compound not in judged.labels:
            message = (
                f"{word.name} named “{word.compound}”, which is no compound of the vocabulary; "
                "choose one of the list, or “something without a name”."
            )
            raise PanelError(message)


def _refused(question: Question, judged: Judged, refusal: str, *, in_words: bool) -> WeighedView:
    answer, catch = refusal.split("; ", 1) if "; " in refusal else (refusal, "")
    return WeighedView(
        question, judged.families[question.family], _where(question, judged), answer, catch,
        "What would help: a laboratory, or tasters with glasses of it on record. Until then hold it "
        "if anybody called something.",
        refusal, "", (), (), None, (), "", (), (), in_words,
    )  # fmt: skip


def _where(question: Question, judged: Judged) -> tuple[str, ...]:
    count = len(question.words)
    tasters = "One taster" if count == 1 else f"{count} tasters"
    how = "answers sealed before any talk" if question.is_blind else "not blind to one another"
    return question.label, judged.families[question.family], f"{tasters}, {how}"


def _possibilities(found: Weighing, about: About) -> tuple[Possibility, ...]:
    last = len(found.chances) - 1

    def line(label: str, places: list[int], *, is_leading: bool = False) -> Possibility:
        chance = float(found.chances[places].sum())
        return Possibility(label, chance, found.limits(places), is_leading)

    if about.is_anything:
        middle = list(range(1, last))
        return (
            line("Something on the list is wrong", middle, is_leading=True),
            line("Something that is not on the list", [last]),
            line("Nothing wrong", [0]),
        )
    others = [place for place in range(1, last) if place not in (*about.places, *about.rivals)]
    label = about.label
    rivals = [
        line(f"{about.rival_labels[n]} is there", [place]) for n, place in enumerate(about.rivals)
    ]
    taken_for = f"Another compound they take for {in_sentence(label)}"
    nothing = "Nothing wrong: a false call" if about.callers == 1 else "Nothing wrong: false calls"
    return (
        line(f"{label} is there", about.places, is_leading=True),
        *rivals,
        line(taken_for, others),
        line("Something that is not on the list", [last]),
        line(nothing, [0]),
    )


def _rungs(
    panel: WeighPanel,
    about: About,
    start: float,
    rungs: tuple[Rung, ...],
    known: Known,
    question: Question,
    *,
    in_words: bool,
) -> tuple[RungLine, ...]:
    if about.is_anything:
        before = RungLine("Before anyone tasted", ("any fault at all",), start, "start")
    else:
        line = known.line(about.compound)
        before = RungLine(
            "Before anyone tasted", (f"{line.words} has some,", line.origin), start, "start"
        )
    lines, apart = [before], _set_apart(panel, about)
    said = {word.person_id: word for word in question.words}
    for rung in rungs:
        place = panel.tasters[rung.taster]
        word = said[panel.noses.people[place]]
        what = _said(panel, word.kind, word.compound)
        silent = word.kind == SAID_NOTHING
        nowhere = rung.taster in apart
        mark: Mark = "nowhere" if nowhere else "silent" if silent else "other"
        if not silent and not nowhere and (about.is_anything or word.compound == about.compound):
            mark = "called"
        notes = _notes(panel, place, word, about, in_words=in_words)
        lines.append(RungLine(f"{panel.name(place)} said {what}", notes, rung.chance, mark))
    return tuple(lines)


def _set_apart(panel: WeighPanel, about: About) -> frozenset[int]:
    """Tasters who can't be counted on for what the call is about, and named nothing else."""
    if about.is_anything:
        return frozenset()
    focus = panel.noses.compounds.index(about.compound)
    return frozenset(
        number
        for number, place in enumerate(panel.tasters)
        if panel.words[place] in (SAID_NONE, focus) and not panel.counts_for(place, about.compound)
    )


def _notes(
    panel: WeighPanel, place: int, word: Tasted, about: About, *, in_words: bool
) -> tuple[str, ...]:
    """What the record says of a taster: on what they named, else on what the call is about."""
    compound = word.compound if word.compound in panel.noses.compounds else None
    if compound is None and about.is_anything:
        return ()
    return panel.notes(place, compound or about.compound, in_words=in_words)


def _said(panel: WeighPanel, kind: str, compound: str | None) -> str:
    if kind == NAMED:
        return in_sentence(short_label(panel.judged.labels.get(compound or "", compound or "")))
    return "nothing" if kind == SAID_NOTHING else "something"


def _chances(found: Weighing, compounds: tuple[str, ...]) -> tuple[tuple[str, float], ...]:
    keys = (NOTHING, *compounds, UNLISTED)
    return tuple(zip(keys, found.chances.tolist(), strict=True))
