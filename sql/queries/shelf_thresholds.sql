-- shelf_thresholds: the working threshold in force on a day, of each family and of all beers.
-- Params:  $on_day
-- Grain:   one row per compound x beer family ("" for all beers).
-- Used by: steps.shelf, steps.shelf_amounts

select
    compound,
    family,
    arg_max(threshold_ug_l, valid_from_on) as threshold_ug_l,
    max(valid_from_on)                     as valid_from_on
from known_threshold
where valid_from_on <= $on_day
group by compound, family
order by compound, family;
