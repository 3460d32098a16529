-- session_sittings: the sittings of one session in the order of their times.
-- Params:  $session_id
-- Grain:   one row per sitting.
-- Used by: steps.session_facts

select
    sitting.sitting_id,
    sitting.label,
    (
        select arg_max(starts_at, entry_no)
        from sitting_time where sitting_time.sitting_id = sitting.sitting_id
    ) as starts_at,
    coalesce((
        select arg_max(is_over, entry_no)
        from sitting_over where sitting_over.sitting_id = sitting.sitting_id
    ), false) as is_over
from sitting
where session_id = $session_id
order by starts_at nulls last, label;
