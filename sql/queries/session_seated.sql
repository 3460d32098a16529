-- session_seated: who was planned for, or came to, each sitting of one session.
-- Params:  $session_id
-- Grain:   one row per sitting x person.
-- Used by: steps.session_facts

select sitting_id, person_id, state
from known_seated
join sitting using (sitting_id)
where session_id = $session_id;
