-- month_attendance: sessions held and sessions attended by each panellist, month by month.
-- Purpose: a session counts as held for somebody from their first one on; a release sitting, to which a
--          few are asked, is nobody's absence and left out.
-- Params:  $after_on, $until_on
-- Grain:   one row per panellist x month in which a session was held since their first.
-- Used by: steps.months_people

with first_on as (
    select person_id, min(session_on) as first_on
    from attendance
    where session_on <= $until_on
    group by person_id
),

held as (
    select distinct session_id, session_on
    from attendance
    where session_on > $after_on
      and session_on <= $until_on
      and not is_release
)

select
    first_on.person_id,
    date_trunc('month', held.session_on)::date as month_on,
    count(*)::integer                          as held,
    count(attendance.session_id)::integer      as attended
from first_on
join held on held.session_on >= first_on.first_on
left join attendance
    on  attendance.session_id = held.session_id
    and attendance.person_id = first_on.person_id
group by first_on.person_id, month_on
order by first_on.person_id, month_on;
