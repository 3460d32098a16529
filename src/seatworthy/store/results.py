"""Writes checked result rows: set-based, one act of recording, the same row twice is one fact."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from seatworthy.store.file import Recording
from seatworthy.store.sql_files import query_text


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A row that says otherwise than the record about the same glass.

    Attributes:
        line: Its line in the file.
        recorded: What the record holds ("nothing", "diacetyl", another glass ...).
    """

    line: int
    recorded: str


class Contradicted(Exception):
    """Some rows contradict the record; carries them all."""

    def __init__(self, rows: Sequence[Contradiction]) -> None:
        super().__init__(f"{len(rows)} rows contradict the record")
        self.rows = tuple(rows)


@dataclass(frozen=True, slots=True)
class Added:
    """What an act of recording added.

    Attributes:
        answers: New answers.
        sessions: New sessions.
        known: Rows that were on record already.
    """

    answers: int
    sessions: int
    known: int


def record_results(act: Recording, columns: Mapping[str, Sequence[object]]) -> Added:
    """Store result rows within an act of recording.

    Args:
        act: The open act.
        columns: The columns of `FIELDS`, each as long as there are rows; numbers as text, so that
            DuckDB casts them to decimals and none passes through a float.

    Raises:
        Contradicted: if a glass on record was answered otherwise; the act must then be left.
    """
    import pandas as pd  # takes as long to import as a whole reading command; only writing needs it

    act.cursor.register("incoming_rows", pd.DataFrame({name: columns[name] for name in FIELDS}))
    act.cursor.execute(_TYPED)
    act.cursor.unregister("incoming_rows")
    act.cursor.execute(query_text("results", "recording"))
    contradictions = act.cursor.execute(_CONTRADICTIONS).fetchall()
    if contradictions:
        raise Contradicted([Contradiction(*row) for row in contradictions])
    added, sessions = act.cursor.execute(_COUNTS, [act.entry_no]).fetchone() or (0, 0)
    for table in ("incoming", "identified", "added"):
        act.cursor.execute(f"drop table temp.{table}")
    return Added(added, sessions, len(columns["line"]) - added)


FIELDS = {
    "line": "integer", "session_on": "date", "session": "varchar", "sitting": "varchar",
    "person_id": "varchar", "method": "varchar", "position": "integer", "blind_code": "varchar",
    "duplicate_mark": "varchar", "beer": "varchar", "compound": "varchar",
    "given_level": "decimal(18, 9)", "dose_ug": "decimal(18, 9)", "volume_ml": "decimal(18, 9)",
    "mark": "varchar", "kind": "varchar", "words": "varchar", "words_key": "varchar",
    "words_salt": "varchar", "rating": "decimal(18, 9)", "set_aside": "varchar", "note": "varchar",
}  # fmt: skip

_TYPED = "create or replace temp table incoming as select {} from incoming_rows".format(
    ", ".join(f"cast({name} as {kind}) as {name}" for name, kind in FIELDS.items())
)

_CONTRADICTIONS = """
select identified.line, case when serving.sample_id <> identified.sample_id
    then 'another glass' else coalesce(known_answer.words, known_answer.kind) end as recorded
from identified
join known_answer using (serving_id)
join serving using (serving_id)
where serving.sample_id <> identified.sample_id
   or known_answer.kind <> identified.kind
   or known_answer.words_key is distinct from identified.words_key
   or known_answer.rating is distinct from identified.rating
order by identified.line
"""

_COUNTS = """
select (select count(*) from added),
       (select count(*) from session where entry_no = ?)
"""
