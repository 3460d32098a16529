"""What was said of the beers at a talk, in sentences that weigh nothing and decide nothing."""

from collections.abc import Sequence

from seatworthy.steps.desk import Desk
from seatworthy.steps.release_answers import Said, open_talks, said_after, tasted_of
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start
from seatworthy.steps.session_facts import SessionFacts, session_facts
from seatworthy.steps.session_parts import Sample, Sitting
from seatworthy.steps.talk import missing_words
from seatworthy.steps.talk_views import BeerTalk, GlassAfter, SaidLine, SittingTalk, TalkView
from seatworthy.steps.tasted import NAMED, NOTHING, Tasted

_NAMES_TOLD = 3  # more people than this are counted


def talk(desk: Desk, session_id: str) -> TalkView | None:
    """The talk of a release sitting; None for any other session."""
    facts = session_facts(desk, session_id)
    if facts is None or not facts.head.is_release or facts.head.how == "called_off":
        return None
    talks = open_talks(facts)
    return TalkView(
        session_id,
        facts.is_open,
        tuple(_sitting(facts, s, is_open=s.sitting_id in talks) for s in facts.sittings),
    )


def _sitting(facts: SessionFacts, sitting: Sitting, *, is_open: bool) -> SittingTalk:
    """One sitting; nothing of what was said until its talk is open or the session is closed."""
    is_told = is_open or not facts.is_open
    samples = [s for s in facts.samples_at(sitting.sitting_id) if s.batch_id is not None]
    glasses = _glasses(facts, sitting) if is_open and facts.is_open else ()
    return SittingTalk(
        sitting_id=sitting.sitting_id,
        label=sitting.label,
        is_open=is_open,
        missing=missing_words(facts, sitting.sitting_id) if facts.is_open else "",
        beers=tuple(_beer(facts, s, is_open=is_open) for s in samples) if is_told else (),
        glasses=glasses,
        may_take_back=is_open and facts.is_open and not any(glass.after for glass in glasses),
    )


def _glasses(facts: SessionFacts, sitting: Sitting) -> tuple[GlassAfter, ...]:
    after = said_after(facts)
    return tuple(
        GlassAfter(
            glass.serving_id,
            f"{facts.names[person]}, {glass.label}",
            _words(facts, after[glass.serving_id]) if glass.serving_id in after else "",
        )
        for person in facts.people_at(sitting.sitting_id)
        for glass in facts.glasses_of(sitting.sitting_id, person)
        if glass.kind is not None and not glass.parts
    )


def _beer(facts: SessionFacts, sample: Sample, *, is_open: bool) -> BeerTalk:
    tasted = tasted_of(facts.desk, sample.sample_id)
    rows = facts.desk.store.rows("batch_crew")
    crew = {row["person_id"] for row in rows if row["batch_id"] == sample.batch_id}
    return BeerTalk(
        sample_id=sample.sample_id,
        label=sample.poured_label,
        sentence=_sentence(facts, tasted, is_open=is_open),
        lines=tuple(
            SaidLine(
                one.name,
                _words(facts, _before(one)),
                _words(facts, later) if (later := _after(one)) else "",
                _is_changed(one),
                one.person_id in crew,
            )
            for one in tasted
        ),
    )


def _before(one: Tasted) -> Said:
    return Said(one.kind, one.compound, one.words)


def _after(one: Tasted) -> Said | None:
    return Said(one.after, one.after_compound, one.after_words) if one.after else None


def _is_changed(one: Tasted) -> bool:
    """Whether somebody says another thing after the talk; another spelling of a name is none."""
    if one.after is None:
        return False
    if one.kind == one.after == NAMED:
        return one.compound != one.after_compound
    return (one.kind, one.words.casefold()) != (one.after, one.after_words.casefold())


def _words(facts: SessionFacts, said: Said) -> str:
    """One word on a beer: a compound's label, own words in quotes, or one of the two fixed answers."""
    if said.kind == NAMED:
        return in_sentence(facts.compound_label(said.compound))
    if said.words:
        return f"“{said.words}”"
    return facts.kind_words(said.kind)


def _sentence(facts: SessionFacts, tasted: Sequence[Tasted], *, is_open: bool) -> str:
    if not tasted:
        return "Nobody has said anything of it."
    after = _after_words(facts, tasted) if is_open else ""
    quiet = all(one.kind == NOTHING for one in tasted) and not any(map(_is_changed, tasted))
    end = "Weigh it: silence of a nose that can't smell it says nothing." if quiet else "Weigh it."
    return " ".join(filter(None, [_before_words(facts, tasted), after, end]))


def _before_words(facts: SessionFacts, tasted: Sequence[Tasted]) -> str:
    """Who called what before the talk: the most frequent word first, silence last."""
    total = len(tasted)
    if all(one.kind == NOTHING for one in tasted):
        who = "One person" if total == 1 else f"All {number_word(total)}"
        return f"{who} found it as it should be before the talk."
    called: dict[str, int] = {}
    for one in tasted:
        if one.kind != NOTHING:
            words = "something without a name" if not (one.compound or one.words) else ""
            words = words or _words(facts, _before(one))
            called[words] = called.get(words, 0) + 1
    ordered = sorted(called, key=lambda words: -called[words])
    first, *rest = [f"{number_word(called[words])} {{}}{words}" for words in ordered]
    of = f"of {number_word(total)} called " if total > 1 else "called "
    parts = [first.format(of), *(part.format("") for part in rest)]
    quiet = sum(one.kind == NOTHING for one in tasted)
    silent = f"; {number_word(quiet)} found it as it should be" if quiet else ""
    return f"{sentence_start(joined(parts))} before the talk{silent}."


def _after_words(facts: SessionFacts, tasted: Sequence[Tasted]) -> str:
    """Who says something else after the talk; by name where they are few."""
    spoken = [one for one in tasted if one.after is not None]
    if not spoken:
        return (
            "Nobody has said anything after it yet."
            if facts.is_open
            else "Nobody said anything after it."
        )
    changed = [one for one in spoken if _is_changed(one)]
    if not changed:
        every = (
            "everybody says" if len(spoken) == len(tasted) else f"{number_word(len(spoken))} say"
        )
        every = "one says" if len(spoken) == 1 and len(tasted) > 1 else every
        return f"After it {every} the same."
    if len(changed) > _NAMES_TOLD:
        return f"After it {number_word(len(changed))} say something else than before."
    told = [f"{one.name} {_says(facts, later)}" for one in changed if (later := _after(one))]
    return f"After it {joined(told)}."


def _says(facts: SessionFacts, said: Said) -> str:
    is_fixed = said.kind != NAMED and not said.words
    return f"{'finds it' if is_fixed else 'says'} {_words(facts, said)}"
