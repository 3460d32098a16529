-- chain_head: number and digest of the newest history entry.
-- Params:  (none)
-- Grain:   one row; none in a store without history.
-- Used by: steps.chain_head

select history.entry_no, history.digest
from history
cross join known_moment
where history.recorded_at <= known_at
order by history.entry_no desc
limit 1;
