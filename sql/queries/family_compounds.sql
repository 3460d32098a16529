-- family_compounds: critical and expected compounds of each beer family; one item_no is one item,
--                   a group has several compounds under it.
-- Params:  (none)
-- Grain:   one row per beer family x role x compound.
-- Used by: steps.names_offered, steps.release_wishes, steps.seen, steps.weigh_expected, steps.weigh_priors

select family, role, item_no, compound
from known_family_compound
order by family, role, item_no, compound;
