-- bench_containers: kinds of vessels, as last stated.
-- Params:  (none)
-- Grain:   one row per kind, the smallest first; those out of use too.
-- Used by: steps.bench, steps.bench_facts

select
    container_id,
    label,
    kind,
    content_ml,
    fill_off_ml,
    headspace_ml,
    dead_ml,
    is_in_use
from known_container
order by content_ml, lower(label), container_id;
