-- session_samples: every preparation of one session, as planned and as it was.
-- Params:  $session_id
-- Grain:   one row per sample.
-- Used by: steps.session_facts

select
    sample.sample_id,
    sample.sitting_id,
    sample.mark,
    sample.compound,
    sample.beer,
    coalesce(known_beer.label, sample.beer)      as beer_label,
    sample.given_level,
    actual_level,
    known_sample_state.age_minutes,
    case when prepared_sample.sample_id is not null then total_level end as dosed_level,
    round(prepared_sample.age_minutes)::integer  as dosed_minutes,
    keeps_h,
    coalesce(is_kept_too_long, false)            as is_kept_too_long,
    coalesce(unfit_sample.has_expired_lot, false) as has_expired_lot,
    coalesce(unfit_sample.differs, false)        as differs,
    coalesce(stated.addition, '')                as addition,
    sample_question.compound as asks,
    unknown_sample.batch_id,
    coalesce(batch.label, '')                    as batch,
    beer_question.beer                           as asks_beer,
    coalesce(asked_beer.label, beer_question.beer, '') as asks_beer_label,
    beer_question.variant,
    sample.sample_id in (select sample_id from known_sample_aside) as is_aside
from sample
join sitting using (sitting_id)
join sample_level on sample_level.sample_id = sample.sample_id
left join (
    select sample_id, arg_max(addition, entry_no) as addition
    from addition
    group by sample_id
) as stated on stated.sample_id = sample.sample_id
left join known_sample_state on known_sample_state.sample_id = sample.sample_id
left join prepared_sample on prepared_sample.sample_id = sample.sample_id
left join known_sample_keeps on known_sample_keeps.sample_id = sample.sample_id
left join unfit_sample on unfit_sample.sample_id = sample.sample_id
left join sample_question on sample_question.sample_id = sample.sample_id
left join unknown_sample on unknown_sample.sample_id = sample.sample_id
left join batch on batch.batch_id = unknown_sample.batch_id
left join beer_question on beer_question.sample_id = sample.sample_id
left join known_beer on known_beer.beer = sample.beer
left join known_beer as asked_beer on asked_beer.beer = beer_question.beer
where sitting.session_id = $session_id
order by sample.sitting_id, sample.mark;
