-- session_days: the sessions that each panellist came to.
-- Params:  $until_on
-- Grain:   one row per panellist x session, by day.
-- Used by: steps.standings

select person_id, session_id, session_on
from attendance
where session_on <= $until_on
order by person_id, session_on, session_id;
