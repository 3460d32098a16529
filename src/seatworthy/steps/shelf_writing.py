"""States the brewery, its beer families with their lists, and its base beers."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.intake.cells import read_number
from seatworthy.intake.tables import TableRow
from seatworthy.intake.words import Unreadable, fold, read_name
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import item_label
from seatworthy.steps.sentences import in_sentence, joined
from seatworthy.steps.shelf import shelf, time_zones
from seatworthy.steps.shelf_views import BeerLine, FamilyLine, Group
from seatworthy.steps.signing import sign

NOTHING_NEW: Final = "Nothing new to record."
HIGHEST_ABV: Final = 30


def set_brewery(desk: Desk, label: str, time_zone: str, *, by: str | None = None) -> str:
    """State what the brewery is called and where its clocks stand.

    Raises:
        PanelError: if the name will not do, or there is no such time zone.
    """
    name = _read_label("The brewery's name", label)
    if time_zone not in time_zones():
        message = "Choose a time zone, such as Europe/Dublin. Nothing was recorded."
        raise PanelError(message)
    view = shelf(desk)
    if (view.brewery, view.time_zone) == (name, time_zone):
        return NOTHING_NEW
    _record(desk, [("brewery", {"label": name, "time_zone": time_zone})], by)
    return f"{name}, {time_zone}: recorded."


def add_family(desk: Desk, label: str, *, by: str | None = None) -> str:
    """State a new beer family; the rulebook's critical list counts for it until it has its own.

    Raises:
        PanelError: if the name will not do or is taken.
    """
    name = _read_label("The family's name", label)
    key = _new_family_key(shelf(desk).families, name)
    _record(desk, _family_rows(key, name), by)
    return f"{name} is a beer family now; the rulebook's critical list counts for it."


def rename_family(desk: Desk, family: str, label: str, *, by: str | None = None) -> str:
    """Give a beer family another name; its lists, beers and thresholds stay.

    Raises:
        PanelError: if there is no such family, or the name will not do or is taken.
    """
    families = shelf(desk).families
    line = _family(families, family)
    name = _read_label("The family's name", label)
    if name == line.label:
        return NOTHING_NEW
    _new_family_key([other for other in families if other.key != family], name)
    _record(desk, _family_rows(family, name, line.critical, line.expected), by)
    return f"{line.label} are called {name} now."


def set_lists(
    desk: Desk,
    family: str,
    critical: Sequence[Group],
    expected: Sequence[Group],
    *,
    by: str | None = None,
) -> str:
    """State the whole critical and expected lists of a family; they replace the ones before.

    Args:
        desk: The open store.
        family: The family's key.
        critical: Items a release panel must cover; of a group one counts. Empty: the rulebook's.
        expected: Items that belong in such a beer.
        by: Who did it.

    Raises:
        PanelError: if there is no such family, or a list names a compound twice or an unknown one.
    """
    view = shelf(desk)
    line = _family(view.families, family)
    labels = {compound.key: compound.label for compound in view.compounds}
    for name, items in (("critical", critical), ("expected", expected)):
        _check_items(name, items, labels)
    if _same_items(critical, line.critical) and _same_items(expected, line.expected):
        return NOTHING_NEW
    _record(desk, _family_rows(family, line.label, critical, expected), by)
    if not critical:
        return f"{line.label}: the rulebook's critical list counts."
    return f"Critical for {in_sentence(line.label)}: {_items_text(critical, labels)}."


def add_beer(
    desk: Desk, label: str, family: str, abv_percent: str = "", *, by: str | None = None
) -> str:
    """Put a base beer on the shelf.

    Args:
        desk: The open store.
        label: Its name, which results files use too.
        family: Key or label of a beer family; a label that is new makes a new family.
        abv_percent: Alcohol by volume in percent as written; "" if it is not known.
        by: Who did it.

    Raises:
        PanelError: if a name will not do, the beer is there already, or the strength is no number.
    """
    name, abv = _read_label("The beer's name", label), read_abv(abv_percent)
    view = shelf(desk)
    if fold(name) in {beer.key for beer in view.beers}:
        message = f"{name} stands on the shelf already. Change it below. Nothing was recorded."
        raise PanelError(message)
    key, rows = _family_meant(view.families, family)
    row = {"beer": fold(name), "label": name, "family": key, "abv_percent": abv}
    _record(desk, [*rows, ("base_beer", row)], by)
    return f"{name}{_abv_text(abv)} stands on the shelf."


def change_beer(
    desk: Desk, beer: str, family: str, abv_percent: str = "", *, by: str | None = None
) -> str:
    """State another family or strength of a base beer; its name stays, since results files use it.

    The family counts for every glass poured in this beer, past ones too.

    Raises:
        PanelError: if the beer or the family is not there, or the strength is no number.
    """
    view, abv = shelf(desk), read_abv(abv_percent)
    line = _beer(view.beers, beer)
    key, rows = _family_meant(view.families, family)
    if (key, abv) == (line.family, line.abv_percent):
        return NOTHING_NEW
    row = {"beer": beer, "label": line.label, "family": key, "abv_percent": abv}
    _record(desk, [*rows, ("base_beer", row)], by)
    labels = {one.key: one.label for one in view.families}
    return f"{line.label}{_abv_text(abv)} is among {in_sentence(labels.get(key, family))} now."


def read_abv(written: str) -> Decimal | None:
    """Alcohol by volume in percent as written, to two decimals; None for an empty field.

    Raises:
        PanelError: if it is no number from 0 to `HIGHEST_ABV`.
    """
    text = written.strip().removesuffix("%").strip()
    if not text:
        return None
    try:
        abv = round(read_number(text), 2)
    except Unreadable as fault:
        message = f"Alcohol by volume {fault} Nothing was recorded."
        raise PanelError(message) from fault
    if not 0 <= abv <= HIGHEST_ABV:
        message = (
            f"Alcohol by volume lies between 0 and {HIGHEST_ABV}%, got {abv}. Nothing was recorded."
        )
        raise PanelError(message)
    return abv


def _record(desk: Desk, rows: Iterable[TableRow], by: str | None) -> None:
    with desk.store.recording("shelf") as act:
        act.add_all(rows)
        sign(act, by)


def _read_label(what: str, written: str) -> str:
    if not written.strip():
        message = f"{what} is empty. Nothing was recorded."
        raise PanelError(message)
    try:
        return read_name(written)
    except Unreadable as fault:
        message = f"{what} {fault} Nothing was recorded."
        raise PanelError(message) from fault


def _new_family_key(families: Iterable[FamilyLine], name: str) -> str:
    key = fold(name).replace(" ", "_")
    for family in families:
        if key == family.key or fold(name) == fold(family.label):
            message = f"{family.label} is a beer family already. Nothing was recorded."
            raise PanelError(message)
    return key


def _family_meant(families: Sequence[FamilyLine], asked: str) -> tuple[str, list[TableRow]]:
    """Key of a family given by key or label, with its rows if it is new."""
    if not asked.strip():
        message = "Choose the beer family, or write a new one. Nothing was recorded."
        raise PanelError(message)
    for family in families:
        if asked == family.key or fold(asked) == fold(family.label):
            return family.key, []
    name = _read_label("The family's name", asked)
    key = _new_family_key(families, name)
    return key, list(_family_rows(key, name))


def _family_rows(
    key: str, label: str, critical: Iterable[Group] = (), expected: Iterable[Group] = ()
) -> Iterator[TableRow]:
    """A family's statement, which always holds its whole lists."""
    yield "beer_family", {"family": key, "label": label}
    for role, items in (("critical", critical), ("expected", expected)):
        for item_no, group in enumerate(items):
            for compound in group:
                row = {"family": key, "item_no": item_no, "compound": compound, "role": role}
                yield "family_compound", row


