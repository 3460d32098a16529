-- ballot_stamp: the last moment on record, and the last entry that may have changed more than answers.
-- Params:  (none)
-- Grain:   one row.
-- Used by: steps.ballot_seats

select
    max(recorded_at)                                             as last_at,
    coalesce(max(entry_no) filter (kind not in ('ballot', 'answer')), 0) as entry_no
from history;
