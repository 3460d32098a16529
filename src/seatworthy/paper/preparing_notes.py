"""What goes with the table of vessels: the control, hidden pairs, keeping, handling, first aid."""

from collections import Counter
from collections.abc import Sequence
from typing import Final

from seatworthy.paper.wording import counted, letters, millilitres
from seatworthy.steps.paper_views import PaperSample, PaperSitting, PaperView
from seatworthy.steps.sentences import in_sentence, number_word, sentence_start

_OWN_PREPARERS: Final = (
    "The preparer marks vessels with letters only. Somebody else puts the codes on, from the pouring "
    "sheet, which the preparer does not see; then the preparer's own answers count."
)
_KEEPING: Final = {
    "hours": "{} within hours: add last, pour soon.",
    "day": "{} within a day: make it the same day.",
}
_FIRST_AID: Final = (
    "After contact or inhalation do at once as section 4 of that compound's safety data sheet says."
)


def notes_below(view: PaperView, sitting: PaperSitting, new: Sequence[PaperSample]) -> list[str]:
    """What stands under the table: the control, hidden pairs, sets, the bench, the preparers.

    Args:
        view: The session.
        sitting: One of its sittings.
        new: What is prepared for this sitting.
    """
    by_hand = [sample for sample in new if sample.recipe is None]
    notes = ["Needed is what the glasses take, without a reserve."] if by_hand else []
    if view.control_ml:
        orders = counted(len(sitting.orders), "glass", "glasses")
        notes.append(
            f"Control: the beer as it is, nothing added, {orders} of {millilitres(view.control_ml)}; "
            "it is named as the control and goes first."
        )
    notes += [*_pairs(sitting), *_sets(sitting), *_fading(by_hand)]
    notes += view.bench_notes if new else ()
    if view.preparers:
        notes.append(_OWN_PREPARERS)
    return notes


def cautions(samples: Sequence[PaperSample]) -> list[str]:
    """Handling notes, each once with the compounds that it is about, then what to do after contact.

    Args:
        samples: What is prepared, blanks included.
    """
    about: dict[str, list[PaperSample]] = {}
    for sample in samples:
        if sample.caution:
            about.setdefault(sample.caution, []).append(sample)
    found = [_caution(caution, of) for caution, of in about.items()]
    return [*found, _FIRST_AID] if any(s.level is not None for s in samples) else found


def _caution(caution: str, samples: Sequence[PaperSample]) -> str:
    """``D and E, diacetyl and DMS: Gloves and eye cover; see their safety data sheets.``."""
    names = list(dict.fromkeys(in_sentence(sample.label) for sample in samples))
    sheets = "its safety data sheet" if len(names) == 1 else "their safety data sheets"
    whose = f"{letters([sample.mark for sample in samples])}, {letters(names)}"
    return f"{whose}: {sentence_start(caution).rstrip('. ')}; see {sheets}."


def _pairs(sitting: PaperSitting) -> list[str]:
    """Which letters somebody gets more than once."""
    most: Counter[str] = Counter()
    for order in sitting.orders:
        most |= Counter(glass.mark for glass in order.glasses if not glass.glasses)
    notes = []
    for times in sorted({number for number in most.values() if number > 1}):
        marks = sorted(mark for mark, number in most.items() if number == times)
        often = "twice" if times == 2 else f"{number_word(times)} times"
        is_one = len(marks) == 1
        pairs = "a hidden pair" if is_one else "hidden pairs"
        what = pairs if times == 2 else "hidden repeats"
        notes.append(f"{letters(marks)} {'is' if is_one else 'are each'} poured {often}: {what}.")
    return notes


def _sets(sitting: PaperSitting) -> list[str]:
    """Which letters are poured in sets."""
    marks = [sample.mark for sample in sitting.samples if sample.is_asked_in_sets]
    if not marks:
        return []
    verb = "is" if len(marks) == 1 else "are"
    return [f"{letters(marks)} {verb} poured in sets: the pouring sheet says into which glass."]


def _fading(samples: Sequence[PaperSample]) -> list[str]:
    """Which letters do not keep."""
    notes = []
    for keeping, words in _KEEPING.items():
        marks = [sample.mark for sample in samples if sample.keeping == keeping]
        if marks:
            notes.append(words.format(f"{letters(marks)} {'fades' if len(marks) == 1 else 'fade'}"))
    return notes
