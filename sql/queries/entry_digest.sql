-- entry_digest: digest of one entry of the history.
-- Params:  $entry_no
-- Grain:   one row; none where no entry has this number.
-- Used by: steps.last_copy

select digest
from history
where entry_no = $entry_no;
