-- known_families: beer families on the shelf.
-- Params:  (none)
-- Grain:   one row per family.
-- Used by: steps.bring_in

select family, label
from known_family
order by family;
