-- session_flight: how a planned session is shared out among those who taste.
-- Params:  $session_id
-- Grain:   one row, or none for a session planned before that was kept.
-- Used by: steps.planning, steps.session_rests

select flight, strong_late
from plan_flight
where session_id = $session_id;
