-- session_samples: every preparation of one session, as planned and as it was.
-- Params:  $session_id
-- Grain:   one row per sample.
-- Used by: steps.session_facts

select
    sample.sample_id,
    sample.sitting_id,
    sample.mark,
    sample.compound,
    sample.given_level,
    actual_level,
    age_minutes,
    coalesce((
        select arg_max(addition, entry_no)
        from addition where addition.sample_id = sample.sample_id
    ), '') as addition,
    sample.sample_id in (select sample_id from known_sample_aside) as is_aside
from sample
join sitting using (sitting_id)
left join known_sample_state using (sample_id)
where session_id = $session_id
order by sample.sitting_id, sample.mark;
