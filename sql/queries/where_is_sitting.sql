-- where_is_sitting: the session of one sitting.
-- Params:  $sitting_id
-- Grain:   one row, or none.
-- Used by: steps.session_facts

select session_id, sitting_id
from sitting
where sitting_id = $sitting_id;
