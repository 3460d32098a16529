"""Looks for facts that cannot be: orphans that no key guards, days to come, sealed words changed."""

from collections.abc import Iterator
from datetime import datetime

import duckdb

_CHECKS = (
    (
        (
            "select count(*) from answer where words is not null"
            " and sha256(words_salt || words) is distinct from words_digest"
        ),
        "{} answers hold other words than were sealed.",
    ),
    (
        (
            "select count(*) from set_aside where reason is not null"
            " and sha256(reason_salt || reason) is distinct from reason_digest"
        ),
        "{} reasons for setting aside were changed after they were sealed.",
    ),
    (
        "select count(*) from answer anti join serving using (serving_id)",
        "{} answers belong to no serving.",
    ),
    (
        "select count(*) from serving anti join sample using (sample_id)",
        "{} servings belong to no sample.",
    ),
    (
        (
            "select count(*) from (select serving_id from answer"
            " group by serving_id, entry_no having count(*) > 1)"
        ),
        "{} servings have two answers of one moment.",
    ),
    (
        "select count(*) from serving anti join answer using (serving_id)",
        "{} servings have no answer.",
    ),
    (
        "select count(*) from sample anti join serving using (sample_id)",
        "{} samples were served to nobody.",
    ),
    (
        "select count(*) from session where session_on > $now::date + 1",
        "{} sessions lie in days to come.",
    ),
    (
        (
            "select count(*) from person anti join person_name using (person_id)"
            " where person_id not in (select person_id from same_person)"
            " and person_id not in (select person_id from serving)"
        ),
        "{} people have neither a name nor an answer.",
    ),
)


def impossible_facts(con: duckdb.DuckDBPyConnection, now: datetime) -> Iterator[str]:
    """Sentences for facts that cannot be; none when all is well.

    Args:
        con: A connection to the store.
        now: This moment, UTC.
    """
    for sql, sentence in _CHECKS:
        row = con.execute(sql, {"now": now} if "$now" in sql else None).fetchone()
        if row and row[0]:
            yield sentence.format(row[0])
