-- shift_people: who came to sittings of which name and hour in a window.
-- Params:  $after_on, $until_on
-- Grain:   one row per panellist x sitting of a closed session with an answer; starts_at is UTC, null
--          where nobody stated it.
-- Used by: steps.months_people

with stated as (
    select sitting_id, arg_max(starts_at, entry_no) as starts_at
    from sitting_time, known_moment
    where recorded_at <= known_at
    group by sitting_id
)

select distinct
    known_person.person_id,
    sitting.sitting_id,
    sitting.label,
    stated.starts_at
from known_serving
join known_answer using (serving_id)
join known_person on known_person.spelled_id = known_serving.person_id
join (select sample_id, sitting_id from sample) as poured using (sample_id)
join sitting using (sitting_id)
join session using (session_id)
left join stated using (sitting_id)
where session_on > $after_on
  and session_on <= $until_on
  and session_id not in (select session_id from known_open_session)
order by known_person.person_id, sitting.sitting_id;
