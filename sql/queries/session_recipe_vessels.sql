-- session_recipe_vessels: the vessels that a session's recipes fill, as last worked out.
-- Params:  $session_id
-- Grain:   one row per vessel; without a sitting it serves every one.
-- Used by: steps.vessels

select mark, vessel_no, sitting_id
from known_recipe_vessel
where session_id = $session_id
order by mark, vessel_no;
