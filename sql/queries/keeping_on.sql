-- keeping_on: how fast compounds are lost once dosed, as in force on one day.
-- Params:  $on_day
-- Grain:   one row per compound with a half-life.
-- Used by: steps.shelf_keeping

select compound, arg_max(half_life_h, valid_from_on) as half_life_h, max(valid_from_on) as since_on
from known_keeping
where valid_from_on <= $on_day
group by compound
having arg_max_null(half_life_h, valid_from_on) is not null
order by compound;
