"""What a panel would miss, in sentences, and as rows of a table."""

from collections.abc import Mapping, Sequence
from math import ceil

from seatworthy.steps.labels import item_label
from seatworthy.steps.miss_views import Chance, ItemFigures, MissRow, PanelFigures, Told
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start

Names = Mapping[str, str]  # first name by person id
_ALIKE = 4  # decimals: chances that differ less are alike, and the first in the list is named


def times(chance: float) -> str:
    """How often, in words: 6 times in 10; 4 times in 100; nearly always."""
    if chance >= 0.95:
        return "nearly always"
    if chance >= 0.095:
        return _in_ten(round(10 * chance))
    hundredths = round(100 * chance)
    if hundredths < 1:
        return "less than once in 100"
    return f"{hundredths} {'time' if hundredths == 1 else 'times'} in 100"


def at_most(chance: float) -> str:
    """The same as a bound, rounded up: at most 2 times in 10."""
    if chance > 0.9:
        return "up to nearly always"
    tenths = ceil(round(10 * chance, 6))
    if chance > 0.05:
        return f"at most {_in_ten(tenths)}"
    hundredths = max(ceil(round(100 * chance, 6)), 1)
    return f"at most {hundredths} {'time' if hundredths == 1 else 'times'} in 100"


def level_words(level: float) -> str:
    """Three times threshold; 2.5 times threshold; threshold itself."""
    if level == 1:
        return "threshold itself"
    if level == 2:
        return "twice the threshold"
    word = number_word(int(level)) if level == int(level) and level > 2 else f"{level:g}"
    return f"{word} times threshold"


def item_words(item: ItemFigures, labels: Names) -> str:
    """A compound, or a group, inside a sentence."""
    return in_sentence(item_label(item.item, labels))


def told_of(figures: PanelFigures, labels: Names, names: Names, more: str = "") -> Told:
    """The sentence on top: what slips past most, and how the rest stands.

    Args:
        figures: Of a panel of at least one person.
        labels: Label by compound.
        names: First name by person id.
        more: Goes under it, after what the absence of the strongest nose would do.
    """
    without = without_strongest(figures, labels, names)
    lead = f"{sentence_start(without)}. {more}".strip(". ") + "." if without or more else ""
    critical = [item for item in figures.items if item.is_critical]
    at = sentence_start(f"at {level_words(figures.level)}")
    if not critical:
        return Told("No compound is critical for these beers", "", ", so nothing says what must not slip past.", lead)  # fmt: skip
    if len(figures.people) < figures.callers:
        return _too_few(figures, lead)
    unknown = [item for item in critical if not item.slips]
    known = [item for item in critical if item.slips]
    if unknown:
        return _untested(figures, unknown, known, labels, at, lead)
    if deaf := [item for item in known if len(item.deaf) == len(figures.people)]:
        return _nobody_smells(figures, deaf, known, labels, at, lead)
    over = [item for item in known if figures.is_over(figures.slip(item))]
    rest = [item for item in known if item not in over]
    if not over:
        return _all_well(figures, known, at, without, more)
    catch = _catch(figures, over, labels)
    end = f"; everything else {at_most(_most(figures, rest))}." if rest else "."
    return Told(f"{at} this panel would let ", catch, end, lead)


def _too_few(figures: PanelFigures, lead: str) -> Told:
    count = len(figures.people)
    who = "one person makes" if count == 1 else f"{number_word(count)} people make"
    catch = f"{who} no fault call"
    rest = f"; {number_word(figures.callers)} independent callers are asked for."
    return Told("", sentence_start(catch), rest, lead)


def _untested(
    figures: PanelFigures,
    unknown: Sequence[ItemFigures],
    known: Sequence[ItemFigures],
    labels: Names,
    at: str,
    lead: str,
) -> Told:
    who = (
        f"{of_these(len(figures.people))} has" if len(figures.people) > 1 else "this panel has not"
    )
    words = joined([item_words(item, labels) for item in unknown], "or")
    start = f"{sentence_start(who)} had a glass of "
    if not known:
        return Told(start, words, "; nothing is known of what they would miss.", lead)
    worst = max(known, key=lambda item: _slip(figures, item))
    most = times(figures.slip(worst) or 0)
    rest = f"; {in_sentence(at)} {item_words(worst, labels)} slips past {most}."
    return Told(start, words, rest, lead)


def _nobody_smells(
    figures: PanelFigures,
    deaf: Sequence[ItemFigures],
    known: Sequence[ItemFigures],
    labels: Names,
    at: str,
    lead: str,
) -> Told:
    who = sentence_start(of_these(len(figures.people)))
    words = f"smells {joined([item_words(item, labels) for item in deaf], 'or')}"
    rest = [item for item in known if item not in deaf]
    if not rest:
        return Told(f"{who} ", words, ", so all of it slips past.", lead)
    worst = max(rest, key=lambda item: _slip(figures, item))
    more = f"{item_words(worst, labels)} slips past {times(figures.slip(worst) or 0)}"
    return Told(f"{who} ", words, f"; {in_sentence(at)} {more}.", lead)


def _all_well(
    figures: PanelFigures, known: Sequence[ItemFigures], at: str, without: str, more: str
) -> Told:
    """Nothing is over the limit; whether it hangs on one nose is the catch."""
    most = at_most(_most(figures, known)).replace("at most", "more than", 1)
    start = f"{at} this panel would let no critical compound through {most}"
    if any(figures.is_over(item.without) for item in known):
        return Told(f"{start}; ", without, ".", more)
    lead = f"{sentence_start(without)}. {more}".strip() if without else more
    return Told(f"{start}.", "", "", lead)


