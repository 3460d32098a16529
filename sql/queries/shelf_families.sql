-- shelf_families: beer families, with or without lists.
-- Params:  (none)
-- Grain:   one row per beer family.
-- Used by: steps.shelf, steps.shelf_amounts, steps.shelf_history

select family, label
from known_family
order by label, family;
