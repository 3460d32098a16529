"""What is kept about a person as a file for them: to be read, and to be used elsewhere.

After articles 15 and 20 of the GDPR, from memory: a copy of what is kept, in a common form, that does not
tell of others.
"""

import io
import json
import zipfile
from datetime import date, datetime
from decimal import Decimal
from typing import Any, Final

from seatworthy.errors import PanelError
from seatworthy.phrases import METHOD_WORDS
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import plain_day
from seatworthy.steps.kept_about import kept_about, spelled_ids
from seatworthy.steps.kept_views import KeptView
from seatworthy.steps.kept_words import place_words
from seatworthy.steps.signing import sign
from seatworthy.store import about_person

_WHAT: Final = (
    "All that the taste panel's record keeps about one person. Other people stand in it as “another "
    "person”. Digests, PINs and the secrets of ballots are left out, and so are glasses of sessions that "
    "are not closed yet. Moments are UTC, written after ISO 8601; amounts are exact decimals."
)
_KINDS: Final = {
    "something": "something, no name", "nothing": "nothing", "right": "picked right",
    "wrong": "picked wrong", "yes": "yes", "no": "no",
}  # fmt: skip


def hand_out_copy(desk: Desk, person_id: str, by: str | None = None) -> tuple[str, bytes]:
    """Make somebody's copy and record that it was handed out.

    Args:
        desk: The open store.
        person_id: Whose.
        by: Who hands it out.

    Returns:
        Name and bytes of a zip file that holds a text and the same as JSON.

    Raises:
        PanelError: if nobody has this id.
    """
    _view_of(desk, person_id)
    with desk.store.recording("copy handed out", counts=False) as act:
        act.add("person_copy", {"person_id": person_id})
        sign(act, by)
    return f"kept-{desk.today().isoformat()}.zip", _zipped(desk, _view_of(desk, person_id))


def _view_of(desk: Desk, person_id: str) -> KeptView:
    view = kept_about(desk, person_id)
    if view is None:
        message = "Nobody on the list of people goes by that id. Nothing was recorded."
        raise PanelError(message)
    return view


def copy_text(desk: Desk, view: KeptView) -> str:
    """The copy to be read."""
    lines = [f"{view.answer}{f'; {view.catch}' if view.catch else ''}.", view.lead, "", _WHAT, ""]
    lines += [f"As of {plain_day(view.today)}.", *view.said]
    if view.known_as:
        lines.append(f"Also written: {', '.join(view.known_as)}.")
    head = ""
    for line in view.lines:
        if line.head != head:
            head = line.head
            lines += ["", head]
        lines.append(f"  {line.rows} {line.words}{_days(line.first_on, line.last_on)}")
    lines += ["", "Every glass of the sessions that are over"]
    lines += [
        f"  {_glass(row)}" for row in desk.store.rows("kept_glasses", person_id=view.person_id)
    ]
    return "\n".join(lines) + "\n"


def copy_json(desk: Desk, view: KeptView) -> bytes:
    """The copy for a program."""
    with desk.store.reading() as cursor:
        rows = about_person.rows_about(cursor, spelled_ids(desk, view.person_id))
    found = {
        "what_this_is": _WHAT,
        "made_on": view.today,
        "name": view.name,
        "also_written": view.known_as,
        "in_words": [view.lead, *view.said],
        "counts": {line.key: line.rows for line in view.lines},
        "glasses": desk.store.rows("kept_glasses", person_id=view.person_id),
        "rows": {key: {"what": place_words(key, 2)[1], "rows": kept} for key, kept in rows.items()},
    }
    return json.dumps(found, ensure_ascii=False, indent=1, default=_plain).encode()


def _zipped(desk: Desk, view: KeptView) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr("kept.txt", "\N{ZERO WIDTH NO-BREAK SPACE}" + copy_text(desk, view))
        file.writestr("kept.json", copy_json(desk, view))
    return made.getvalue()


def _glass(row: dict[str, Any]) -> str:
    place = f"glass {row['code'] or row['position'] or '-'}"
    said = row["words"] or row["rating"] or _KINDS.get(row["kind"], "no answer")
    was = row["what_was_in_it"] or "nothing added"
    aside = ", set aside" if row["is_aside"] else ""
    how = METHOD_WORDS.get(row["method"], row["method"])
    return (
        f"{row['session_on'].isoformat()}, {row['session_label']}, {place} ({how}): said “{said}”; in it "
        f"{was}{aside}"
    )


def _days(first: date | None, last: date | None) -> str:
    if first is None or last is None:
        return ""
    if first == last:
        return f", recorded on {plain_day(first)}"
    return f", recorded from {plain_day(first)} to {plain_day(last)}"


def _plain(value: object) -> str:
    if isinstance(value, (date, datetime)):
        return value.isoformat()
    if isinstance(value, Decimal):
        return format(value, "f")
    message = f"{value!r} has no plain form"
    raise TypeError(message)
