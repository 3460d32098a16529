"""Judges whether somebody knows the own beers: yes to the beer itself and no to what is not it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from seatworthy.rules.counting import ROUNDING, limit_text, percent_beside
from seatworthy.rules.person_rules import KnowsBeerRule, KnowsBeerShare
from seatworthy.rules.verdict import Standing, Verdict, counted, percent
from seatworthy.stats.yes_no import chance_d_prime_at_least

RULE = "beers known"
MOST_TRIED = 60

Rule = KnowsBeerRule | KnowsBeerShare


@dataclass(frozen=True, slots=True)
class BeerGlasses:
    """Glasses that asked one panellist whether they were one beer, in the window.

    Attributes:
        own: Glasses that were it.
        own_yes: Of these, glasses to which they said yes.
        others: Glasses that were not: aged, or of a sister brand.
        others_yes: Of these, glasses to which they said yes.
    """

    own: int
    own_yes: int
    others: int
    others_yes: int

    def after(self, own: int, others: int) -> "BeerGlasses":
        """With so many more glasses of each kind, all answered right."""
        return BeerGlasses(
            self.own + own, self.own_yes + own, self.others + others, self.others_yes
        )


NO_GLASSES = BeerGlasses(0, 0, 0, 0)


def judge_known_beer(label: str, seen: BeerGlasses, rule: Rule) -> Verdict:
    """Met, not met or too little evidence on one beer.

    Args:
        label: The beer's name.
        seen: The glasses of one panellist.
        rule: The rule in force.
    """
    standing = _standing(seen, rule)
    sentence = f"{label}: {_counts(seen)}{_how_sure(seen, rule)}"
    if standing is Standing.TOO_LITTLE and not _is_enough(seen, rule):
        sentence += (
            f" At least {rule.own_glasses} and {rule.other_glasses} in {rule.months} months are "
            "asked for."
        )
    if standing is Standing.MET:
        return Verdict(RULE, standing, sentence)
    return Verdict(RULE, standing, sentence, partial(_way, label, seen, rule))


def judge_known_beers(
    labels: Mapping[str, str], seen: Mapping[str, BeerGlasses], rule: Rule
) -> Verdict:
    """Whether enough beers of one family are known.

    Args:
        labels: Name of every beer of the family, by its key.
        seen: Glasses of one panellist, by beer; a beer never asked about may be absent.
        rule: The rule in force.
    """
    if not labels:
        sentence = "No beer of this family is on the shelf, so none can be known."
        return Verdict(RULE, Standing.TOO_LITTLE, sentence, "Put the beers on the shelf.")
    beers = [
        judge_known_beer(label, seen.get(beer, NO_GLASSES), rule) for beer, label in labels.items()
    ]
    needed = min(rule.beers, len(beers))
    standings = [beer.standing for beer in beers]
    met, still_open = (standings.count(one) for one in (Standing.MET, Standing.TOO_LITTLE))
    sentence = f"{met} of {counted(len(beers), 'beer')} known; {needed} asked for."
    if any(beer in seen for beer in labels):
        told = (one for beer, one in zip(labels, beers, strict=True) if beer in seen)
        sentence = " ".join([sentence, *(one.sentence for one in told)])
    if met >= needed:
        return Verdict(RULE, Standing.MET, sentence)
    is_lost = met + still_open < needed
    standing = Standing.NOT_MET if is_lost else Standing.TOO_LITTLE
    return Verdict(RULE, standing, sentence, partial(_nearest, beers))


def impossible_in(rule: Rule) -> Iterator[tuple[str, str]]:
    """What no evidence could meet, or guessing would: the key to change, and why."""
    if isinstance(rule, KnowsBeerShare):
        if rule.own_share <= rule.other_share:
            yield (
                "own_share",
                (
                    f"own_share is {rule.own_share:g} and other_share is {rule.other_share:g}: "
                    "who says yes as often to everything would meet it; make own_share the greater."
                ),
            )
        return
    best = BeerGlasses(rule.own_glasses, rule.own_glasses, rule.other_glasses, 0)
    chance = chance_apart(best, rule.apart)
    if chance < rule.sure:
        yield (
            "own_glasses",
            (
                f"{rule.own_glasses} and {rule.other_glasses} glasses, all answered right, make it "
                f"only {chance:.3f} sure that d' is at least {rule.apart:g}, and sure asks for "
                f"{rule.sure:g}; ask for more glasses, a smaller apart or a smaller sure."
            ),
        )


def chance_apart(seen: BeerGlasses, apart: float) -> float:
    """Chance that own glasses and others lie at least so far apart (d')."""
    return float(
        chance_d_prime_at_least(apart, seen.own_yes, seen.own, seen.others_yes, seen.others)
    )


def _is_enough(seen: BeerGlasses, rule: Rule) -> bool:
    return seen.own >= rule.own_glasses and seen.others >= rule.other_glasses


def _standing(seen: BeerGlasses, rule: Rule) -> Standing:
    if not _is_enough(seen, rule):
        return Standing.TOO_LITTLE
    if isinstance(rule, KnowsBeerShare):
        is_met = (
            seen.own_yes / seen.own >= rule.own_share - ROUNDING
            and seen.others_yes / seen.others <= rule.other_share + ROUNDING
        )
        return Standing.MET if is_met else Standing.NOT_MET
    chance = chance_apart(seen, rule.apart)
    if chance >= rule.sure:
        return Standing.MET
    return Standing.NOT_MET if chance <= 1 - rule.sure else Standing.TOO_LITTLE


def _counts(seen: BeerGlasses) -> str:
    if not seen.own + seen.others:
        return "no glass has asked for it yet."
    own = f"yes to {seen.own_yes} of {seen.own} of its own" if seen.own else "none of its own"
    others = f"to {seen.others_yes} of {seen.others} others" if seen.others else "to none other yet"
    return f"{own} and {others}."


def _how_sure(seen: BeerGlasses, rule: Rule) -> str:
    if not (seen.own and seen.others):
        return ""
    if isinstance(rule, KnowsBeerRule):
        chance = percent(chance_apart(seen, rule.apart))
        return f" {chance} sure that they are told apart (d' {rule.apart:g} or more)."
    own = percent_beside(seen.own_yes / seen.own, rule.own_share)
    others = percent_beside(seen.others_yes / seen.others, rule.other_share)
    return (
        f" {own} and {others}; at least {limit_text(rule.own_share)} and at most "
        f"{limit_text(rule.other_share)} are asked for."
    )


def _way(label: str, seen: BeerGlasses, rule: Rule) -> str:
    """The fewest further glasses of both kinds, all answered right, that would do, by trying."""
    for more in range(1, MOST_TRIED + 1):
        own = max(more, rule.own_glasses - seen.own)
        others = max(more, rule.other_glasses - seen.others)
        if _standing(seen.after(own, others), rule) is Standing.MET:
            return (
                f"{label}: {counted(own, 'more glass')} of it and {others} of others, all answered "
                "right, would do."
            )
    return f"{label}: more than {MOST_TRIED} of each would be needed; let old answers grow too old."


def _nearest(beers: Sequence[Verdict]) -> str:
    """What would change the beers that are missing, one sentence each."""
    return " ".join(one.change for one in beers if one.change)
