-- compound_care: how each compound is handled, and what books say of its threshold.
-- Params:  (none)
-- Grain:   one row per compound.
-- Used by: steps.bench, steps.bench_limits, steps.bench_writing, steps.dose_columns, steps.names_offered, steps.papers, steps.plan_choices, steps.plan_shelf, steps.preparation, steps.recipes, steps.session_rests, steps.smelling

select
    compound, label, chemical_class, descriptors, serve, keeping, safety,
    reference_low, reference_high, reference_unit
from compound, known_moment
where recorded_at <= known_at
order by label;
