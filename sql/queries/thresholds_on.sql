-- thresholds_on: working thresholds in force on a day for a beer family, its own before the general.
-- Params:  $family, $on_day
-- Grain:   one row per compound that has one.
-- Used by: steps.bench_ladder, steps.closer, steps.next_ground, steps.panel_needs, steps.plan_shelf, steps.recipes

select
    compound,
    arg_max(threshold_ug_l, (family = $family, valid_from_on)) as threshold_ug_l
from known_threshold
where family in ($family, '') and valid_from_on <= $on_day
group by compound
order by compound;