def _family(families: Iterable[FamilyLine], key: str) -> FamilyLine:
    for family in families:
        if family.key == key:
            return family
    message = (
        "There is no such beer family on the shelf: choose one of the list. Nothing was recorded."
    )
    raise PanelError(message)


def _beer(beers: Iterable[BeerLine], key: str) -> BeerLine:
    for beer in beers:
        if beer.key == key:
            return beer
    message = (
        "There is no such base beer on the shelf: choose one of the list. Nothing was recorded."
    )
    raise PanelError(message)


def _check_items(name: str, items: Iterable[Group], labels: dict[str, str]) -> None:
    seen: set[str] = set()
    for compound in (compound for group in items for compound in group):
        if compound not in labels:
            message = f"“{compound}” is not a compound on the shelf: choose one that is. Nothing was recorded."
            raise PanelError(message)
        if compound in seen:
            message = (
                f"The {name} list names {in_sentence(item_label([compound], labels))} twice, alone "
                "and in a group or in two groups. Keep one. Nothing was recorded."
            )
            raise PanelError(message)
        seen.add(compound)


def _same_items(one: Iterable[Group], other: Iterable[Group]) -> bool:
    return {frozenset(group) for group in one} == {frozenset(group) for group in other}


def _items_text(items: Iterable[Group], labels: dict[str, str]) -> str:
    return joined([in_sentence(item_label(group, labels)) for group in items])


def _abv_text(abv: Decimal | None) -> str:
    return "" if abv is None else f", {float(abv):g}% ABV,"
