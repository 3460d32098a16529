-- session_vessel_steps: what else was done with each vessel of a session, and still holds.
-- Params:  $session_id
-- Grain:   one row per sample x vessel x step.
-- Used by: steps.vessels

select known_vessel_step.sample_id, vessel_no, step, done_at, known_person.person_id
from known_vessel_step
join sample using (sample_id)
join sitting using (sitting_id)
left join known_person on known_person.spelled_id = known_vessel_step.person_id
where session_id = $session_id
order by known_vessel_step.sample_id, vessel_no, step;
