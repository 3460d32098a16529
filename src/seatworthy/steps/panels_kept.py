"""Panels kept as a record: what was chosen, on what figures, told again as it was."""

import json
from collections.abc import Mapping
from datetime import UTC, date
from decimal import Decimal
from hashlib import sha256
from typing import Any, Final

from seatworthy.errors import PanelError
from seatworthy.stats.ability.settings import MODEL_VERSION
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import first_names
from seatworthy.steps.miss_sentences import clean_sentence, rows_of, told_of
from seatworthy.steps.miss_views import (
    Chance,
    ItemFigures,
    KeptPanel,
    MissView,
    PanelFigures,
    Told,
    Wanted,
)
from seatworthy.steps.people import known_spellings
from seatworthy.steps.seat_panel import seat_panel
from seatworthy.steps.signing import sign

FORM: Final = "chosen panel, form 1"
_MET: Final = "Quorum, independence and cover were met by the rulebook of that day."
_NOT_MET: Final = "Quorum, independence and cover were not all met by the rulebook of that day."
_NO_PANEL: Final = "There is no such panel on record. Open it from the list of panels kept."
_GONE: Final = "somebody since made anonymous"


def keep_panel(desk: Desk, wanted: Wanted, seen: MissView, by: str | None = None) -> str:
    """Keep a panel with its figures; the same on the same day is one fact.

    Args:
        desk: The open store.
        wanted: What the leader chose.
        seen: The page as the leader saw it.
        by: Who keeps it.

    Returns:
        The panel's id.

    Raises:
        PanelError: if nobody sits on it, or the record says otherwise than the page that was seen.
    """
    if not seen.figures.people:
        message = "Nobody sits on this panel, so there is nothing to keep. Tick who sits first."
        raise PanelError(message)
    text = chosen_text(seen, desk.rulebook_on(seen.as_of).digest)
    panel_id = sha256(text.encode()).hexdigest()[:16]
    with desk.store.recording("chosen_panel", counts=False) as act:
        now = seat_panel(desk, wanted)
        if chosen_text(now, desk.rulebook_on(now.as_of).digest) != text:
            message = (
                "The record has changed since this page was drawn, so nothing was kept. Look at the panel "
                "as it stands now, then keep it."
            )
            raise PanelError(message)
        if panel_id not in {row["panel_id"] for row in desk.store.rows("chosen_panels")}:
            act.add("chosen_panel", _row(seen, panel_id, text))
            for person in seen.figures.people:
                act.add("chosen_person", {"panel_id": panel_id, "person_id": person})
            sign(act, by)
    return panel_id


def _row(seen: MissView, panel_id: str, text: str) -> dict[str, object]:
    return {
        "panel_id": panel_id,
        "chosen_on": seen.as_of,
        "family": seen.family.key,
        "batch_id": seen.batch.batch_id if seen.batch else None,
        "callers": seen.figures.callers,
        "chosen_text": text,
        "chosen_digest": sha256(text.encode()).hexdigest(),
    }


def chosen_text(view: MissView, rulebook_digest: str) -> str:
    """The canonical text of a choice: ids and decimals only, sorted, without a space."""
    figures = view.figures
    said = {
        "form": FORM,
        "on": view.as_of.isoformat(),
        "family": view.family.key,
        "batch": view.batch.batch_id if view.batch else None,
        "crew": sorted(view.batch.crew) if view.batch else [],
        "rulebook": rulebook_digest,
        "model": MODEL_VERSION,
        "rules_met": view.is_met,
        "here": sorted(line.person_id for line in view.people if line.is_here),
        "people": list(figures.people),
        "callers": figures.callers,
        "limit": f"{figures.limit:f}",
        "level": f"{figures.level:g}",
        "levels": [f"{level:g}" for level in figures.levels],
        "items": [_item_text(item) for item in figures.items],
        "clean": [_chance_text(one) for one in (figures.same, figures.anything) if one],
    }
    return json.dumps(said, sort_keys=True, separators=(",", ":"))


def _item_text(item: ItemFigures) -> dict[str, Any]:
    return {
        "item": list(item.item),
        "critical": item.is_critical,
        "member": item.member,
        "slips": [_chance_text(one) for one in item.slips],
        "away": item.away,
        "without": None if item.without is None else _decimal(item.without),
        "noses": item.noses,
        "deaf": list(item.deaf),
        "untested": list(item.untested),
    }


def _chance_text(chance: Chance) -> list[str]:
    return [_decimal(chance.mean), _decimal(chance.low), _decimal(chance.high)]


def _decimal(chance: float) -> str:
    return f"{chance:.6f}"


def panels_kept(desk: Desk) -> tuple[KeptPanel, ...]:
    """Every panel kept, the latest first, each with the sentence its own figures give."""
    people = {row["person_id"]: row["spelling"] for row in desk.store.rows("panel_people")}
    short, stands_for = first_names(people), known_spellings(desk).stands_for
    names = {spelled: people.get(person, _GONE) for spelled, person in stands_for.items()}
    first = {spelled: short.get(person, _GONE) for spelled, person in stands_for.items()}
    labels = {row["compound"]: row["label"] for row in desk.store.rows("compounds")}
    rows = desk.store.rows("chosen_panels")
    return tuple(_kept(desk, row, (names, first), labels) for row in rows)


def panel_kept(desk: Desk, panel_id: str) -> KeptPanel:
    """One panel kept.

    Raises:
        PanelError: if there is none.
    """
    found = next((one for one in panels_kept(desk) if one.panel_id == panel_id), None)
    if found is None:
        raise PanelError(_NO_PANEL)
    return found


def _kept(
    desk: Desk,
    row: Mapping[str, Any],
    named: tuple[Mapping[str, str], Mapping[str, str]],
    labels: Mapping[str, str],
) -> KeptPanel:
    said = json.loads(row["chosen_text"])
    figures, (names, short) = _figures(said), named
    chosen_on: date = row["chosen_on"]
    return KeptPanel(
        panel_id=row["panel_id"],
        chosen_on=chosen_on,
        family_label=row["family_label"],
        batch_label=row["batch_label"],
        names=tuple(names.get(person, _GONE) for person in figures.people),
        figures=figures,
        told=told_of(figures, labels, short) if figures.people else Told("", "", "", ""),
        rows=rows_of(figures, labels, short),
        clean=clean_sentence(figures),
        rule_sentences=(_MET if said["rules_met"] else _NOT_MET,),
        kept_by=row["kept_by"] or "",
        moment=row["recorded_at"].replace(tzinfo=UTC).astimezone(desk.time_zone),
        digest=row["chosen_digest"],
    )


def _figures(said: Mapping[str, Any]) -> PanelFigures:
    clean = [_chance(one) for one in said["clean"]]
    return PanelFigures(
        people=tuple(said["people"]),
        callers=said["callers"],
        limit=Decimal(said["limit"]),
        level=float(said["level"]),
        levels=tuple(float(level) for level in said["levels"]),
        items=tuple(_item(one) for one in said["items"]),
        same=clean[0] if clean else None,
        anything=clean[1] if clean else None,
    )


def _item(said: Mapping[str, Any]) -> ItemFigures:
    return ItemFigures(
        item=tuple(said["item"]),
        is_critical=said["critical"],
        member=said["member"],
        slips=tuple(_chance(one) for one in said["slips"]),
        away=said["away"],
        without=None if said["without"] is None else float(said["without"]),
        noses=said["noses"],
        deaf=tuple(said["deaf"]),
        untested=tuple(said["untested"]),
    )


def _chance(said: list[str]) -> Chance:
    mean, low, high = (float(part) for part in said)
    return Chance(mean, low, high)
