-- evidence_stamp: the latest act that may have changed a verdict.
-- Purpose: proposals, replies, signatures and who may sign are no evidence of anybody, so that what was
--          judged before them holds after them.
-- Params:  (none)
-- Grain:   one row.
-- Used by: steps.desk

select coalesce(max(entry_no), 0) as entry_no
from history
where kind not in ('proposal', 'reply', 'decision', 'signer');
