-- ballot_servings: one person's glasses and sets at one sitting, as they stand before them.
-- Purpose: what a ballot shows; what was poured, and which glass of a set differs, is not asked for.
-- Params:  $sitting_id, $person_id
-- Grain:   one row per serving, in the order of serving.
-- Used by: steps.ballot_seats

with own as (
    select serving.serving_id, serving.position, serving.method, serving.blind_code, serving.sample_id
    from serving
    join sample using (sample_id)
    join known_person on known_person.spelled_id = serving.person_id
    where sample.sitting_id = $sitting_id and known_person.person_id = $person_id
)

select
    own.serving_id,
    own.method,
    coalesce((
        select list(set_glass.blind_code order by place)
        from set_glass
        where set_glass.serving_id = own.serving_id
    ), [own.blind_code])                              as codes,
    coalesce(compound.label, '')                      as asked,
    coalesce(known_beer.label, beer_question.beer, '') as asks_beer,
    coalesce((
        select arg_max(glass_event.kind, glass_event.entry_no)
        from glass_event
        where glass_event.serving_id = own.serving_id
    ), '')                                            as event
from own
left join sample_question on sample_question.sample_id = own.sample_id
left join compound using (compound)
left join beer_question on beer_question.sample_id = own.sample_id
left join known_beer on known_beer.beer = beer_question.beer
order by own.position, own.serving_id;
