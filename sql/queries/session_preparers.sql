-- session_preparers: who prepared one session.
-- Params:  $session_id
-- Grain:   one row per person.
-- Used by: steps.session_facts

select person_id
from known_preparer
where session_id = $session_id
order by person_id;
