-- bench_pipettes: the pipettes, as last stated.
-- Params:  (none)
-- Grain:   one row per pipette, the smallest first; those out of use too.
-- Used by: steps.bench, steps.bench_facts

select
    pipette_id,
    label,
    smallest_ul,
    largest_ul,
    step_ul,
    is_fine,
    bias_ul,
    spread_ul,
    is_in_use
from known_pipette
order by largest_ul, lower(label), pipette_id;
