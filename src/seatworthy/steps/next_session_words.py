"""The sentences of the next session: what is poured, why each glass, what cannot be."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Final

import numpy as np

from seatworthy.decide.choosing import Chosen, Jug, Why
from seatworthy.decide.gaps import Gaps, Ground, Kind
from seatworthy.phrases import multiple
from seatworthy.steps.labels import first_names, short_label
from seatworthy.steps.next_ahead import times_in_ten
from seatworthy.steps.next_gaps import KIND_WORDS, count_words
from seatworthy.steps.next_ground import Panel
from seatworthy.steps.next_session_views import JugLine
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start

NOBODY: Final = "Nobody is on the panel yet. Put people on the list, then this page proposes their first glasses."
NO_BEER: Final = (
    "No base beer is on the shelf yet. Put one there, then this page proposes the first glasses."
)
NO_THRESHOLD: Final = (
    "No compound can be poured in these beers yet. Choose working thresholds on the shelf first."
)
ALL_ALIKE: Final = "Nobody has had a glass that counts yet, so everything is equally open."
LEAD: Final = (
    "Decided means that the rule says met or not met where it says too little today. Nothing is recorded "
    "before you record the plan; every glass can be changed there."
)
COUNTS_INSTEAD: Final = (
    "The rulebook in force counts glasses instead of weighing them. What a glass tells is worked out from "
    "the chance to name it often enough, which is not its rule; nothing is foretold."
)
NO_LIST: Final = "No critical compounds are listed for these beers, so all compounds weigh alike."
NOBODY_SITS: Final = (
    "Nobody holds a seat for these beers, so everybody's noses count as if they did."
)
RESTS_ON: Final = (
    "Foretold from own answers alone, as if every such glass stood at the level the rule asks for, nobody "
    "changed and no old glass dropped out meanwhile; ranges hold eight chances in ten, and training "
    "that works makes it shorter. About one glass in six is poured for everybody alike, whatever the mix."
)
MOST_NAMES: Final = 3
_TIMES: Final = {1: "once", 2: "twice"}
_HARDLY, _LITTLE, _PERHAPS = 0.05, 0.3, 0.75


def top_sentence(
    panel: Panel,
    chosen: Chosen,
    decided: float,
    on: date,
    missing: Sequence[str],
    ground: Ground,
    names: Sequence[str],
    *,
    is_open: bool,
    can_pour: bool,
) -> tuple[str, str]:
    """Both halves of the sentence on top.

    Args:
        panel: Everybody.
        chosen: What is proposed.
        decided: Expected number of people of whom something would be decided.
        on: The day.
        missing: Sentences on what can't be poured.
        ground: That of the people it is for.
        names: Theirs.
        is_open: Whether a glass could decide a critical compound for any of them.
        can_pour: Whether anything can be poured.
    """
    if not chosen.jugs:
        lost = _lost(panel, ground, names)
        if lost or can_pour:
            return "No glass would teach or decide anything now", lost
        return "Nothing can be poured for these beers now", missing[0] if missing else ""
    day = f"{on:%A}: {_poured(panel, chosen)}"
    if not is_open:
        return f"{day}; {_what_keeps(panel, names)}", ""
    catch = f"{missing[0].split(':', 1)[0]}" if missing else ""
    return f"{day}; {_decided_words(decided, len(names))}", catch


def _lost(panel: Panel, ground: Ground, names: Sequence[str]) -> str:
    """Critical compounds that none of these people smells; "" where there is none."""
    critical = [k for item in ground.items for k in item] if len(names) else []
    lost = [k for k in critical if ground.is_insensitive[:, k].all()]
    labels = joined([in_sentence(_label(panel, k)) for k in lost])
    if not lost:
        return ""
    if len(names) == 1:
        return f"{_first(panel, names[0])} doesn't smell {labels}, and no training mends that"
    return f"nobody smells {labels}, and no training mends that: find other noses"


def _poured(panel: Panel, chosen: Chosen) -> str:
    """Papery twice, DMS and diacetyl once, and a blank."""
    by_times: dict[str, list[str]] = {}
    for compound, times in _glasses_by_compound(chosen).items():
        word = _TIMES.get(times, f"{number_word(times)} times")
        by_times.setdefault(word, []).append(in_sentence(_label(panel, compound)))
    parts = [f"{joined(labels)} {word}" for word, labels in sorted(by_times.items(), reverse=True)]
    blanks = sum(jug.glasses for jug in chosen.jugs if jug.compound is None)
    if blanks:
        parts.append("a blank" if blanks == 1 else f"{number_word(blanks)} blanks")
    return ", ".join(parts[:-1]) + (" and " if len(parts) > 1 else "") + parts[-1]


def _glasses_by_compound(chosen: Chosen) -> dict[int, int]:
    found: dict[int, int] = {}
    for jug in chosen.jugs:
        if jug.compound is not None:
            found[jug.compound] = found.get(jug.compound, 0) + jug.glasses
    return found


def _decided_words(decided: float, people: int) -> str:
    if people == 1:
        if decided < _HARDLY:
            return "it would hardly decide a compound yet"
        return f"{times_in_ten(decided)} it would decide a compound"
    if decided < _LITTLE:
        return "it would hardly decide anybody yet"
    if decided < _PERHAPS:
        return "perhaps one person would be decided by it"
    number = round(decided)
    return f"about {number_word(number)} {'person' if number == 1 else 'people'} would be decided by it"


def _what_keeps(panel: Panel, names: Sequence[str]) -> str:
    """Where nothing is open: when the first met ends, so that it stays so."""
    cells = [
        (left, p, k)
        for p, person in enumerate(panel.people)
        for k in panel.far_at.tolist()
        if person.name in names
        and panel.ground.is_met[p, k]
        and np.isfinite(left := panel.ground.days_left[p, k])
    ]
    if not cells:
        return "no glass would decide a critical compound now"
    left, p, k = min(cells)
    first = first_names({person.person_id: person.name for person in panel.people})
    who, what = first[panel.people[p].person_id], in_sentence(_label(panel, k))
    return (
        f"every critical compound is decided or can't be, and it stays so for {int(left)} days, until "
        f"{who}'s {what} ends"
    )


def jug_lines(
    panel: Panel, chosen: Chosen, ground: Ground, gaps: Gaps, names: Sequence[str]
) -> tuple[JugLine, ...]:
    """A line for each jug, those of a ladder together."""
    lines, told = [], set()
    for jug in chosen.jugs:
        if jug.why is Why.LADDER:
            if jug.compound in told:
                continue
            told.add(jug.compound)
            steps = [j for j in chosen.jugs if j.why is Why.LADDER and j.compound == jug.compound]
            lines.append(_ladder_line(panel, steps, gaps, names))
        else:
            lines.append(_jug_line(panel, jug, ground, gaps, names))
    return tuple(lines)


def _jug_line(panel: Panel, jug: Jug, ground: Ground, gaps: Gaps, names: Sequence[str]) -> JugLine:
    if jug.compound is None:
        return JugLine(
            "Nothing added",
            _TIMES[jug.glasses],
            "Keeps everybody honest; part of what is poured for all.",
        )
    what = f"{_label(panel, jug.compound)}, {multiple(jug.level or 0)}"
    parts = [_why(panel, jug, ground, gaps, names)]
    if jug.is_hidden_pair:
        parts.append("Its second glass makes a hidden pair.")
    return JugLine(what, _TIMES[jug.glasses], " ".join(parts))


def _why(panel: Panel, jug: Jug, ground: Ground, gaps: Gaps, names: Sequence[str]) -> str:
    k = jug.compound or 0
    if jug.why is Why.LONG_AGO:
        return "Not poured for long; by turns, for everybody alike."
    if jug.why is Why.PAIR and jug.other is not None:
        mixed = np.flatnonzero(
            (ground.taken_for[:, k, jug.other] + ground.taken_for[:, jug.other, k]) > 0
        )
        who = joined([_first(panel, names[p]) for p in mixed.tolist()[:MOST_NAMES]])
        other = in_sentence(_label(panel, jug.other))
        return f"Side by side with {other}: {who} {_verb(len(mixed), 'takes', 'take')} one for the other."
    return _tells(panel, jug, ground, gaps, names)


def _tells(panel: Panel, jug: Jug, ground: Ground, gaps: Gaps, names: Sequence[str]) -> str:
    """Of whom it tells most, and how likely it settles something."""
    k = jug.compound or 0
    if len(names) == 1:
        return _so_far(panel, names[0], k)
    weight = gaps.weight[:, k] * ground.chance[:, k] * (1 - ground.chance[:, k])
    order = [p for p in np.argsort(-weight).tolist() if weight[p] > 0.01 * weight.max() > 0]
    who = joined([_first(panel, names[p]) for p in order[:MOST_NAMES]])
    more = f" and {number_word(len(order) - MOST_NAMES)} more" if len(order) > MOST_NAMES else ""
    who = who.replace(" and ", ", ") if more else who
    said = f"Tells most about {who}{more}." if who else "Keeps up what is known."
    if jug.decides >= _PERHAPS:
        return f"{said} It would decide it for about {number_word(round(jug.decides))}."
    return f"{said} It might decide it for one." if jug.decides >= _LITTLE else said


def _so_far(panel: Panel, name: str, k: int) -> str:
    """What is known of one person, whom every glass is for."""
    p = next(n for n, person in enumerate(panel.people) if person.name == name)
    count = count_words(panel, p, k, " of ")
    said = sentence_start(KIND_WORDS[Kind(int(panel.gaps.kind[p, k]))])
    if panel.gaps.kind[p, k] == Kind.MET:
        said = "Met; keeps it so"
    return f"{said}{f', {count} named right' if count else ''}."


def _ladder_line(panel: Panel, steps: Sequence[Jug], gaps: Gaps, names: Sequence[str]) -> JugLine:
    k = steps[0].compound or 0
    levels = joined([multiple(jug.level or 0) for jug in sorted(steps, key=lambda j: j.level or 0)])
    who = [p for p in range(len(names)) if gaps.kind[p, k] in (Kind.WEAK, Kind.GUESSES)]
    said = joined([_first(panel, names[p]) for p in who])
    reasons = {"notices it too seldom" if gaps.kind[p, k] == Kind.WEAK else "guesses" for p in who}
    how = " or ".join(sorted(reasons, reverse=True))
    if len(who) > 1:
        how = how.replace("notices", "notice").replace("guesses", "guess")
    why = f"Steps around the own threshold of {said}, who {how}. The reveal tells which was which."
    return JugLine(f"{_label(panel, k)}, {levels}", "each once", why)


def missing_sentences(panel: Panel, gaps: Gaps, reasons: Mapping[str, str]) -> tuple[str, ...]:
    """Critical compounds with open gaps that can't be poured, and why; the dearest first."""
    cost = gaps.weight.sum(axis=0)
    found = [k for k in np.argsort(-cost).tolist() if k in panel.far_at and cost[k] > 0.2]
    return tuple(
        f"{in_sentence(_label(panel, k))} can't be poured: {_tail(reasons[panel.compounds[k]])}"
        for k in found
        if panel.compounds[k] in reasons
    )


def mixed_sentence(chosen: Chosen) -> str:
    """How much of what could be told and taught the session does."""
    if not chosen.jugs:
        return ""
    parts = []
    if chosen.most_told:
        parts.append(
            f"{100 * chosen.told / chosen.most_told:.0f}% of what so many glasses could tell"
        )
    if chosen.most_taught:
        parts.append(f"{100 * chosen.taught / chosen.most_taught:.0f}% of what they could teach")
    none = (
        ""
        if chosen.most_taught
        else " Nobody here mixes up a pair or needs a ladder that could be poured."
    )
    return f"This mix does {joined(parts)}.{none}" if parts else none.strip()


def _tail(reason: str) -> str:
    return reason[:1].lower() + reason[1:] if reason[1:2].islower() else reason


def _verb(number: int, one: str, many: str) -> str:
    return one if number == 1 else many


def _first(panel: Panel, name: str) -> str:
    first = first_names({person.person_id: person.name for person in panel.people})
    return next(first[p.person_id] for p in panel.people if p.name == name)


def _label(panel: Panel, k: int) -> str:
    compound = panel.compounds[k]
    return short_label(panel.judged.labels.get(compound, compound))
