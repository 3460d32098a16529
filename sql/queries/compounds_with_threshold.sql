-- compounds_with_threshold: what the brewery has chosen a working threshold for.
-- Params:  (none)
-- Grain:   one row per compound x beer family ("" for all beers).
-- Used by: steps.names_offered, steps.plan_choices

select compound, family, arg_max(threshold_ug_l, valid_from_on) as threshold_ug_l
from known_threshold
group by compound, family
order by compound, family;
