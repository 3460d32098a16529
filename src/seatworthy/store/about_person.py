"""Every row of a store that is about one person, found by its keys, so that no table is forgotten."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

import duckdb

# What names a row that belongs to a person, and the table that says whose it is.
_THROUGH: Final = {"serving_id": "serving", "proposal_id": "proposal", "decision_id": "decision"}
# Kept out of a copy: what proves, and what opens a ballot.
_SECRET_ENDS: Final = ("_salt", "_digest", "salt", "words_key")
# What a signer said of somebody else's seat is not about the signer.
_ABOUT_OTHERS: Final = {"decision.signed_by": ("state", "proposed_state", "until_on", "reason")}
_NO_MOMENT: Final = "null::timestamp"
_OTHER: Final = "another person"
_OPEN: Final = (
    "select serving_id from serving join sample using (sample_id) join sitting using (sitting_id)"
    " where session_id in (select session_id from known_open_session)"
)


@dataclass(frozen=True, slots=True)
class Place:
    """A table with a column by which a row is about somebody.

    Attributes:
        column: It holds a person's id, or the id of what `through` holds.
        through: The table that says whose it is; "" where the column does.
    """

    table: str
    column: str
    through: str = ""

    @property
    def key(self) -> str:
        """Table and column as one word."""
        return f"{self.table}.{self.column}"


@dataclass(frozen=True, slots=True)
class Counted:
    """How much stands in a place about somebody.

    Attributes:
        first_at: Moment of the first row (UTC); None where rows bear no moment.
        last_at: Of the last one, likewise.
    """

    place: Place
    rows: int
    first_at: datetime | None
    last_at: datetime | None


def places(con: duckdb.DuckDBPyConnection) -> list[Place]:
    """Where a store holds anything about a person, read from its own keys and columns."""
    direct = con.execute(
        "select table_name, unnest(constraint_column_names) from duckdb_constraints()"
        " where constraint_type = 'FOREIGN KEY' and referenced_table = 'person'"
        " and database_name = current_database()"
    ).fetchall()
    found = {Place("person", "person_id"), *(Place(table, column) for table, column in direct)}
    through = con.execute(
        "select table_name, column_name from duckdb_columns() where column_name in"
        " ('serving_id', 'proposal_id', 'decision_id') and database_name = current_database()"
        " and table_name in (select table_name from duckdb_tables()"
        " where database_name = current_database())"
    ).fetchall()
    own = {place.table for place in found}
    found |= {
        Place(table, column, _THROUGH[column]) for table, column in through if table not in own
    }
    return sorted(found, key=lambda place: place.key)


def counted(con: duckdb.DuckDBPyConnection, person_ids: Collection[str]) -> list[Counted]:
    """How many rows of each place are about somebody, none left out."""
    found, moments = places(con), _moments(con)
    parts = [
        f"select {number} as number, count(*), min({moments.get(place.table, _NO_MOMENT)}),"
        f" max({moments.get(place.table, _NO_MOMENT)}) from {place.table} where {_condition(place)}"
        for number, place in enumerate(found)
    ]
    rows = con.execute(
        f"{' union all '.join(parts)} order by number", {"ids": sorted(person_ids)}
    ).fetchall()
    return [Counted(place, *row[1:]) for place, row in zip(found, rows, strict=True)]


def rows_about(
    con: duckdb.DuckDBPyConnection, person_ids: Collection[str]
) -> dict[str, list[dict[str, Any]]]:
    """The rows about somebody by place, for the copy that they are given.

    Ids of others are taken out, and digests, salts and what opens a ballot. Glasses of sessions that
    are not closed yet are left out: what is in them is still to be found by tasting.
    """
    ids = sorted(person_ids)
    people = {(place.table, place.column) for place in places(con) if not place.through}
    found = {}
    for place in places(con):
        if place.table == "signer_pin":
            continue
        is_glass = "serving" in (place.table, place.through)
        unopened = f" and serving_id not in ({_OPEN})" if is_glass else ""
        result = con.execute(
            f"select * from {place.table} where {_condition(place)}{unopened} order by all",
            {"ids": ids},
        )
        names = [column[0] for column in result.description]
        left_out = _ABOUT_OTHERS.get(place.key, ())
        kept = [n for n in names if not n.endswith(_SECRET_ENDS) and n not in left_out]
        rows = [dict(zip(names, row, strict=True)) for row in result.fetchall()]
        found[place.key] = [
            {
                name: _OTHER
                if (place.table, name) in people and row[name] not in (*ids, None)
                else row[name]
                for name in kept
            }
            for row in rows
        ]
    return {key: rows for key, rows in found.items() if rows}


def _condition(place: Place) -> str:
    if not place.through:
        return f"{place.column} in $ids"
    whose = f"select {place.column} from {place.through} where person_id in $ids"
    return f"{place.column} in ({whose})"


def _moments(con: duckdb.DuckDBPyConnection) -> dict[str, str]:
    """Column by table that bears the moment of a row."""
    rows = con.execute(
        "select table_name, column_name from duckdb_columns()"
        " where column_name in ('recorded_at', 'set_at') and database_name = current_database()"
    ).fetchall()
    return dict(rows)
