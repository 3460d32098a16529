-- open_sessions: sessions with a plan that are neither closed nor called off, in a span of days.
-- Params:  $after_on, $until_on
-- Grain:   one row per session.
-- Used by: steps.asides

select session_id, session_on, label
from session
join plan using (session_id)
where session_id not in (select session_id from session_end)
  and session_on > $after_on
  and session_on <= $until_on
order by session_on, label;