def without_strongest(figures: PanelFigures, labels: Names, names: Names) -> str:
    """Whose absence would cost most of all critical compounds; "" where one person sits alone."""
    known = [
        item for item in figures.items if item.is_critical and item.slips and item.away is not None
    ]
    if not known or len(figures.people) <= figures.callers:
        return ""
    item = max(known, key=lambda item: round(item.without or 0, _ALIKE))
    name = names.get(item.away or "", "somebody")
    return f"without {name} {item_words(item, labels)} would slip past {times(item.without or 0)}"


def _catch(figures: PanelFigures, over: Sequence[ItemFigures], labels: Names) -> str:
    ranked = sorted(over, key=lambda item: -_slip(figures, item))
    often = times(figures.slip(ranked[0]) or 0)
    if len(ranked) == 1:
        return f"{item_words(ranked[0], labels)} through {often}"
    if len(ranked) == 2:
        both = joined([item_words(item, labels) for item in ranked])
        return f"{both} through up to {often}" if often != "nearly always" else f"{both} through, the first {often}"  # fmt: skip
    critical = sum(item.is_critical for item in figures.items)
    count = f"{'all ' if len(ranked) == critical else ''}{number_word(len(ranked))}"
    return f"{count} critical compounds through too often, {item_words(ranked[0], labels)} {often}"


def _most(figures: PanelFigures, items: Sequence[ItemFigures]) -> float:
    return max((figures.slip(item) or 0 for item in items), default=0.0)


def _slip(figures: PanelFigures, item: ItemFigures) -> float:
    """How often it slips past, for a ranking that the last decimals don't turn."""
    return round(figures.slip(item) or 0, _ALIKE)


def _in_ten(tenths: int) -> str:
    return f"{tenths} {'time' if tenths == 1 else 'times'} in 10"


def of_these(count: int) -> str:
    """Nobody of these five."""
    return f"nobody of these {number_word(count)}" if count > 1 else "nobody here"


def rows_of(figures: PanelFigures, labels: Names, names: Names) -> tuple[MissRow, ...]:
    """The table: critical items first, the weakest on top, then the others by name."""
    rows = [_row(figures, item, labels, names) for item in figures.items]
    critical = [row for row in rows if row.figures.is_critical]
    critical.sort(key=lambda row: -_rank(figures, row.figures))
    return (*critical, *(row for row in rows if not row.figures.is_critical))


def _rank(figures: PanelFigures, item: ItemFigures) -> float:
    slip = figures.slip(item)
    return 2.0 if slip is None else _slip(figures, item)


def _row(figures: PanelFigures, item: ItemFigures, labels: Names, names: Names) -> MissRow:
    slip = figures.slip(item)
    is_weak = item.is_critical and (slip is None or figures.is_over(slip))
    return MissRow(
        label=item_label(item.item, labels),
        note=_note(figures, item, labels, names),
        is_weak=is_weak,
        figures=item,
        away=names.get(item.away, "") if item.away else "",
    )


def _note(figures: PanelFigures, item: ItemFigures, labels: Names, names: Names) -> str:
    if not figures.people:
        return ""
    if len(item.deaf) == len(figures.people):
        return "nobody here smells it"
    if not item.slips:
        return "not tested on anybody here"
    noses = {0: "no sure nose", 1: "one sure nose"}.get(
        item.noses, f"{number_word(item.noses)} sure noses"
    )
    parts = [noses]
    if len(item.item) > 1:
        parts.append(f"figures for {in_sentence(item_label((item.member,), labels))}")
    for people, words in ((item.deaf, "doesn't smell it"), (item.untested, "not tested")):
        if people:
            parts.append(_who(people, words, names))
    return "; ".join(parts)


def _who(people: Sequence[str], words: str, names: Names) -> str:
    if len(people) > 3:
        return f"{number_word(len(people))} {words.replace('doesn', 'don')}"
    plural = words.replace("doesn", "don") if len(people) > 1 else words
    return f"{joined([names.get(person, 'somebody') for person in people])} {plural}"


def clean_sentence(figures: PanelFigures) -> str:
    """What the panel would say of a clean beer; "" where they are too few to call a fault at all."""
    too_few = len(figures.people) < figures.callers
    if too_few or figures.same is None or figures.anything is None:
        return ""
    callers = number_word(figures.callers)
    if figures.callers == 1:
        return f"Of 100 clean tanks it would find fault with {of_hundred(figures.anything)}: one call is enough."  # fmt: skip
    return (
        f"Of 100 clean tanks {callers} or more would name the same fault in "
        f"{of_hundred(figures.same)}, and {callers} or more would call something, alike or not, in "
        f"{of_hundred(figures.anything)}."
    )


def hundredths(chance: float) -> str:
    """A chance in whole hundredths; <1 for less than one."""
    return "<1" if 0 < chance < 0.005 else f"{100 * chance:.0f}"


def ends_of_hundred(chance: Chance) -> str:
    """The range of a chance, in hundredths: 2 to 9; one number where both ends are written alike."""
    low, high = hundredths(chance.low), hundredths(chance.high)
    return low if low == high else f"{low} to {high}"


def of_hundred(chance: Chance) -> str:
    """A chance with its range, in hundredths: 5 (2 to 9); fewer than 1."""
    mean, ends = hundredths(chance.mean), ends_of_hundred(chance)
    if mean == ends:
        return "fewer than 1" if mean == "<1" else mean
    return f"{mean} ({ends})"
