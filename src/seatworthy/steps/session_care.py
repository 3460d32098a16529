"""Care for those who taste in a planned session: alcohol, and what somebody is not to be served."""

from collections import Counter
from decimal import Decimal
from typing import Any

from seatworthy.sessions.alcohol import alcohol_g, taken_g
from seatworthy.steps.dose_ethanol import dosed_ethanol_ml
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.sentences import joined
from seatworthy.steps.session_facts import SessionFacts

_PURE = Decimal(100)


def care_lines(facts: SessionFacts) -> list[str]:
    """Lines of care for one planned session: alcohol, and what somebody is not to be served.

    All of it, poured today or not: a line only where it is poured would tell what is.
    """
    if facts.head.volume_ml is None:
        return []
    served = {g.person_id for g in facts.glasses}
    beers = {row["beer"]: row["label"] for row in facts.desk.store.rows("beers")}
    lines = [alcohol_sentence(facts)]
    for person in people_of_panel(facts.desk):
        refused = [facts.compound_label(c) for c in sorted(person.refused_compounds)]
        refused += [beers.get(beer, beer) for beer in sorted(person.refused_beers)]
        if person.person_id in served and refused:
            lines.append(f"{person.name} is not to be served {joined(refused, 'or')}.")
    return lines


def alcohol_sentence(facts: SessionFacts) -> str:
    """What one person takes of alcohol in a planned session, swallowed or spat."""
    head = facts.head
    poured = Counter((g.sitting_id, g.person_id) for g in facts.glasses for _ in g.poured_from)
    most = max(poured.values(), default=0)
    glasses = most + bool(head.has_control)
    if head.volume_ml is None or head.abv_percent is None:
        return ""
    pure_ml = dosed_ethanol_ml(facts)
    volume_ml = glasses * head.volume_ml
    whole = alcohol_g(volume_ml, head.abv_percent) + alcohol_g(pure_ml, _PURE)
    doses = ", that of the doses included" if pure_ml else ""
    start = (
        f"{glasses} glasses of {_plain(head.volume_ml)} ml at {_plain(head.abv_percent)}% hold "
        f"{whole:.1f} g of alcohol{doses}"
    )
    if not head.spits:
        return f"{start}; the limit is {_plain(head.alcohol_limit_g)} g swallowed."
    share = taken_g(volume_ml, head.abv_percent, head.spat_share)
    share += taken_g(pure_ml, _PURE, head.spat_share)
    return f"{start}; everybody spits, which counts as {share:.1f} g of {_plain(head.alcohol_limit_g)} g."


def _plain(number: Any) -> str:  # noqa: ANN401
    return f"{float(number):g}"
