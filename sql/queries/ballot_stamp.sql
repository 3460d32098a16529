-- ballot_stamp: the last moment on record, the last entry that may have changed more than answers, and
--               the last one that typed an answer from paper.
-- Params:  (none)
-- Grain:   one row.
-- Used by: steps.ballot_seats

select
    max(recorded_at)                                                      as last_at,
    coalesce(max(entry_no) filter (kind not in ('ballot', 'answer')), 0)  as facts_no,
    coalesce(max(entry_no) filter (kind = 'answer'), 0)                   as typed_no
from history;
