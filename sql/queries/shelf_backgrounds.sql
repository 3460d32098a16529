-- shelf_backgrounds: what each beer holds of a compound by itself, as in force on a day.
-- Params:  $on_day
-- Grain:   one row per beer x compound.
-- Used by: steps.bench_ladder, steps.recipes, steps.shelf, steps.shelf_amounts

select
    beer,
    compound,
    arg_max(known, valid_from_on)                as known,
    arg_max_null(background_ug_l, valid_from_on) as background_ug_l,
    max(valid_from_on)                           as valid_from_on
from known_background
where valid_from_on <= $on_day
group by beer, compound
order by beer, compound;
