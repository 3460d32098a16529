-- attendance: sessions offered to each panellist and sessions attended, in a window.
-- Purpose: a session counts as offered from a person's first one on; a release sitting, to which a few
--          are asked, is offered to nobody.
-- Params:  $after_on, $until_on
-- Grain:   one row per panellist with a session up to the last day.
-- Used by: steps.seen

with first_and_last as (
    select person_id, min(session_on) as first_on, max(session_on) as last_on
    from attendance
    where session_on <= $until_on
    group by person_id
),

offered as (
    select distinct session_id, session_on
    from attendance
    where session_on > $after_on
      and session_on <= $until_on
      and not is_release
)

select
    first_and_last.person_id,
    first_on,
    last_on,
    count(offered.session_id)    as offered,
    count(attendance.session_id) as attended
from first_and_last
left join offered on offered.session_on >= first_on
left join attendance
    on  attendance.session_id = offered.session_id
    and attendance.person_id = first_and_last.person_id
group by first_and_last.person_id, first_on, last_on
order by first_and_last.person_id;
