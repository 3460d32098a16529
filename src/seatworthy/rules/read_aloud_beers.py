"""The rule on knowing a beer in plain words."""

from collections.abc import Iterator

from seatworthy.rules.person_rules import KnowsBeerRule, KnowsBeerShare
from seatworthy.rules.read_aloud_compound import in_percent, in_the_last
from seatworthy.rules.verdict import counted


def known_beer_sentences(rule: KnowsBeerRule | KnowsBeerShare) -> Iterator[str]:
    """Say the rule; every number of it is said."""
    own = counted(rule.own_glasses, "glass")
    others = counted(rule.other_glasses, "glass")
    glasses = (
        f"on at least {own} of it and {others} of others, poured blind {in_the_last(rule.months)}"
    )
    yield (
        "A glass asks whether it is a certain beer of ours, as it should be; it is that, or it is "
        "aged, of another batch, or a sister brand."
    )
    if isinstance(rule, KnowsBeerRule):
        yield (
            f"A beer is known if their own answers make it at least {in_percent(rule.sure)} sure "
            f"that they tell it from the others with a d' of {rule.apart:g} or more, {glasses}."
        )
        yield f"It is not known if that is at most {in_percent(1 - rule.sure)} sure, on as many."
    else:
        yield (
            f"A beer is known if they say yes to at least {in_percent(rule.own_share)} of its own "
            f"glasses and to at most {in_percent(rule.other_share)} of the others, {glasses}; "
            "else it is not."
        )
    yield (
        f"Met: at least {counted(rule.beers, 'beer')} of the seat's beer family known (all of them "
        "where it has fewer)."
    )
    yield (
        "A seat asks for it."
        if rule.asked_for
        else ("It is only shown; a seat doesn't ask for it.")
    )
