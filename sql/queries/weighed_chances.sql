-- weighed_chances: the chances that were given in the weighed calls that were kept.
-- Params:  (none)
-- Grain:   one row per weighed call x what the beer may have.
-- Used by: steps.weighing_rows

select weighing_id, what, chance
from weighed_chance
cross join known_moment
where recorded_at <= known_at
order by weighing_id, chance desc, what;
