"""The sentence on top of the shelf, and the things a new brewery does first."""

from collections.abc import Sequence

from seatworthy.steps.labels import item_label
from seatworthy.steps.sentences import in_sentence, joined, number_word, sentence_start, the_beers
from seatworthy.steps.shelf_views import BeerLine, CompoundLine, FamilyLine, FirstThing, Group

_NAMED_AT_MOST = 3
HINT = (
    "A book's range is only a hint: the level of a glass is reckoned from your own working threshold, "
    "dated, for a beer family or for all beers."
)
Sentences = tuple[str, str, str]  # answer, catch, lead


def first_things(
    brewery: str,
    beers: Sequence[BeerLine],
    compounds: Sequence[CompoundLine],
    *,
    has_people: bool,
    has_session: bool,
) -> tuple[FirstThing, ...]:
    """What to do before the first session; nothing once there is one."""
    if has_session:
        return ()
    done = (
        bool(brewery), any(beer.key for beer in beers), any(one.ours for one in compounds),
        has_people, False,
    )  # fmt: skip
    words = (
        ("Say what the brewery is called and which time zone it is in.", "beers"),
        ("Put the beer on the shelf that compounds are added to.", "beers"),
        ("Choose your own working threshold for each compound you will pour.", "thresholds"),
        ("Write down who tastes.", "people"),
        ("Plan the first session.", "plan"),
    )
    return tuple(
        FirstThing(said, is_done, place) for (said, place), is_done in zip(words, done, strict=True)
    )


def sentences(
    brewery: str,
    beers: Sequence[BeerLine],
    family: FamilyLine | None,
    critical: Sequence[Group],
    compounds: Sequence[CompoundLine],
) -> Sentences:
    """What the shelf lacks most, else how many compounds can be poured for a family.

    Args:
        brewery: Its name, "" until stated.
        beers: Base beers, one without a name too.
        family: The family the page is about, if there is one.
        critical: The critical items that count for it.
        compounds: The vocabulary.
    """
    if not brewery and not beers:
        return "The shelf is empty", "begin with the brewery, a beer and your thresholds.", HINT
    if not any(beer.key for beer in beers) or family is None:
        return (
            f"{brewery or 'The brewery'} has no base beer on its shelf yet",
            "put the first one on it.",
            "A base beer is the beer that compounds are added to. " + HINT,
        )
    answer, catch = _thresholds(family, critical, compounds)
    if catch or brewery:
        return answer, catch, HINT
    return answer, "the brewery has no name and no time zone yet.", HINT


def _thresholds(
    family: FamilyLine, critical: Sequence[Group], compounds: Sequence[CompoundLine]
) -> tuple[str, str]:
    beers = the_beers(family.label)
    have = {one.key for one in compounds if any(o.family in ("", family.key) for o in one.ours)}
    if not have:
        return f"No compound has a working threshold for {beers} yet", "choose the first ones."
    verb = "compound has" if len(have) == 1 else "compounds have"
    answer = f"{sentence_start(number_word(len(have)))} {verb} a working threshold for {beers}"
    labels = {one.key: one.label for one in compounds}
    lacking = [in_sentence(item_label(g, labels)) for g in critical if not have.intersection(g)]
    return answer, _lacking(lacking)


def _lacking(labels: Sequence[str]) -> str:
    if not labels:
        return ""
    if len(labels) == 1:
        return f"{labels[0]}, a critical one, has none."
    count = number_word(len(labels))
    if len(labels) > _NAMED_AT_MOST:
        return f"{count} critical ones have none."
    return f"{joined(labels)}, {count} critical ones, have none."
