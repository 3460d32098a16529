-- session_talks: the sittings of one session whose talk is open.
-- Params:  $session_id
-- Grain:   one row per such sitting.
-- Used by: steps.release_answers

select sitting_id
from known_talk
join sitting using (sitting_id)
where session_id = $session_id;
