-- thresholds_on: compounds with a working threshold in force on a day, for a beer family.
-- Params:  $family, $on_day
-- Grain:   one row per compound.
-- Used by: steps.planning

select distinct compound
from known_threshold
where family in ($family, '') and valid_from_on <= $on_day
order by compound;
