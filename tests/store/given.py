"""Given rows: a few facts put straight into a store, so that one layer is tested at a time."""

from collections.abc import Iterable
from datetime import date
from hashlib import sha256

from seatworthy.store.file import Store
from seatworthy.store.recording import Recording

COMPOUNDS = ("diacetyl", "dms", "acetic_acid")
DAY = date(2026, 3, 2)


def vocabulary(store: Store, compounds: Iterable[str] = COMPOUNDS) -> None:
    """Compounds that go by their keys."""
    blank = dict.fromkeys(
        (
            "chemical_name", "cas", "chemical_class", "descriptors", "reference_unit",
            "how_known", "source", "serve", "keeping", "cause", "safety",
        ),
        "",
    )  # fmt: skip
    with store.recording("vocabulary") as act:
        for key in compounds:
            act.add("compound", {"compound": key, "label": key, **blank})
            act.add("synonym", {"words_key": key, "words": key, "compound": key})


def beer(act: Recording, key: str = "pils", family: str = "pale") -> None:
    """A base beer and its family."""
    act.add("beer_family", {"family": family, "label": family})
    act.add("base_beer", {"beer": key, "label": key, "family": family, "abv_percent": None})


def person(act: Recording, person_id: str) -> str:
    """Somebody whose id and name are the same, padded to sixteen characters."""
    padded = person_id.ljust(16, "_")
    act.add("person", {"person_id": padded})
    act.cursor.execute("insert into person_name values (?, ?)", [padded, person_id])
    return padded


def session(act: Recording, on: date = DAY) -> str:
    """A session of one sitting; returns the sitting's id, which is the day."""
    key = on.isoformat()
    act.add("session", {"session_id": key, "session_on": on, "label": ""})
    act.add("sitting", {"sitting_id": key, "session_id": key, "label": ""})
    return key


def glass(
    act: Recording,
    sitting: str,
    who: str,
    compound: str | None,
    said: str | None,
    *,
    kind: str | None = None,
    level: float | None = 3,
    dose_ug: float | None = None,
    volume_ml: float | None = None,
    method: str = "naming",
    beer: str = "pils",
    mark: str = "",
    number: int = 1,
    rating: float | None = None,
) -> str:
    """One answered glass; `said` None is "nothing noticed"."""
    sample = f"{sitting} {compound} {level} {dose_ug} {beer}"
    if not act.cursor.execute(
        "select count(*) from sample where sample_id = ?", [sample]
    ).fetchone()[0]:
        act.add("sample", {
            "sample_id": sample, "sitting_id": sitting, "beer": beer, "compound": compound,
            "given_level": level if compound and dose_ug is None else None,
            "dose_ug": dose_ug, "volume_ml": volume_ml, "mark": "",
        })  # fmt: skip
    serving = f"{sample} {who} {number} {method}"
    act.add("serving", {
        "serving_id": serving, "sample_id": sample, "person_id": who, "method": method,
        "position": None, "blind_code": None, "duplicate_mark": mark or None,
    })  # fmt: skip
    kind = kind or ("words" if said else "nothing")
    words = said if kind == "words" else None
    act.add("answer", {
        "serving_id": serving, "kind": kind, "words": words, "words_key": words,
        "words_salt": "salt" if words else None,
        "words_digest": sha256(f"salt{words}".encode()).hexdigest() if words else None,
        "rating": rating,
    })  # fmt: skip
    return serving
