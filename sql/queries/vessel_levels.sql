-- vessel_levels: the level that each dosed vessel of a session held when it was dosed.
-- Params:  $session_id
-- Grain:   one row per sample with something in it x dosed vessel.
-- Used by: steps.vessels

with threshold as (
    select
        sample.sample_id,
        arg_max(threshold_ug_l, (known_threshold.family = sample_level.family, valid_from_on))
            as threshold_ug_l
    from sample
    join sample_level using (sample_id)
    join known_threshold
        on  known_threshold.compound = sample.compound
        and known_threshold.family in (sample_level.family, '')
        and known_threshold.valid_from_on <= sample_level.session_on
    where sample_level.session_id = $session_id
    group by sample.sample_id
)

select
    known_vessel_dosed.sample_id,
    vessel_no,
    coalesce(background_level, 0)
    + 1000 * amount::double * strength::double / known_vessel_dosed.volume_ml::double
    / case when kind = 'solution' then threshold_ug_l::double else 1 end as level
from known_vessel_dosed
join sample_level using (sample_id)
join stock using (stock_id)
left join threshold using (sample_id)
where sample_level.session_id = $session_id;
