"""Names of people as they stand in a store: under which spelling, and where a text holds them."""

import re
from collections.abc import Sequence

import duckdb

PART_LENGTH = 3  # a part of a name that is shorter stands in too many words


def anonymous_name(person_id: str) -> str:
    """What stands where a name stood."""
    return f"Somebody made anonymous ({person_id[:4]})"


def is_taken_away(person_id: str, name: str) -> bool:
    """Whether a spelling is what stands for a name that went."""
    return name in (anonymous_name(person_id), f"Somebody made anonymous ({person_id})")


def spellings_of(con: duckdb.DuckDBPyConnection, ids: Sequence[str]) -> list[tuple[str, str]]:
    """Id and name of these spellings, by id; one without any name is left out."""
    rows = con.execute(
        "select person_id, spelling from person_name where person_id in $ids order by person_id",
        {"ids": list(ids)},
    ).fetchall()
    return [(person_id, name) for person_id, name in rows]


def pattern_of(
    con: duckdb.DuckDBPyConnection,
    ids: Sequence[str],
    *,
    is_whole: bool = False,
    is_file: bool = False,
) -> str:
    """What finds these people's names in a text; "" where they have none left.

    Args:
        con: A connection to the store.
        ids: Their spellings.
        is_whole: Whether only the whole name counts, as in the answers of others.
        is_file: Whether small letters count too, and what stands around the name does not.
    """
    names = _plain_names(con, ids)
    found = [f"(?i:{_spaced(name)})" for name in names]
    if not is_whole:
        parts = {part for name in names for part in name.split() if len(part) >= PART_LENGTH}
        parts -= _parts_of_others(con, ids)
        form = "(?i:{})" if is_file else r"(?:^|[^\pL]){}(?:[^\pL]|$)"
        found += [form.format(re.escape(part)) for part in sorted(parts)]
    return "|".join(found)


def _spaced(name: str) -> str:
    return r"[\s_.-]*".join(re.escape(part) for part in name.split())


def _plain_names(con: duckdb.DuckDBPyConnection, ids: Sequence[str]) -> list[str]:
    """The names that these people have left, without accents."""
    rows = con.execute(
        "select person_id, spelling, strip_accents(spelling) from person_name"
        " where person_id in $ids order by person_id",
        {"ids": list(ids)},
    ).fetchall()
    return [plain for person_id, name, plain in rows if not is_taken_away(person_id, name)]


def _parts_of_others(con: duckdb.DuckDBPyConnection, ids: Sequence[str]) -> set[str]:
    rows = con.execute(
        "select strip_accents(spelling) from person_name where person_id not in $ids",
        {"ids": list(ids)},
    ).fetchall()
    return {part for (name,) in rows for part in name.split()}
