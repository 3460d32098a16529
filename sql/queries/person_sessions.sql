-- person_sessions: sessions held in a window since one panellist's first, and whether they came.
-- Purpose: a release sitting, to which a few are asked, is nobody's absence and left out.
-- Params:  $person_id, $after_on, $until_on
-- Grain:   one row per session.
-- Used by: steps.reasons

with first_day as (
    select min(session_on) as first_on from attendance where person_id = $person_id
)

select
    session_id,
    session_on,
    bool_or(person_id = $person_id) as came
from attendance, first_day
where not is_release
  and session_on > $after_on
  and session_on <= $until_on
  and session_on >= first_on
group by session_id, session_on
order by session_on, session_id;
