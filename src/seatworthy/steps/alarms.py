"""Who misses more than they used to, over all compounds: told to the leader, judged by nobody."""

from dataclasses import dataclass
from datetime import date, timedelta
from hashlib import blake2b
from typing import Final

import numpy as np

from seatworthy.evidence import day_number
from seatworthy.rules.verdict import percent
from seatworthy.stats.ability.alarm import Loss, find_loss
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.steps.desk import Desk
from seatworthy.steps.estimating import arrays, model_settings
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import first_names, short_label
from seatworthy.steps.sentences import day_in_sentence, in_sentence, joined
from seatworthy.steps.who_sits import anonymous_by

EPOCH: Final = date(1970, 1, 1)
SPEAKS: Final = float(
    np.log(2)
)  # log factor from which on a compound is named as one that shows it
MOST_NAMED: Final = 4
KEPT: Final = 256
WHAT_TO_DO: Final = "Pour these again before you count on this nose. No reason is asked for."


@dataclass(frozen=True)
class Alarm:
    """Somebody who seems to have lost sensitivity.

    Attributes:
        since: The likeliest day on which it began.
        sessions: Days with glasses since then, itself counted.
        chance: Chance of a loss.
        sentence: What to tell the leader.
    """

    person_id: str
    name: str
    since: date
    sessions: int
    chance: float
    sentence: str


def alarms(desk: Desk, judged: Judged) -> tuple[Alarm, ...]:
    """Everybody for whom a loss that lasts is likely enough to be told, in the order of names.

    Takes about a quarter of a second a person; what was found is kept until the person's own
    glasses change.
    """
    nameless = anonymous_by(desk, judged)
    named = (person for person in judged.people if person not in nameless)
    found = (alarm_of(desk, judged, person) for person in named)
    return tuple(alarm for alarm in found if alarm is not None)


def alarm_of(desk: Desk, judged: Judged, person_id: str) -> Alarm | None:
    """One person's alarm; None where nothing needs to be told."""
    loss = _loss(desk, judged, person_id)
    if not loss.is_alarm or loss.day is None:
        return None
    since = EPOCH + timedelta(days=loss.day)
    name = first_names(judged.people)[person_id]
    day = day_in_sentence(since, judged.as_of)
    where = joined(_compounds(judged, loss))
    sentence = (
        f"{name} has missed more than before since {day}, most of all {where} "
        f"({percent(loss.chance)} sure, {loss.sessions} sessions). {WHAT_TO_DO}"
    )
    return Alarm(person_id, judged.people[person_id], since, loss.sessions, loss.chance, sentence)


def _compounds(judged: Judged, loss: Loss) -> list[str]:
    """The compounds that show it, the clearest first; at least one."""
    factors = np.nan_to_num(loss.by_compound, nan=-np.inf)
    clearest = np.argsort(-factors, kind="stable")[:MOST_NAMED].tolist()
    keys = [judged.evidence.compounds[k] for k in clearest if factors[k] > SPEAKS]
    keys = keys or [judged.evidence.compounds[clearest[0]]]
    return [in_sentence(short_label(judged.labels.get(key, key))) for key in keys]


def _loss(desk: Desk, judged: Judged, person_id: str) -> Loss:
    """Looked for once as long as the person's own glasses stay as they are."""
    person = judged.evidence.people.index(person_id)
    glasses, blanks = arrays(judged.evidence)
    glasses = glasses.where(glasses.person == person)
    own = blanks.person == person
    blanks = Blanks(blanks.day[own], blanks.person[own], blanks.is_false_call[own])
    settings, today = model_settings(judged.rulebook), day_number(judged.as_of)
    asked = (_fingerprint(glasses, blanks), today, settings)
    if asked not in desk.losses:
        desk.losses[asked] = find_loss(
            glasses, blanks, judged.evidence.shape, person, today, settings
        )
        while len(desk.losses) > KEPT:
            desk.losses.popitem(last=False)
    return desk.losses[asked]


def _fingerprint(glasses: Glasses, blanks: Blanks) -> bytes:
    digest = blake2b(digest_size=16)
    for column in (*vars(glasses).values(), *vars(blanks).values()):
        digest.update(column.tobytes())
        digest.update(b"|")
    return digest.digest()
