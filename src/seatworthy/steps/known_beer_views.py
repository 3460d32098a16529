"""The beers somebody knows, as a record shows them: counts by what was poured, and how sure we are."""

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import Final

from seatworthy.phrases import STANDING_WORDS
from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.known_beers import BeerGlasses, chance_apart, judge_known_beer
from seatworthy.rules.person_rules import KnowsBeerRule
from seatworthy.stats.yes_no import d_prime, detection, log_linear_rates
from seatworthy.steps.audit_views import AuditColumn, AuditSection, table_of
from seatworthy.steps.desk import Desk
from seatworthy.steps.figures_views import KnownBeerRow, KnownBeers, Range
from seatworthy.steps.judging import Judged
from seatworthy.steps.known_beers import NOT_IT, OTHERS, OWN, BeerCounts, beer_counts, own_beers
from seatworthy.steps.reason_views import GlassLine
from seatworthy.steps.seen import Seen
from seatworthy.steps.sentences import sentence_start

# What a record shows where its rulebook asks nothing of knowing a beer; ours, and no verdict.
SHOWN_APART: Final = 1.0
SHOWN_SURE: Final = 0.80
SHOWN_GLASSES: Final = 6
VARIANT_WORDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "own": "as it should be",
        "aged": "aged",
        "other_batch": "another batch",
        "sister": "a sister brand",
    }
)


def known_beers(desk: Desk, judged: Judged, person_id: str) -> KnownBeers:
    """What somebody said of the own beers in the window, beer by beer.

    Args:
        desk: The open store.
        judged: The day judged.
        person_id: Whose.
    """
    rule = judged.rulebook.knows_beer
    months = rule.months if rule else judged.rulebook.counted.months
    shown = rule or KnowsBeerRule(
        SHOWN_APART, SHOWN_SURE, SHOWN_GLASSES, SHOWN_GLASSES, months, asked_for=False
    )
    apart = shown.apart if isinstance(shown, KnowsBeerRule) else SHOWN_APART
    seen = Seen(desk, judged.as_of, judged.known_at, judged.rulebook)
    own = beer_counts(seen, months).get(person_id, {})
    rows = []
    for beer in own_beers(seen):
        if beer.beer in own:
            verdict = judge_known_beer(beer.label, own[beer.beer].seen, shown)
            missing = sentence_start(verdict.change.removeprefix(f"{beer.label}: "))
            standing = str(verdict.standing)
            rows.append(_row(beer.label, own[beer.beer], apart, standing, missing))
    return KnownBeers(tuple(rows), rule is not None, apart, months)


def beer_lines(
    desk: Desk, judged: Judged, person_id: str, family: str, months: int
) -> list[GlassLine]:
    """Every glass that speaks of whether somebody knows a beer of one family, oldest first."""
    seen = Seen(desk, judged.as_of, judged.known_at, judged.rulebook)
    labels = {one.beer: one.label for one in own_beers(seen) if one.family == family}
    rows = seen.rows(
        "person_beers",
        person_id=person_id,
        after_on=months_before(judged.as_of, months),
        until_on=judged.as_of,
    )
    return [
        _line(row["session_on"], labels[row["beer"]], row["variant"], row["said_yes"])
        for row in rows
        if row["beer"] in labels and row["variant"] in (OWN, *NOT_IT)
    ]


def beers_section(desk: Desk, judged: Judged, person_id: str) -> AuditSection | None:
    """The section of a competence record on the beers somebody knows; None where nothing was asked."""
    found = known_beers(desk, judged, person_id)
    if not found.rows:
        return None
    told = (
        f"Asked blind whether a glass was a certain beer, in {found.months} months: yes of glasses "
        f"poured. Chance: that own glasses and others lie at least d' {found.apart:g} apart."
    )
    rows = tuple(
        (
            row.label,
            STANDING_WORDS[row.standing],
            f"{row.own_yes} of {row.own}",
            *(_of(row.others.get(variant)) for variant in OTHERS),
            None if row.d_prime is None else round(row.d_prime, 2),
            None if row.chance is None else round(100 * row.chance, 1),
            row.missing,
        )
        for row in found.rows
    )
    return AuditSection("beers", "Monitoring: beers known", (told,), table_of(_COLUMNS, rows))


_COLUMNS: Final = (
    AuditColumn("beer", "beer", 30),
    AuditColumn("stands", "standing", 20),
    AuditColumn("own", "yes of glasses of the beer itself", 14),
    AuditColumn("aged", "yes of aged ones", 14, may_lack=True),
    AuditColumn("another batch", "yes of another batch", 17, may_lack=True),
    AuditColumn("sister", "yes of a sister brand", 14, may_lack=True),
    AuditColumn("d'", "d' (log-linear)", 11, digits=2, may_lack=True),
    AuditColumn("chance", "chance that they are told apart (%)", 13, may_lack=True),
    AuditColumn("what would change it", "what would change it", 45, may_lack=True),
)


def _of(counts: tuple[int, int] | None) -> str | None:
    return None if counts is None else f"{counts[0]} of {counts[1]}"


def _row(label: str, counts: BeerCounts, apart: float, standing: str, missing: str) -> KnownBeerRow:
    seen = counts.seen
    has_both = seen.own > 0 and seen.others > 0
    four = (seen.own_yes, seen.own, seen.others_yes, seen.others)
    return KnownBeerRow(
        label=label,
        standing=standing,
        own_yes=counts.said_yes.get(OWN, 0),
        own=counts.glasses.get(OWN, 0),
        others={
            variant: (counts.said_yes[variant], counts.glasses[variant])
            for variant in OTHERS
            if variant in counts.glasses
        },
        d_prime=float(d_prime(*log_linear_rates(*four))) if has_both else None,
        d_prime_range=_reach(seen) if has_both else None,
        chance=chance_apart(seen, apart) if has_both else None,
        missing=missing,
    )


def _reach(seen: BeerGlasses) -> Range:
    found = detection(seen.own_yes, seen.own, seen.others_yes, seen.others).d_prime.interval
    return float(found.low), float(found.high)


def _line(day: date, label: str, variant: str, said_yes: bool) -> GlassLine:
    outcome = "right" if said_yes == (variant == OWN) else "wrong"
    return GlassLine(
        day, f"{label}, {VARIANT_WORDS[variant]}", outcome, "yes" if said_yes else "no"
    )
