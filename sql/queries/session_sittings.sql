-- session_sittings: the sittings of one session in the order of their times.
-- Params:  $session_id
-- Grain:   one row per sitting.
-- Used by: steps.session_facts

select
    sitting.sitting_id,
    sitting.label,
    starts_at,
    coalesce(is_over, false) as is_over
from sitting
left join (
    select sitting_id, arg_max(starts_at, entry_no) as starts_at
    from sitting_time
    group by sitting_id
) using (sitting_id)
left join (
    select sitting_id, arg_max(is_over, entry_no) as is_over
    from sitting_over
    group by sitting_id
) using (sitting_id)
where session_id = $session_id
order by starts_at nulls last, label;
