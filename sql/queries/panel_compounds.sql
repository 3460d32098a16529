-- panel_compounds: what somebody may not be to be served, by label.
-- Params:  (none)
-- Grain:   one row per compound.
-- Used by: steps.kept_about, steps.panel

select compound, label
from compound, known_moment
where recorded_at <= known_at
order by label;
