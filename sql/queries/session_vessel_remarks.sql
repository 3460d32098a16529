-- session_vessel_remarks: what was written down of the vessels of a session, oldest first.
-- Params:  $session_id
-- Grain:   one row per vessel x entry; of a shared vessel once.
-- Used by: steps.vessels

select mark, vessel_no, vessel_remark.entry_no, vessel_remark.recorded_at, any_value(remark) as remark
from vessel_remark
cross join known_moment
join sample using (sample_id)
join sitting using (sitting_id)
where session_id = $session_id and vessel_remark.recorded_at <= known_at
group by mark, vessel_no, vessel_remark.entry_no, vessel_remark.recorded_at
order by vessel_remark.entry_no, mark, vessel_no;
