-- known_families: beer families on the shelf.
-- Params:  (none)
-- Grain:   one row per family.
-- Used by: steps.bring_in, steps.rulebook_views, steps.weigh_priors, steps.weigh_sittings, steps.weighing_rows

select family, label
from known_family
order by family;
