-- session_spares: spare orders of one session, glass by glass, and who took each.
-- Params:  $session_id
-- Grain:   one row per sitting x spare order x position.
-- Used by: steps.session_facts

select
    spare_serving.sitting_id,
    spare_no,
    position,
    sample_id,
    blind_code,
    duplicate_mark,
    spare_taken.person_id as taken_by
from spare_serving
join sitting using (sitting_id)
left join spare_taken using (sitting_id, spare_no)
where session_id = $session_id
order by spare_serving.sitting_id, spare_no, position;
