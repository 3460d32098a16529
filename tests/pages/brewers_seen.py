"""Everything that a page sends, as bytes, and a sample brewery that is as fit on fewer glasses."""

from sampled import PEOPLE, Sample
from streamlit.testing.v1 import AppTest

from seatworthy.shipped import shipped
from seatworthy.steps.bring_in import bring_in_results, bring_in_shelf
from seatworthy.steps.demo import moved_to
from seatworthy.steps.desk import open_desk
from seatworthy.steps.judging import judge_day

_MANY = 9  # glasses of a compound, from which one less leaves somebody as fit
_NEAR = ("butyric_acid", "isovaleric_acid", "t2n")  # which Márta misses; each glass counts there


def made_with_fewer(folder):
    """The sample brewery of three people without the first glass of what they tasted often."""
    path = folder / "panel.duckdb"
    desk = open_desk(path)
    bring_in_shelf(desk, shipped("sample_data/shelf.toml"))
    bring_in_results(desk, shipped("sample_data/results.csv"), arrange=lambda rows: _fewer(
        [row for row in moved_to(rows, desk.today()) if row.panellist in PEOPLE]
    ))  # fmt: skip
    judge_day(desk)
    found = Sample(path, desk.judged, desk.estimated)
    desk.close()
    return found


def _fewer(rows):
    by_cell = {}
    for row in rows:
        if row.compound and row.compound not in _NEAR and row.method == "naming":
            by_cell.setdefault((row.panellist, row.compound), []).append(row)
    gone = {
        id(max(own, key=lambda row: row.session_on))
        for own in by_cell.values()
        if len(own) >= _MANY
    }
    return tuple(row for row in rows if id(row) not in gone)


def counts(desk, family):
    """Right and counted glasses of every cell of a beer family, by name and compound."""
    judged = judge_day(desk)
    return {
        (judged.people[person], compound): (day.hits, day.glasses)
        for (person, compound, beers), day in judged.days.items()
        if beers == family
    }


def sent_by(page, **address):
    """What a page, alone, sends: every element's message, and the styles and words in it."""
    test = AppTest.from_function(page, default_timeout=40)
    for name, value in address.items():
        test.query_params[name] = value
    test.run()
    assert not test.exception
    return messages(test), test


def messages(test):
    """Every element of a page as the bytes that go to the browser, without names made anew."""
    found = []
    for element in test:
        proto = getattr(element, "proto", None)
        if proto is not None and hasattr(proto, "SerializeToString"):
            found.append(proto.SerializeToString(deterministic=True))
    return found
