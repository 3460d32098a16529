-- weighings: weighed calls that were kept, with what the beer turned out to have.
-- Params:  (none)
-- Grain:   one row per weighed call, the latest first.
-- Used by: steps.weighing_rows

select
    weighing_id,
    weighed_on,
    family,
    batch_id,
    sample_id,
    label,
    is_blind,
    model_version,
    weighed_text,
    weighed_digest,
    weighed_call.recorded_at,
    known_outcome.what as outcome,
    known_outcome.how,
    known_outcome.remark
from weighed_call
cross join known_moment
left join known_outcome using (weighing_id)
where weighed_call.recorded_at <= known_at
order by weighed_call.entry_no desc;
