"""Who comes to which sitting, and who prepares."""

from collections.abc import Iterator
from typing import Final

from seatworthy.sessions.asking import Asking
from seatworthy.sessions.wording import listed

# More people than this come unannounced to no sitting we know of; ours, no source.
MOST_SPARES: Final = 4


def seating_faults(asking: Asking) -> Iterator[str]:
    """What is wrong with the sittings and the people."""
    wish = asking.wish
    if not wish.sittings:
        yield "There is no sitting: add one with its time and the people who come."
    for label in asking.repeated_labels:
        yield f"Two sittings are called “{label}”: give each a name of its own."
    for sitting in wish.sittings:
        if not asking.label_key(sitting.label):
            yield "A sitting has no name: give it one, such as “Early shift”."
        if not sitting.people:
            yield f"Nobody comes to “{sitting.label}”: choose who does, or take the sitting out."
    yield from _unknown(asking)
    yield from _twice(asking)
    if asking.comers and set(asking.comers) <= set(wish.preparers):
        yield (
            f"{_names(asking)} would prepare and taste, and nobody else comes, so no answer would "
            "count: let somebody who doesn't taste prepare, or ask one more person to come."
        )
    if not 0 <= wish.spares <= MOST_SPARES:
        yield (
            f"{wish.spares} spare orders were asked for: choose 0 to {MOST_SPARES} for each sitting."
        )


def preparing_comers(asking: Asking) -> tuple[str, ...]:
    """Person ids of those who both prepare and taste."""
    return tuple(person for person in asking.comers if person in asking.wish.preparers)


def _names(asking: Asking) -> str:
    return listed([asking.name(person) for person in asking.comers])


def _unknown(asking: Asking) -> Iterator[str]:
    for sitting in asking.wish.sittings:
        for person in sitting.people:
            if person not in asking.people:
                yield (
                    f"Somebody asked to “{sitting.label}” is not on the list of people "
                    f"({person}): add them there, or choose somebody else."
                )
    for person in asking.wish.preparers:
        if person not in asking.people:
            yield (
                f"Somebody who prepares is not on the list of people ({person}): add them there, "
                "or choose somebody else."
            )


def _twice(asking: Asking) -> Iterator[str]:
    for person in asking.comers:
        labels = [s.label for s in asking.wish.sittings for other in s.people if other == person]
        if len(labels) < 2:
            continue
        if len(set(labels)) == 1:
            yield f"{asking.name(person)} stands twice in “{labels[0]}”: take one of them out."
        else:
            where = listed([f"“{label}”" for label in dict.fromkeys(labels)])
            yield (
                f"{asking.name(person)} comes to {where}: one sitting a session is enough, since "
                "the same samples are poured at each; choose one."
            )
