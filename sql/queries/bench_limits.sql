-- bench_limits: what the brewery says of keeping and of the strongest level, in force on a day.
-- Params:  $on_day
-- Grain:   one row per compound of which anything was stated by then.
-- Used by: steps.bench_facts

select
    compound,
    arg_max_null(keeps_h, valid_from_on)       as keeps_h,
    arg_max_null(keeps_weak_h, valid_from_on)  as keeps_weak_h,
    arg_max_null(highest_level, valid_from_on) as highest_level,
    max(valid_from_on)                         as valid_from_on
from known_compound_limit
where valid_from_on <= $on_day
group by compound
order by compound;
