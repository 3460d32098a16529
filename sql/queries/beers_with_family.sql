-- beers_with_family: base beers on the shelf with their families.
-- Params:  (none)
-- Grain:   one row per beer.
-- Used by: steps.batches, steps.bench_ladder, steps.demo_release, steps.plan_choices, steps.plan_shelf, steps.recipes, steps.release_wishes, steps.seat_ground

select
    beer,
    known_beer.label,
    family,
    coalesce(known_family.label, family) as family_label,
    abv_percent
from known_beer
left join known_family using (family)
order by known_beer.label;
