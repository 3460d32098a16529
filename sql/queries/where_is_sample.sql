-- where_is_sample: the session and sitting of one preparation.
-- Params:  $sample_id
-- Grain:   one row, or none.
-- Used by: steps.session_facts

select sitting.session_id, sample.sitting_id
from sample
join sitting using (sitting_id)
where sample_id = $sample_id;
