"""Looks for facts that cannot be: orphans that no key guards, days to come, sealed words changed.

What holds of every table alike stands in `store.orphans`.
"""

from collections.abc import Iterator
from datetime import datetime

import duckdb

from seatworthy.store.orphans import strange_rows

# Free text with the salted digest that was sealed: table, column, what the sentence calls it.
_SEALED_TEXTS = (
    ("answer", "words", "answers hold other words than were sealed"),
    ("set_aside", "reason", "reasons for setting aside were changed after they were sealed"),
    ("sample_aside", "reason", "reasons for setting samples aside were changed likewise"),
    ("correction", "reason", "reasons for corrections were changed likewise"),
    ("addition", "addition", "notes of what was added were changed likewise"),
    ("remark", "remark", "remarks were changed likewise"),
    ("proposal_reply", "words", "replies to proposals were changed likewise"),
    ("decision", "reason", "reasons for decisions were changed likewise"),
    ("vessel_remark", "remark", "remarks on vessels were changed likewise"),
    ("talk_answer", "words", "answers after a talk were changed likewise"),
    ("call_outcome", "remark", "remarks on what a beer really had were changed likewise"),
)

# A text that went with somebody's name has their id in the place of its salt.
_ANONYMOUS = (
    "select person_id from person anti join (select person_id from person_name"
    " where not starts_with(spelling, 'Somebody made anonymous (')) using (person_id)"
)
_HIGHEST_RATING = 1000  # as the intake takes them

_PLANNED = "select session_id from plan"

_CHECKS = (
    *(
        (
            (
                f"select count(*) from {table} where coalesce({column}, '') <> ''"
                f" and sha256({column}_salt || {column}) is distinct from {column}_digest"
            ),
            f"{{}} {words}.",
        )
        for table, column, words in _SEALED_TEXTS
    ),
    *(
        (
            (
                f"select count(*) from {table} where {column}_digest is not null"
                f" and coalesce({column}, '') = ''"
                f" and coalesce({column}_salt, '') not in ({_ANONYMOUS})"
            ),
            (
                f"{{}} texts are gone from {table.replace('_', ' ')} (their {column}) though nobody was"
                " made anonymous for it."
            ),
        )
        for table, column, _ in _SEALED_TEXTS
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
        (
            "select count(*) from serving join sample using (sample_id) join sitting"
            " using (sitting_id) anti join answer using (serving_id)"
            f" where session_id not in ({_PLANNED})"
        ),
        "{} servings have no answer.",
    ),
    (
        (
            "select count(*) from sample join sitting using (sitting_id)"
            f" anti join serving using (sample_id) where session_id not in ({_PLANNED})"
        ),
        "{} samples were served to nobody.",
    ),
    (
        (
            "select count(*) from session where session_on > $now::date + 1"
            f" and session_id not in ({_PLANNED})"
        ),
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
    (
        "select count(*) from rulebook where sha256(rulebook_text) <> rulebook_digest",
        "{} rulebooks have another text than was sealed.",
    ),
    (
        "select count(*) from proposal anti join beer_family using (family)",
        "{} proposals are about no beer family on record.",
    ),
    (
        "select count(*) from decision anti join beer_family using (family)",
        "{} decisions are about no beer family on record.",
    ),
    (
        "select count(*) from decision anti join author using (entry_no)",
        "{} decisions have no author.",
    ),
    (
        (
            "select count(*) from decision join proposal using (proposal_id)"
            " where decision.family <> proposal.family or decision.entry_no <= proposal.entry_no"
        ),
        "{} decisions answer a proposal about another seat, or of a later moment.",
    ),
    (
        (
            "select count(*) from stock as made left join stock as parent"
            " on parent.stock_id = made.made_from where made.made_from is not null"
            " and (parent.entry_no >= made.entry_no or parent.stock_id is null)"
        ),
        "{} dilutions were made from no stock on record, or from one of a later moment.",
    ),
    (
        "select count(*) from set_glass anti join serving using (serving_id)",
        "{} glasses of sets belong to no serving.",
    ),
    (
        (
            "select count(*) from serving join (select serving_id, count(*) filter (where is_odd) as odd,"
            " max(blind_code) filter (where is_odd) as code from set_glass group by serving_id)"
            " using (serving_id) where odd <> 1 or code is distinct from blind_code"
        ),
        "{} sets don't have the one odd glass that their plan names.",
    ),
    (
        "select count(*) from set_pick anti join set_glass using (serving_id, blind_code)",
        "{} picks name no glass of their set.",
    ),
    (
        (
            "select count(*) from answer join set_pick using (serving_id, entry_no)"
            " join set_glass on set_glass.serving_id = set_pick.serving_id"
            " and set_glass.blind_code = set_pick.blind_code"
            " where (kind = 'right') <> is_odd"
        ),
        "{} answers to sets say another thing than what was picked.",
    ),
    (
        (
            "select count(*) from answer semi join set_glass using (serving_id)"
            " anti join set_pick using (serving_id, entry_no)"
        ),
        "{} answers to sets have no pick.",
    ),
    (
        "select count(*) from phone_answer anti join answer using (serving_id, entry_no)",
        "{} answers by phone say nothing.",
    ),
    (
        "select count(*) from chosen_panel where sha256(chosen_text) <> chosen_digest",
        "{} panels that were kept have another text than was sealed.",
    ),
    (
        "select count(*) from weighed_call where sha256(weighed_text) <> weighed_digest",
        "{} weighed calls have another text than was sealed.",
    ),
    (
        f"select count(*) from answer where rating not between 0 and {_HIGHEST_RATING}",
        f"{{}} ratings are below 0 or above {_HIGHEST_RATING}.",
    ),
    (
        "select count(*) from decision where until_on < from_on",
        "{} decisions end before they begin.",
    ),
    (
        (
            "select count(*) from (select as_of_on as on_day from proposal"
            " union all select as_of_on from decision union all select chosen_on from chosen_panel"
            " union all select weighed_on from weighed_call) where on_day > $now::date + 1"
        ),
        "{} proposals, decisions, panels and weighed calls lie in days to come.",
    ),
    (
        (
            "select count(*) from (select recorded_at <= lag(recorded_at) over (order by entry_no)"
            " as is_back from history) where is_back"
        ),
        "{} entries were recorded before the entry that they follow.",
    ),
    (
        (
            "select count(*) from not_served where what not in (select compound from compound)"
            " and what not in (select beer from base_beer)"
        ),
        "{} lines about what somebody is not to be served name nothing on record.",
    ),
    (
        "select count(*) from spare_taken anti join spare_serving using (sitting_id, spare_no)",
        "{} spare places were taken that nobody planned.",
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
    yield from strange_rows(con)
