"""The history: one entry per act of recording, each sealed with the digest of the one before.

An entry's ``facts_digest`` is taken over the canonical text of the facts it recorded: per table the
sorted lines of its columns, as text, joined by unit separators. Names and free text stay outside
(their salted digests are inside), and so do floating-point numbers: amounts are decimals.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256

import duckdb

NO_ENTRY = "0" * 64

# Columns that are sealed, per table. A line here is never changed, since old entries were sealed
# with it; a new table is a new line.
SEALED: Mapping[str, tuple[str, ...]] = {
    "person": ("person_id",),
    "same_person": ("person_id", "stands_for", "is_same"),
    "brewery": ("label", "time_zone"),
    "compound": (
        "compound", "label", "chemical_name", "cas", "chemical_class", "descriptors",
        "reference_low", "reference_high", "reference_unit", "how_known", "source", "serve",
        "keeping", "cause", "safety",
    ),
    "synonym": ("words_key", "words", "compound"),
    "beer_family": ("family", "label"),
    "family_compound": ("family", "item_no", "compound", "role"),
    "base_beer": ("beer", "label", "family", "abv_percent"),
    "working_threshold": ("compound", "family", "threshold_ug_l", "valid_from_on"),
    "background": ("beer", "compound", "known", "background_ug_l", "valid_from_on"),
    "shelf_file": ("file_digest",),
    "import_file": ("import_id", "file_digest", "shape", "rows_read", "rows_added"),
    "session": ("session_id", "session_on", "label"),
    "sitting": ("sitting_id", "session_id", "label"),
    "sample": (
        "sample_id", "sitting_id", "beer", "compound", "given_level", "dose_ug", "volume_ml",
        "mark",
    ),
    "serving": (
        "serving_id", "sample_id", "person_id", "method", "position", "blind_code",
        "duplicate_mark",
    ),
    "answer": ("serving_id", "kind", "words_digest", "rating"),
    "set_aside": ("serving_id", "is_aside", "reason_digest"),
    "remark": ("serving_id", "remark_digest"),
    "author": ("person_id",),
    "panellist": ("person_id", "is_panellist", "since_on"),
    "not_served": ("person_id", "kind", "what", "is_in_force"),
    "plan": (
        "session_id", "purpose", "beer", "volume_ml", "abv_percent", "has_control", "spits",
        "spat_share", "alcohol_limit_g", "most_glasses", "seed", "repeats",
    ),
    "sitting_time": ("sitting_id", "starts_at"),
    "sitting_person": ("sitting_id", "person_id", "state"),
    "sitting_over": ("sitting_id", "is_over"),
    "addition": ("sample_id", "addition_digest"),
    "sample_state": ("sample_id", "actual_level", "age_minutes"),
    "sample_aside": ("sample_id", "is_aside", "reason_digest"),
    "spare_serving": (
        "sitting_id", "spare_no", "position", "sample_id", "blind_code", "duplicate_mark",
    ),
    "spare_taken": ("sitting_id", "spare_no", "person_id"),
    "glass_event": ("serving_id", "kind"),
    "poured_instead": ("serving_id", "sample_id"),
    "preparer": ("session_id", "person_id", "is_preparer"),
    "recoding": ("session_id", "is_recoded", "person_id"),
    "correction": ("serving_id", "reason_digest"),
    "session_end": ("session_id", "how"),
    "keeping": ("compound", "half_life_h", "valid_from_on"),
    "rulebook": ("rulebook_digest", "name", "version", "counts_from_on"),
    "signer": ("person_id", "is_signer"),
    "proposal": (
        "proposal_id", "person_id", "family", "state", "as_of_on", "until_on", "rulebook_digest",
        "model_version", "facts_digest",
    ),
    "proposal_reply": ("proposal_id", "kind", "words_digest"),
    "decision": (
        "decision_id", "proposal_id", "person_id", "family", "state", "from_on", "until_on",
        "proposed_state", "as_of_on", "rulebook_digest", "model_version", "facts_digest",
        "reason_digest", "signed_by",
    ),
    "decision_compound": ("decision_id", "compound", "standing", "until_on"),
    "pipette": (
        "pipette_id", "label", "smallest_ul", "largest_ul", "step_ul", "is_fine", "bias_ul",
        "spread_ul", "is_in_use",
    ),
    "container": (
        "container_id", "label", "kind", "content_ml", "fill_off_ml", "headspace_ml", "dead_ml",
        "is_in_use",
    ),
    "stock": (
        "stock_id", "compound", "label", "lot", "kind", "strength", "strength_off_percent",
        "full_amount", "dead_ul", "ethanol_percent", "is_food_grade", "is_bought_dilution",
        "is_narrow", "made_from", "taken_ul", "made_ul",
    ),
    "stock_state": ("stock_id", "opened_on", "expires_on", "left_amount", "is_used_up"),
    "compound_limit": ("compound", "keeps_h", "keeps_weak_h", "highest_level", "valid_from_on"),
    "recipe": (
        "session_id", "mark", "container_id", "volume_ml", "stock_id", "pipette_id", "setting_ul",
        "shots", "amount", "solvent_ul", "is_out_first", "gives", "is_shared", "level", "level_off",
    ),
    "recipe_vessel": ("session_id", "mark", "vessel_no", "sitting_id"),
    "sample_keeps": ("sample_id", "keeps_h"),
    "vessel_dosed": (
        "sample_id", "vessel_no", "is_done", "is_shared", "stock_id", "pipette_id", "setting_ul",
        "shots", "amount", "solvent_ul", "volume_ml", "dosed_at", "person_id",
    ),
    "vessel_step": ("sample_id", "vessel_no", "step", "is_done", "done_at", "person_id"),
    "vessel_remark": ("sample_id", "vessel_no", "remark_digest"),
    "set_glass": ("serving_id", "place", "blind_code", "sample_id", "is_odd"),
    "set_pick": ("serving_id", "blind_code", "salt"),
    "plan_flight": ("session_id", "flight", "strong_late"),
    "ballot_link": ("link_digest", "sitting_id", "person_id", "expires_at"),
    "ballot_language": ("person_id", "language"),
    "phone_answer": ("serving_id", "sureness"),
    "sample_question": ("sample_id", "compound"),
    "accepted_words": ("words_key", "words", "compound", "is_accepted"),
    "batch": ("batch_id", "label", "beer"),
    "batch_crew": ("batch_id", "person_id", "is_crew"),
    "release_session": ("session_id",),
    "unknown_sample": ("sample_id", "batch_id"),
    "talk": ("sitting_id", "is_open"),
    "talk_answer": ("serving_id", "kind", "words_digest"),
    "beer_question": ("sample_id", "beer", "variant"),
    "chosen_panel": (
        "panel_id", "chosen_on", "family", "batch_id", "callers", "chosen_text", "chosen_digest",
    ),
    "chosen_person": ("panel_id", "person_id"),
    "beer_share": ("family", "what", "share"),
    "weighed_call": (
        "weighing_id", "weighed_on", "family", "batch_id", "sample_id", "label", "is_blind",
        "model_version", "weighed_text", "weighed_digest",
    ),
    "weighed_word": ("weighing_id", "person_id", "kind", "compound"),
    "weighed_chance": ("weighing_id", "what", "chance"),
    "call_outcome": ("weighing_id", "what", "how", "remark_digest"),
    "made_anonymous": ("person_id",),
    "retention": ("keep_months",),
    "kept_longer": ("person_id", "until_on"),
    "person_copy": ("person_id",),
    "brewer_sight": ("sees_scores",),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Entry:
    """One act of recording.

    Attributes:
        entry_no: Running number from 1.
        recorded_at: When, in UTC.
        kind: What was done ("results", "shelf", ...).
        facts: Rows recorded.
        facts_digest: Digest over their canonical text.
        previous_digest: The digest of the entry before, zeros for the first.
    """

    entry_no: int
    recorded_at: datetime
    kind: str
    facts: int
    facts_digest: str
    previous_digest: str

    @property
    def digest(self) -> str:
        """SHA-256 over all the fields, the previous digest included."""
        parts = (
            str(self.entry_no), self.recorded_at.isoformat(sep=" ", timespec="microseconds"),
            self.kind, str(self.facts), self.facts_digest, self.previous_digest,
        )  # fmt: skip
        return sha256("\x1f".join(parts).encode()).hexdigest()


def facts_by_entry(
    con: duckdb.DuckDBPyConnection,
    entry_no: int | None = None,
    tables: Collection[str] = SEALED.keys(),
) -> dict[int, tuple[int, str]]:
    """Number of facts and their digest, per entry that recorded any.

    Args:
        con: A connection to the store; rows of its open transaction count.
        entry_no: Only this entry; None for all.
        tables: Only these tables.
    """
    found: dict[int, list[tuple[str, int, str]]] = {}
    for table, columns in SEALED.items():
        if table not in tables:
            continue
        for number, rows, digest in con.execute(_sealed_lines(table, columns, entry_no)).fetchall():
            found.setdefault(number, []).append((table, rows, digest))
    return {number: _combined(parts) for number, parts in found.items()}


def last_entry(con: duckdb.DuckDBPyConnection) -> tuple[int, str]:
    """Number and digest of the newest entry; (0, zeros) for an empty history."""
    # Every row is fetched: on the store's own connection an unfinished result is a transaction that
    # stays open, and no act could use the room of the file again.
    rows = con.execute(
        "select entry_no, digest from history order by entry_no desc limit 1"
    ).fetchall()
    return (rows[0][0], rows[0][1]) if rows else (0, NO_ENTRY)


def broken_entries(con: duckdb.DuckDBPyConnection) -> Iterator[str]:
    """Sentences for every entry that does not add up; none when all is well."""
    facts = facts_by_entry(con, tables=_tables_there(con))
    previous, expected_no = NO_ENTRY, 1
    rows = con.execute(
        "select entry_no, recorded_at, kind, facts, facts_digest, previous_digest, digest"
        " from history order by entry_no"
    ).fetchall()
    for *fields, digest in rows:
        entry = Entry(*fields)
        yield from _faults_of(entry, digest, previous, expected_no, facts.pop(entry.entry_no, None))
        previous, expected_no = digest, entry.entry_no + 1
    for entry_no in sorted(facts):
        yield f"facts name entry {entry_no}, which the history does not hold."


def _tables_there(con: duckdb.DuckDBPyConnection) -> set[str]:
    """Tables of this store; one of an earlier version has fewer, and no entry that sealed the others."""
    rows = con.execute(
        "select table_name from duckdb_tables() where database_name = current_database()"
    ).fetchall()
    return {table for (table,) in rows}


def _faults_of(
    entry: Entry, digest: str, previous: str, expected_no: int, facts: tuple[int, str] | None
) -> Iterator[str]:
    if entry.entry_no != expected_no:
        yield f"entry {expected_no} is missing from the history."
    if entry.previous_digest != previous:
        yield f"entry {entry.entry_no} does not follow the entry before it."
    if entry.digest != digest:
        yield f"entry {entry.entry_no} ({entry.kind}) was changed after it was sealed."
    count, facts_digest = facts or _combined([])
    if count != entry.facts:
        yield f"entry {entry.entry_no} sealed {entry.facts} facts, the tables hold {count}."
    elif facts_digest != entry.facts_digest:
        yield f"facts of entry {entry.entry_no} ({entry.kind}) were changed after it was sealed."


def _combined(parts: list[tuple[str, int, str]]) -> tuple[int, str]:
    text = "\n".join(f"{table} {rows} {digest}" for table, rows, digest in sorted(parts))
    return sum(rows for _, rows, _ in parts), sha256(text.encode()).hexdigest()


def _sealed_lines(table: str, columns: tuple[str, ...], entry_no: int | None) -> str:
    fields = ", ".join(f"coalesce({column}::varchar, chr(30))" for column in columns)
    where = "" if entry_no is None else f"where entry_no = {int(entry_no)}"
    return (
        f"select entry_no, count(*), sha256(string_agg(line, chr(10) order by line)) from ("
        f"select entry_no, concat_ws(chr(31), recorded_at::varchar, {fields}) as line"
        f" from {table} {where}) group by entry_no"
    )
