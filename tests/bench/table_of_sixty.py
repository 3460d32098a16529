"""A big sitting for bench_ballots.py: the sample brewery with sixty people and ten glasses each."""

from dataclasses import replace
from datetime import datetime, time
from decimal import Decimal
from pathlib import Path

import thursday

from seatworthy.sessions.wish import Limits, WantedSample, WantedSitting
from seatworthy.steps.ballot_links import hand_out, links
from seatworthy.steps.demo import set_up_demo
from seatworthy.steps.desk import open_desk
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.planning import record_plan

PEOPLE, GLASSES = 60, 10
_LETTERS = "abcdefghijklmnopqrstuvwxyz"


def set_up(path: Path) -> list[str]:
    """Make the store with its plan; the secret of everybody's link."""
    set_up_demo(path)
    desk = open_desk(path)
    names = [f"{_LETTERS[n // 26].upper()}{_LETTERS[n % 26]}na Tester" for n in range(PEOPLE)]
    add_people(desk, names, since_on=None)
    ids = {p.name: p.person_id for p in people_of_panel(desk) if p.name in names}
    spiked = sorted({row["compound"] for row in desk.store.rows("compounds_with_threshold")})[:8]
    wish = replace(
        thursday.wish(ids),
        session_on=desk.today(),
        purpose="training",
        beer=desk.store.rows("beers")[0]["beer"],
        samples=(
            *(WantedSample(compound, Decimal(3), "as always") for compound in spiked),
            WantedSample(None, None, glasses=2),
        ),
        sittings=(
            WantedSitting("All", datetime.combine(desk.today(), time(10)), tuple(ids.values())),
        ),
        limits=Limits(GLASSES, Decimal(50)),
    )
    session_id = record_plan(desk, wish)
    hand_out(desk, session_id)
    secrets = [line.secret for line in links(desk, session_id)]
    desk.close()
    return secrets
