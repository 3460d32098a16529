-- shared_sessions: planned sessions in which two people both have glasses.
-- Params:  $one, $other
-- Grain:   one row per session.
-- Used by: steps.people

select session.session_id, session_on, session.label
from session
join plan using (session_id)
where session.session_id in (
    select sitting.session_id
    from serving
    join known_person on known_person.spelled_id = serving.person_id
    join sample using (sample_id)
    join sitting using (sitting_id)
    where known_person.person_id in ($one, $other)
    group by sitting.session_id
    having count(distinct known_person.person_id) = 2
)
order by session_on;
