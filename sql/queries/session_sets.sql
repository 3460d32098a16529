-- session_sets: every glass of every forced-choice set of one session.
-- Params:  $session_id
-- Grain:   one row per set x place.
-- Used by: steps.session_facts

select
    set_glass.serving_id,
    set_glass.place,
    set_glass.blind_code as code,
    set_glass.sample_id,
    set_glass.is_odd
from set_glass
join sample using (sample_id)
join sitting using (sitting_id)
where session_id = $session_id
order by set_glass.serving_id, place;
