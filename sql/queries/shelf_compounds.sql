-- shelf_compounds: the vocabulary with all that is known of each compound.
-- Params:  (none)
-- Grain:   one row per compound.
-- Used by: steps.closer, steps.panel_needs, steps.shelf, steps.shelf_amounts, steps.shelf_history, steps.shelf_words

select
    compound, label, chemical_name, cas, descriptors, reference_low, reference_high,
    reference_unit, how_known, source, serve, keeping, cause, safety
from compound, known_moment
where recorded_at <= known_at
order by label, compound;
