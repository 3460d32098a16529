-- batches: batches of beer on record, the latest first.
-- Params:  (none)
-- Grain:   one row per batch.
-- Used by: steps.batches

select
    batch_id,
    known_batch.label,
    known_batch.beer,
    known_beer.label                       as beer_label,
    known_beer.family,
    coalesce(known_family.label, known_beer.family) as family_label,
    known_beer.abv_percent
from known_batch
join known_beer using (beer)
left join known_family using (family)
order by known_batch.entry_no desc;
