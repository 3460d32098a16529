"""Writes checked result rows: set-based, one act of recording, the same row twice is one fact."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from seatworthy.store.recording import Recording
from seatworthy.store.sql_files import query_text


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A row that says otherwise than the record about the same glass.

    Attributes:
        line: Its line in the file.
        recorded: What the record holds (“nothing”, “diacetyl”, another sample ...).
    """

    line: int
    recorded: str


class Contradicted(Exception):
    """Some rows contradict the record; carries them all."""

    def __init__(self, rows: Sequence[Contradiction]) -> None:
        super().__init__(f"{len(rows)} rows contradict the record")
        self.rows = tuple(rows)


class Planned(Exception):
    """Some rows belong to sessions that were planned here; carries their lines."""

    def __init__(self, lines: Sequence[int]) -> None:
        super().__init__(f"{len(lines)} rows belong to planned sessions")
        self.lines = tuple(lines)


@dataclass(frozen=True, slots=True)
class Added:
    """What an act of recording added.

    Attributes:
        answers: New answers.
        sessions: New sessions.
        known: Rows that were on record already.
        set_aside: Of these, glasses that the file newly sets aside.
    """

    answers: int
    sessions: int
    known: int
    set_aside: int


def record_results(act: Recording, columns: Mapping[str, Sequence[object]]) -> Added:
    """Store result rows within an act of recording.

    Args:
        act: The open act.
        columns: The columns of `FIELDS`, each as long as there are rows, all as text: DuckDB casts
            them, so that no number passes through a float.

    Raises:
        Planned: if a row belongs to a session with a plan; the act must then be left.
        Contradicted: if a glass on record was answered otherwise; likewise.
    """
    import pyarrow as pa  # only writing needs it, and reading commands start sooner without

    texts = {name: pa.array(columns[name], pa.string()) for name in FIELDS}
    act.cursor.register("incoming_rows", pa.table(texts))
    act.cursor.execute(query_text("results", "recording"))
    act.tables |= _WRITTEN
    act.cursor.unregister("incoming_rows")
    if planned := act.cursor.execute(_OF_PLANNED_SESSIONS).fetchall():
        raise Planned([line for (line,) in planned])
    contradictions = act.cursor.execute(_CONTRADICTIONS).fetchall()
    if contradictions:
        raise Contradicted([Contradiction(*row) for row in contradictions])
    added, sessions, set_aside = act.cursor.execute(_COUNTS).fetchone() or (0, 0, 0)
    act.cursor.execute("drop table temp.incoming")
    return Added(added, sessions, len(columns["line"]) - added, set_aside)


_WRITTEN = {"session", "sitting", "sample", "serving", "answer", "set_aside", "remark"}

FIELDS = (
    "line", "session_on", "session", "sitting", "session_key", "sitting_key", "person_id",
    "identity_id", "method", "position", "blind_code",
    "duplicate_mark", "beer", "compound", "given_level", "dose_ug", "volume_ml", "mark", "kind",
    "words", "words_key", "words_salt", "rating", "set_aside", "note",
)  # fmt: skip

_OF_PLANNED_SESSIONS = """
select line from incoming where session_id in (select session_id from plan) order by line
"""

_CONTRADICTIONS = """
select incoming.line, case when serving.sample_id <> incoming.sample_id
    then 'another sample under this code or position'
    else '“' || coalesce(known_answer.words, known_answer.rating::varchar, known_answer.kind) || '”'
    end as recorded
from incoming
join known_answer using (serving_id)
join serving using (serving_id)
where not is_new
  and (
      serving.sample_id <> incoming.sample_id
      or known_answer.kind <> incoming.kind
      or known_answer.words_key is distinct from incoming.words_key
      or known_answer.rating is distinct from incoming.rating
  )
order by incoming.line
"""

_COUNTS = """
select (select count(*) from incoming where is_new),
       (select count(*) from session where entry_no = getvariable('entry_no')),
       (select count(*) from set_aside
        where entry_no = getvariable('entry_no')
          and serving_id in (select serving_id from incoming where not is_new))
"""
