"""What everybody had at which place in the last sessions, for plans that keep balance over sessions."""

from collections import Counter
from datetime import date, timedelta
from itertools import combinations, groupby
from typing import Final

from seatworthy.sessions.plan import Past
from seatworthy.steps.desk import Desk

# As long as answers of a glass weigh most; ours, no source.
WINDOW: Final = timedelta(weeks=26)


def past_flights(desk: Desk, on: date) -> Past:
    """Everything served with a place in the half year before a day; nothing called off."""
    rows = desk.store.rows("past_places", after_on=on - WINDOW, before_on=on)
    places = Counter((r["person_id"], r["compound"], r["position"]) for r in rows)
    served = Counter((r["person_id"], r["compound"]) for r in rows if r["compound"])
    together: Counter[tuple[str, str, str]] = Counter()
    for (person, _), flight in groupby(rows, lambda r: (r["person_id"], r["sitting_id"])):
        compounds = sorted({r["compound"] for r in flight if r["compound"]})
        together.update((person, one, other) for one, other in combinations(compounds, 2))
    return Past(dict(places), dict(served), dict(together))
