-- session_outcomes: what each answered glass of one session came to, counted or not.
-- Params:  $session_id
-- Grain:   one row per answered serving.
-- Used by: steps.session_facts

select serving_id, outcome
from answered_glass
where session_id = $session_id;
