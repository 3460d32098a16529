"""Decides who the people in a results file are: known, new, or to be asked about."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from seatworthy.errors import Fault, StrangersInFile
from seatworthy.intake.results import ResultsFile
from seatworthy.intake.words import fold
from seatworthy.steps.people import Spellings, nearest_names


@dataclass(frozen=True)
class WhoIsWho:
    """What was decided about the spellings of a file.

    Attributes:
        new: Spellings that get an id.
        read_as: Of these, the ones taken for somebody else, with that spelling.
    """

    new: tuple[str, ...]
    read_as: dict[str, str]


def who_is_who(
    found: ResultsFile,
    spellings: Spellings,
    new_people: Sequence[str],
    same_people: Mapping[str, str],
) -> WhoIsWho:
    """Decide for every spelling of a file whether it is known, new, or must be asked about.

    A spelling that differs from another only by capitals or spaces is read as the same person
    (and can be split again); one that differs by accents is asked about, also in an empty store.
    """
    new, read_as, faults = [], {}, []
    is_first_file = not spellings.ids
    by_case = {_same_case(name): name for name in spellings.ids}
    by_fold = {fold(name): name for name in spellings.ids}
    for name in found.panellists:
        if name in spellings.ids:
            continue
        new.append(name)
        if name in same_people:
            meant = by_fold.get(fold(same_people[name]))
            if meant is None:
                faults.append(Fault(None, f"“{same_people[name]}” is nobody on record."))
            else:
                read_as[name] = meant
        elif _same_case(name) in by_case:
            read_as[name] = by_case[_same_case(name)]
        elif name not in new_people and fold(name) in by_fold:
            faults.append(_ask_about(name, [by_fold[fold(name)]]))
        elif not (is_first_file or name in new_people or "*" in new_people):
            faults.append(_ask_about(name, nearest_names(name, spellings.ids)))
        by_case.setdefault(_same_case(name), name)
        by_fold.setdefault(fold(name), name)
    if faults:
        raise StrangersInFile(found.name, faults)
    return WhoIsWho(tuple(new), read_as)


def _ask_about(name: str, nearest: Sequence[str]) -> Fault:
    like = f" It looks like {' or '.join(nearest)}." if nearest else ""
    same = f'--same "{name}={nearest[0]}"' if nearest else f'--same "{name}=..."'
    return Fault(
        None,
        f'“{name}” is not on record.{like} Say --new "{name}" for a new person, '
        f"or {same} for another spelling of somebody known.",
    )


def _same_case(name: str) -> str:
    return " ".join(name.casefold().split())
