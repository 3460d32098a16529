-- kept_open_sessions: planned sessions that are not over in which somebody has a seat or glasses.
-- Params:  $person_id
-- Grain:   one row per session, by day.
-- Used by: steps.anonymous_people

select session_id, session_on, label
from session
join plan using (session_id)
where session_id not in (select session_id from session_end)
  and session_id in (
      select session_id
      from known_seated
      join sitting using (sitting_id)
      where person_id = $person_id
      union
      select session_id
      from serving
      join known_person on known_person.spelled_id = serving.person_id
      join sample using (sample_id)
      join sitting using (sitting_id)
      where known_person.person_id = $person_id
  )
order by session_on, label;
