-- codes_near: blind codes that stood on glasses, or were kept for them, near a day.
-- Params:  $after_on, $until_on
-- Grain:   one row per code; both days belong to the span, sessions called off do not.
-- Used by: steps.resting_codes

with near as (
    select sitting_id
    from sitting
    join session using (session_id)
    left join session_end using (session_id)
    where session_on between $after_on and $until_on
      and how is distinct from 'called_off'
)

select distinct blind_code
from serving
join sample using (sample_id)
where sitting_id in (select sitting_id from near) and blind_code is not null
union
select distinct blind_code
from set_glass
join sample using (sample_id)
where sitting_id in (select sitting_id from near)
union
select distinct blind_code
from spare_serving
where sitting_id in (select sitting_id from near);
