"""A release sitting for tests: two tanks, a spiked and a plain check glass, and what is said of them."""

from dataclasses import replace
from decimal import Decimal

import thursday

from seatworthy.sessions.wish import OWN, SISTER, YES_NO, WantedSample
from seatworthy.steps.answers import enter_answer
from seatworthy.steps.batches import state_batch
from seatworthy.steps.planning import record_plan
from seatworthy.steps.sheets import sheet_key
from seatworthy.steps.talk import open_talk

CHECK = WantedSample("dms", Decimal(3), "60 µl of stock S in 1 l")
PLAIN = WantedSample(None, None)
BEER = "house pils"
SAID = {"Ada": "dms", "Bo": "dms", "Carmen": "nothing", "Dilek": "nothing", "Emil": "nothing"}


def tanks(desk, people):
    """Ids of two batches; Ada made the first."""
    return (
        state_batch(desk, "Tank 12", BEER, [people["Ada"]]),
        state_batch(desk, "Tank 13", BEER),
    )


def batch(batch_id, **changed):
    return replace(WantedSample(None, None, batch=batch_id), **changed)


def wish(desk, people, **changed):
    asked = {
        "is_release": True,
        "label": "Release",
        "purpose": "monitoring",
        "samples": (*map(batch, tanks(desk, people)), CHECK, PLAIN),
        "sittings": (thursday.wish(people).sittings[0],),
        "has_control": False,
    }
    return thursday.wish(people, **{**asked, **changed})


def planned(desk, people, **changed):
    return record_plan(desk, wish(desk, people, **changed))


def sample_of(facts, label):
    """The sample of a batch, or of the spiked or plain check glass, at the first sitting."""
    for sample in facts.samples_at(facts.sittings[0].sitting_id):
        if label in (sample.batch, sample.compound) or (label == "plain" and _is_plain(sample)):
            return sample
    raise KeyError(label)


def _is_plain(sample):
    return sample.compound is None and not sample.is_poured_as_it_is


def glass_of(facts, first_name, label):
    """Somebody's glass of it."""
    sample = sample_of(facts, label)
    name = next(n for n in facts.names.values() if n.split()[0] == first_name)
    return next(
        g for g in facts.glasses
        if g.planned_sample_id == sample.sample_id and facts.names[g.person_id] == name
    )  # fmt: skip


def tell(desk, session_id, first_name, label, said, *, own=False):
    """Type what somebody says of it from paper."""
    glass = glass_of(thursday.facts_of(desk, session_id), first_name, label)
    key = sheet_key(glass.sitting_id, glass.person_id)
    entered = enter_answer(desk, session_id, key, glass.blind_code, said, keep_own_words=own)
    assert entered.outcome == "kept", entered.sentence


def tell_all(desk, session_id, said):
    """The same for everybody: by first name, what they say of Tank 12; all else is as it should be."""
    for name, words in said.items():
        for label in ("Tank 12", "Tank 13", "dms", "plain"):
            tell(desk, session_id, name, label, words if label == "Tank 12" else "nothing")


def tasted(desk, people):
    """A sitting at which everybody has answered; its session's id."""
    session_id = planned(desk, people)
    tell_all(desk, session_id, SAID)
    return session_id


def closed(desk, people):
    """A closed one: everybody says something of Tank 12 and finds the check glass; its id."""
    session_id = planned(desk, people)
    for name in SAID:
        for label in ("Tank 12", "Tank 13", "dms", "plain"):
            words = {"Tank 12": "papery", "dms": "dms"}.get(label, "nothing")
            tell(desk, session_id, name, label, words, own=True)
    open_talk(desk, early(desk, session_id))
    thursday.close(desk, session_id)
    return session_id


def early(desk, session_id):
    return thursday.facts_of(desk, session_id).sittings[0].sitting_id


def known_beers(people, sister=None, **changed):
    """A wish that asks whether a glass is House Pils: twice the beer, once aged, once a sister."""
    samples = [
        WantedSample(None, None, "", 2, YES_NO, knows=(BEER, OWN)),
        WantedSample(None, None, "", 1, YES_NO, knows=(BEER, "aged")),
    ]
    if sister:
        samples.append(WantedSample(None, None, "", 1, YES_NO, knows=(BEER, SISTER), beer=sister))
    asked = {"samples": tuple(samples), "label": "Our beer", "purpose": "monitoring"}
    return thursday.wish(people, **{**asked, **changed})
