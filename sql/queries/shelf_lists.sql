-- shelf_lists: the critical and expected compounds of beer families; what shares an item_no is a
--              group of which one counts.
-- Params:  (none)
-- Grain:   one row per beer family x role x item, with its compounds.
-- Used by: steps.shelf

select family, role, item_no, list(compound order by compound) as compounds
from known_family_compound
group by family, role, item_no
order by family, role, item_no;
