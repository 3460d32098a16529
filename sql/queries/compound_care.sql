-- compound_care: how each compound is handled, and what books say of its threshold.
-- Params:  (none)
-- Grain:   one row per compound.
-- Used by: steps.papers, steps.plan_choices, steps.planning, steps.smelling

select
    compound, label, descriptors, serve, keeping, safety,
    reference_low, reference_high, reference_unit
from compound, known_moment
where recorded_at <= known_at
order by label;
