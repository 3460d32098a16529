-- brewer_sight: whether brewers see scores, as last stated.
-- Purpose: brewers see whether somebody can be asked about a compound, and no score, unless the leader
--          allowed it.
-- Params:  (none)
-- Grain:   one row, or none before anybody stated it.
-- Used by: steps.brewer_sight

select sees_scores
from brewer_sight, known_moment
where recorded_at <= known_at
order by entry_no desc
limit 1;
