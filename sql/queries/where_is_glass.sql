-- where_is_glass: the session and sitting of one glass.
-- Params:  $serving_id
-- Grain:   one row, or none.
-- Used by: steps.session_facts

select sitting.session_id, sample.sitting_id
from serving
join sample using (sample_id)
join sitting using (sitting_id)
where serving_id = $serving_id;
